using Microsoft.EntityFrameworkCore;
using PartsLedger.Catalog;
using PartsLedger.Data;
using PartsLedger.Data.Identification;
using PartsLedger.Domain.Identification;

namespace PartsLedger.Identification;

/// <summary>The known words that answer each word of a text: as it stands, written together with its neighbour, as a beginning, or with a slip.</summary>
internal sealed class KnownWords
{
    /// <summary>Completions given for an unfinished word.</summary>
    public const int MostCompletions = 20;

    // Words that begin as typed and are followed further; a beginning of two letters has more than anybody means.
    private const int MostBeginnings = 200;

    // Words read with slips; nobody describes a machine in more, and each takes a statement of its own.
    private const int MostForgiven = 12;

    private readonly LedgerContext _db;
    private readonly MachineText _text;
    private readonly Dictionary<string, int>[] _single, _joined;
    private readonly bool[] _isForgiven;

    private KnownWords(LedgerContext db, MachineText text)
    {
        (_db, _text, _isForgiven) = (db, text, new bool[text.Words.Count]);
        _single = [.. text.Words.Select(_ => new Dictionary<string, int>(StringComparer.Ordinal))];
        _joined = [.. text.Words.Select(_ => new Dictionary<string, int>(StringComparer.Ordinal))];
    }

    /// <summary>Known words that the unfinished last word may become, in order.</summary>
    public IReadOnlyList<string> Completions { get; private set; } = [];

    /// <param name="forgiving">Words that are not known as they stand are read with slips.</param>
    public static async Task<KnownWords> Read(LedgerContext db, MachineText text, bool forgiving, CancellationToken cancellation)
    {
        var words = new KnownWords(db, text);
        await words.AsTheyStand(cancellation);
        if (text.IsTyping) await words.AsBeginnings(cancellation);
        for (var at = 0; forgiving && at < text.Words.Count; at++)
            if (words.IdsOf(at).Length == 0 && !text.CanBeYear(text.Words[at])) await words.Forgive(at, cancellation);
        return words;
    }

    /// <summary>Reads every word with slips; false when that was done before and brings nothing new.</summary>
    public async Task<bool> ForgiveAll(CancellationToken cancellation)
    {
        var isNew = false;
        for (var at = 0; at < _isForgiven.Length; at++)
        {
            if (_isForgiven[at]) continue;
            isNew = true;
            await Forgive(at, cancellation);
        }
        return isNew;
    }

    /// <summary>Ids of what a word may be, alone or with either neighbour: the word itself first, then in order.</summary>
    public int[] IdsOf(int at)
    {
        var all = _single[at].Concat(_joined[at]).Concat(at > 0 ? _joined[at - 1] : []);
        return [.. all.OrderBy(word => word.Key == _text.Words[at] ? 0 : 1).ThenBy(word => word.Key, StringComparer.Ordinal).Select(word => word.Value).Distinct()];
    }

    private string Joined(int at) => _text.Words[at] + _text.Words[at + 1];

    private async Task AsTheyStand(CancellationToken cancellation)
    {
        var last = _text.Words.Count - 1;
        var found = await Find([.. _text.Words, .. Enumerable.Range(0, last).Select(Joined)], cancellation);
        for (var at = 0; at <= last; at++)
        {
            if (found.TryGetValue(_text.Words[at], out var single)) _single[at].TryAdd(_text.Words[at], single);
            if (at < last && found.TryGetValue(Joined(at), out var joined)) _joined[at].TryAdd(Joined(at), joined);
        }
    }

    private async Task AsBeginnings(CancellationToken cancellation)
    {
        var last = _text.Words.Count - 1;
        var begun = await Begun(_text.Words[last], cancellation);
        Completions = [.. begun.Keys.Where(word => word != _text.Words[last]).Order(StringComparer.Ordinal).Take(MostCompletions)];
        foreach (var (word, id) in begun) _single[last].TryAdd(word, id);
        if (last > 0)
            foreach (var (word, id) in await Begun(Joined(last - 1), cancellation)) _joined[last - 1].TryAdd(word, id);
    }

    private async Task Forgive(int at, CancellationToken cancellation)
    {
        _isForgiven[at] = true;
        if (at >= MostForgiven) return;
        await Near(_text.Words[at], _single[at]);
        if (at + 1 < _text.Words.Count) await Near(Joined(at), _joined[at]);

        async Task Near(string word, Dictionary<string, int> known)
        {
            foreach (var (near, id) in await Find(MachineWord.Near(word), cancellation))
                if (MachineWord.Compare(word, near, isUnfinished: false) != MachineWordFit.None) known.TryAdd(near, id);
        }
    }

    private async Task<Dictionary<string, int>> Find(IEnumerable<string> words, CancellationToken cancellation)
    {
        var found = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var some in words.Where(word => word.Length <= MachineWordRow.MaxLength).Distinct(StringComparer.Ordinal).Chunk(CatalogLoaders.IdsPerQuery))
            foreach (var row in await _db.MachineWords.Where(row => some.Contains(row.Word)).Select(row => new { row.Word, row.Id }).ToListAsync(cancellation))
                found.TryAdd(row.Word, row.Id);
        return found;
    }

    private async Task<Dictionary<string, int>> Begun(string word, CancellationToken cancellation)
    {
        if (word.Length is < MachineWordRow.BeginningLength or > MachineWordRow.MaxLength) return [];
        var beginning = MachineWordRow.BeginningOf(word);
        var rows = await _db.MachineWords.Where(row => row.Beginning == beginning && row.Word.StartsWith(word)).OrderBy(row => row.Word)
            .Take(MostBeginnings).Select(row => new { row.Word, row.Id }).ToListAsync(cancellation);
        return rows.ToDictionary(row => row.Word, row => row.Id, StringComparer.Ordinal);
    }
}
