using Microsoft.EntityFrameworkCore;
using PartsLedger.Catalog;
using PartsLedger.Data;
using PartsLedger.Data.Catalog;
using PartsLedger.Domain.Identification;

namespace PartsLedger.Identification;

/// <summary>An application that answers what somebody said of a machine.</summary>
public sealed record MachineHit(int ApplicationId, int VariantId, MachineMatch Match);

/// <summary>What was found.</summary>
/// <param name="Hits">Best first; at most <see cref="MachineHits.Most"/>, fewer while somebody is typing.</param>
/// <param name="More">There are more than were looked at: another word narrows them down.</param>
/// <param name="Completions">Known words that the unfinished last word may become, in order; empty when nobody is typing.</param>
public sealed record MachinesFound(IReadOnlyList<MachineHit> Hits, bool More, IReadOnlyList<string> Completions);

/// <summary>
/// Finds machines by words with slips. Each typed word is looked up among the known words by plain equality; the word that the fewest
/// applications have leads, the others narrow it down, and what is left is judged by <see cref="MachineText.Match"/>. The work is bounded
/// whatever is typed: beyond <see cref="Most"/> applications the rest is not looked at, and the answer says so.
/// </summary>
public sealed class MachineHits(LedgerContext db)
{
    /// <summary>Applications looked at for one search.</summary>
    public const int Most = 1_000;

    /// <summary>The same while somebody is typing, who waits for each letter and reads no further.</summary>
    public const int MostWhileTyping = 250;

    // Words that lead together when even the rarest term has more applications than are looked at.
    private const int WordsAtATime = 20;

    // About as many words as an application has; more are not tried one by one.
    private const int FewWords = 6;

    /// <summary>
    /// Words are taken as they stand where they are known so, and read with slips where they are not; where nothing has all of them as they
    /// stand, every word may have a slip.
    /// </summary>
    /// <param name="forgiving">False where only machines that have every word as it stands are of interest.</param>
    public async Task<MachinesFound> Find(MachineText text, CancellationToken cancellation, bool forgiving = true)
    {
        var most = text.IsTyping ? MostWhileTyping : Most;
        var words = await KnownWords.Read(db, text, forgiving, cancellation);
        var terms = await Terms(text, words, cancellation);
        var ids = terms.Count == 0 ? [] : await WithAll(terms, most, cancellation);
        if (!forgiving) return new([.. (await Judge(text, ids.Take(most), cancellation)).Where(hit => hit.Match.IsExact)], ids.Count > most, words.Completions);
        if (ids.Count == 0 && await words.ForgiveAll(cancellation))
        {
            terms = await Terms(text, words, cancellation);
            if (terms.Count > 0) ids = await WithAll(terms, most, cancellation);
        }
        // Where no application has every word, those that have the rarest of them are better than none.
        for (var at = 0; ids.Count == 0 && at < terms.Count; at++) ids = await WithAll([terms[at]], most, cancellation);
        return new(await Judge(text, ids.Take(most), cancellation), ids.Count > most, words.Completions);
    }

    /// <summary>What each typed word may be, rarest first. A word that nothing answers has no term.</summary>
    private async Task<List<Term>> Terms(MachineText text, KnownWords words, CancellationToken cancellation)
    {
        var terms = new List<Term>();
        for (var at = 0; at < text.Words.Count; at++)
            if (words.IdsOf(at) is { Length: > 0 } ids) terms.Add(new(ids, await Count(ids, cancellation), text.CanBeYear(text.Words[at])));

        // What can be a year need not be a word as well, unless there is nothing else to go by.
        if (terms.Exists(term => !term.MayBeYear)) terms.RemoveAll(term => term.MayBeYear);
        return [.. terms.OrderBy(term => term.Applications)];
    }

    /// <summary>Applications that have any of the words, counted no further than matters.</summary>
    private Task<int> Count(int[] words, CancellationToken cancellation) =>
        db.ApplicationWords.Where(row => words.Contains(row.WordId)).Take(Most + 1).CountAsync(cancellation);

    /// <summary>
    /// Up to one more than <paramref name="most"/> applications that have a word of every term, led by the first term's words: all at once
    /// where few applications have them, else some at a time, until enough are found.
    /// </summary>
    private async Task<List<int>> WithAll(IReadOnlyList<Term> terms, int most, CancellationToken cancellation)
    {
        var lead = terms[0];
        var ids = new List<int>();
        foreach (var words in lead.Words.Chunk(lead.Applications <= most ? lead.Words.Length : WordsAtATime))
        {
            var rows = db.ApplicationWords.Where(row => words.Contains(row.WordId));
            foreach (var other in terms.Skip(1))
                rows = other.Words.Length <= FewWords
                    ? rows.Where(row => db.ApplicationWords.Any(also => also.ApplicationId == row.ApplicationId && other.Words.Contains(also.WordId)))
                    // The sum keeps a database from trying every word for every application: the application's own few words are read instead.
                    : rows.Where(row => db.ApplicationWords.Any(also => also.ApplicationId == row.ApplicationId && other.Words.Contains(also.WordId + 0)));

            // In the order in which the rows lie, so that nothing is sorted before the first are had. Several words may lead to one application.
            ids.AddRange(await rows.OrderBy(row => row.WordId).ThenBy(row => row.ApplicationId).Take(2 * most).Select(row => row.ApplicationId).ToListAsync(cancellation));
            ids = [.. ids.Distinct()];
            if (ids.Count > most) break;
        }
        return ids;
    }

    private async Task<List<MachineHit>> Judge(MachineText text, IEnumerable<int> ids, CancellationToken cancellation)
    {
        var rows = await CatalogLoaders.InChunks(ids, some => db.Applications.AsNoTracking().Where(row => some.Contains(row.Id)), cancellation);
        var hits = new List<MachineHit>();
        foreach (var row in rows)
            if (text.Match(Application(row)) is { } match) hits.Add(new(row.Id, row.VariantId, match));
        return [.. hits.OrderBy(hit => hit.Match).ThenBy(hit => hit.ApplicationId)];
    }

    internal static MachineApplication Application(ApplicationRow row) => new(row.Make, row.Model, row.Option, row.YearFrom, row.YearTo);

    /// <param name="Words">Ids of the known words that answer a typed one, the word itself first.</param>
    /// <param name="Applications">How many have one of them, counted to one more than are looked at.</param>
    /// <param name="MayBeYear">It was typed as a number that can be a year.</param>
    private sealed record Term(int[] Words, int Applications, bool MayBeYear);
}
