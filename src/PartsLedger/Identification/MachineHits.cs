using Microsoft.EntityFrameworkCore;
using PartsLedger.Catalog;
using PartsLedger.Data;
using PartsLedger.Data.Catalog;
using PartsLedger.Data.Identification;
using PartsLedger.Domain.Identification;

namespace PartsLedger.Identification;

/// <summary>An application that answers what somebody said of a machine.</summary>
public sealed record MachineHit(int ApplicationId, int VariantId, MachineMatch Match);

/// <summary>What was found.</summary>
/// <param name="Hits">Best first; at most <see cref="MachineHits.Most"/>.</param>
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

    /// <summary>Completions given for an unfinished word.</summary>
    public const int MostCompletions = 20;

    // Words that begin as typed and are followed further; a beginning of one or two letters has more than anybody means.
    private const int MostBeginnings = 200;

    // Words that lead one after another when even the rarest word has more applications than are looked at.
    private const int MostLeading = 25;

    public async Task<MachinesFound> Find(MachineText text, CancellationToken cancellation)
    {
        var (terms, completions) = await ReadTerms(text, cancellation);
        if (terms.Count == 0) return new([], false, completions);

        var ids = await WithAll(terms, cancellation);
        // Where no application has every word, those that have the rarest of them are better than none.
        for (var at = 0; ids.Count == 0 && at < terms.Count; at++) ids = await WithAll([terms[at]], cancellation);
        var hits = await Judge(text, ids.Take(Most), cancellation);
        return new(hits, ids.Count > Most, completions);
    }

    /// <summary>What each typed word may be, rarest first. A word that nothing answers has no term.</summary>
    private async Task<(List<Term> Terms, IReadOnlyList<string> Completions)> ReadTerms(MachineText text, CancellationToken cancellation)
    {
        var words = text.Words;
        var singles = new List<Dictionary<string, int>>();
        var joined = new List<Dictionary<string, int>>();
        for (var at = 0; at < words.Count; at++)
        {
            singles.Add(await Known(words[at], cancellation));
            joined.Add(at + 1 < words.Count ? await Known(words[at] + words[at + 1], cancellation) : []);
        }
        IReadOnlyList<string> completions = [];
        if (text.IsTyping)
        {
            var begun = await Begun(words[^1], cancellation);
            completions = [.. begun.Keys.Where(word => word != words[^1]).Take(MostCompletions)];
            foreach (var (word, id) in begun) singles[^1].TryAdd(word, id);
            if (words.Count > 1)
                foreach (var (word, id) in await Begun(words[^2] + words[^1], cancellation)) joined[^2].TryAdd(word, id);
        }

        var terms = new List<Term>();
        for (var at = 0; at < words.Count; at++)
        {
            var all = singles[at].Concat(joined[at]).Concat(at > 0 ? joined[at - 1] : []);
            var ids = all.OrderBy(word => word.Key == words[at] ? 0 : 1).ThenBy(word => word.Key, StringComparer.Ordinal)
                .Select(word => word.Value).Distinct().ToArray();
            if (ids.Length > 0) terms.Add(new(ids, await Count(ids, cancellation), text.CanBeYear(words[at])));
        }
        // What can be a year need not be a word as well, unless there is nothing else to go by.
        if (terms.Exists(term => !term.MayBeYear)) terms.RemoveAll(term => term.MayBeYear);
        return ([.. terms.OrderBy(term => term.Applications)], completions);
    }

    private async Task<Dictionary<string, int>> Known(string word, CancellationToken cancellation)
    {
        var known = new Dictionary<string, int>(StringComparer.Ordinal);
        if (word.Length > MachineWordRow.MaxLength) return known;
        foreach (var some in MachineWord.Near(word).Chunk(CatalogLoaders.IdsPerQuery))
            foreach (var row in await db.MachineWords.Where(row => some.Contains(row.Word)).Select(row => new { row.Word, row.Id }).ToListAsync(cancellation))
                if (MachineWord.Compare(word, row.Word, isUnfinished: false) != MachineWordFit.None) known.TryAdd(row.Word, row.Id);
        return known;
    }

    /// <summary>Known words that begin as typed, in order.</summary>
    private async Task<Dictionary<string, int>> Begun(string word, CancellationToken cancellation)
    {
        if (word.Length is < MachineWordRow.BeginningLength or > MachineWordRow.MaxLength) return [];
        var beginning = MachineWordRow.BeginningOf(word);
        var rows = await db.MachineWords.Where(row => row.Beginning == beginning && row.Word.StartsWith(word)).OrderBy(row => row.Word)
            .Take(MostBeginnings).Select(row => new { row.Word, row.Id }).ToListAsync(cancellation);
        return rows.ToDictionary(row => row.Word, row => row.Id, StringComparer.Ordinal);
    }

    /// <summary>Applications that have any of the words, counted no further than matters.</summary>
    private Task<int> Count(int[] words, CancellationToken cancellation) =>
        db.ApplicationWords.Where(row => words.Contains(row.WordId)).Take(Most + 1).CountAsync(cancellation);

    /// <summary>Up to one more than <see cref="Most"/> applications that have a word of every term, led by the first term's words in turn.</summary>
    private async Task<List<int>> WithAll(IReadOnlyList<Term> terms, CancellationToken cancellation)
    {
        var lead = terms[0];
        var ids = new List<int>();
        IEnumerable<int[]> turns = lead.Applications <= Most ? [lead.Words] : lead.Words.Take(MostLeading).Select(word => (int[])[word]);
        foreach (var words in turns)
        {
            var rows = db.ApplicationWords.Where(row => words.Contains(row.WordId)).Select(row => row.ApplicationId);
            foreach (var other in terms.Skip(1))
                rows = rows.Where(id => db.ApplicationWords.Any(row => row.ApplicationId == id && other.Words.Contains(row.WordId)));
            // One word's applications lie in order already; there is nothing to sort before the first are had.
            ids.AddRange(await (words.Length == 1 ? rows : rows.Distinct()).OrderBy(id => id).Take(Most + 1).ToListAsync(cancellation));
            if (ids.Count > Most) break;
        }
        return [.. ids.Distinct()];
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
