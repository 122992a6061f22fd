using PartsLedger.Data;
using PartsLedger.Exchange.Reading;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Exchange;

/// <summary>One run of one file through its kind: what it works on, and what became of the rows.</summary>
public sealed class KindRun(SourceFile file, Layout layout, ActContext context, Ledger ledger, Registers registers, RejectedNames rejectedNames)
{
    /// <summary>Changes that are told one by one; more are counted only.</summary>
    public const int MostChanges = 200;

    private readonly SortedDictionary<int, List<Problem>> _rejects = [];

    public SourceFile File { get; } = file;

    public Layout Layout { get; } = layout;

    public ActContext Context { get; } = context;

    public LedgerContext Db => Context.Db;

    public Ledger Ledger { get; } = ledger;

    public Registers Registers { get; } = registers;

    public int New { get; set; }

    public int Changed { get; set; }

    public int Unchanged { get; set; }

    /// <summary>What changes in which row; the first <see cref="MostChanges"/> of them.</summary>
    public List<Change> Changes { get; } = [];

    /// <summary>Worth knowing, but no reason to leave the row.</summary>
    public List<string> Remarks { get; } = [];

    public void NoteChange(int line, string name, IReadOnlyList<string> differences)
    {
        if (Changes.Count < MostChanges) Changes.Add(new(line, name, differences));
    }

    public IReadOnlyList<Reject> Rejects => [.. _rejects.Select(reject => new Reject(reject.Key, reject.Value))];

    public bool IsRejected(int line) => _rejects.ContainsKey(line);

    public void Reject(int line, IEnumerable<Problem> problems)
    {
        if (!_rejects.TryGetValue(line, out var list)) _rejects.Add(line, list = []);
        list.AddRange(problems);
    }

    public void Reject(int line, string column, string sentence) => Reject(line, [new Problem(Layout.HeaderOf(column), sentence)]);

    public void NameRejected(string kind, string key, int line) => rejectedNames.Add(kind, key, $"{File.Name} line {line}");
}
