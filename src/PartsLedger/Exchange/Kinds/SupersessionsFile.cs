using PartsLedger.Data.Catalog;
using PartsLedger.Domain.Catalog;
using PartsLedger.Exchange.Reading;
using PartsLedger.Stock;

namespace PartsLedger.Exchange.Kinds;

/// <summary>Which numbers took an old number's place. Several rows with one old number are a set under one rule; no number ends in itself.</summary>
public sealed class SupersessionsFile : RowKind<SupersessionRow, (int Old, int New)>
{
    private Register<NamedPart> _parts = null!;

    public override string Name => "supersessions";

    public override IReadOnlyList<Column> Columns { get; } =
        [Column.Key("old"), Column.Key("new"), Column.Needed("quantity"), Column.Optional("rule")];

    protected override async Task Prepare(KindRun run, CancellationToken cancellation) => _parts = await run.Registers.Parts();

    protected override SupersessionRow Read(RowCells cells)
    {
        var (old, current, quantity) = (_parts.Find(cells, "old"), _parts.Find(cells, "new"), cells.Quantity("quantity"));
        if (current is not null && PieceUnit.IsWhole(current.Unit)) cells.RequireWhole("quantity", quantity, current.Number, current.Unit);
        return new SupersessionRow
        {
            OldId = old?.Id ?? 0, NewId = current?.Id ?? 0, Quantity = quantity, SupersessionRule = cells.Word("rule", SupersessionRule.Replace),
        };
    }

    protected override (int Old, int New) KeyOf(SupersessionRow row) => (row.OldId, row.NewId);

    protected override void Judge(
        KindRun run, IReadOnlyList<Judged<SupersessionRow, (int Old, int New)>> rows, IReadOnlyDictionary<(int Old, int New), SupersessionRow> kept)
    {
        var numbers = _parts.All.ToDictionary(part => part.Id, part => part.Number);
        var added = rows.Where(row => !kept.ContainsKey(row.Key)).ToList();
        foreach (var circle in Circles.ClosedBy(kept.Keys, [.. added.Select(row => row.Key)]))
            run.Reject(added[circle.Added].Line, "new", circle.Nodes.Count == 2 ? "A number cannot take its own place."
                : $"A number cannot take its own place in the end: {string.Join(" became ", circle.Nodes.Select(id => numbers[id]))}.");

        // A row refused here leaves what the database has, which may refuse another: until nothing changes any more.
        while (RefuseSecondRules(run, rows, kept, numbers)) { }
    }

    private static bool RefuseSecondRules(
        KindRun run, IReadOnlyList<Judged<SupersessionRow, (int Old, int New)>> rows, IReadOnlyDictionary<(int Old, int New), SupersessionRow> kept,
        Dictionary<int, string> numbers)
    {
        var standing = rows.Where(row => !run.IsRejected(row.Line)).ToList();
        var restated = standing.Select(row => row.Key).ToHashSet();
        var rules = new Dictionary<int, (SupersessionRule Rule, string Where)>();
        foreach (var (key, row) in kept)
            if (!restated.Contains(key)) rules.TryAdd(key.Old, (row.SupersessionRule, $"in the database, for {numbers[key.New]}"));
        var refused = false;
        foreach (var (line, row, key) in standing)
        {
            if (rules.TryAdd(key.Old, (row.SupersessionRule, $"in line {line}"))) continue;
            var (rule, where) = rules[key.Old];
            if (rule == row.SupersessionRule) continue;
            run.Reject(line, "rule", $"{numbers[key.Old]} has the rule {Words.Of(rule)} {where}; all rows of one old number must have the same rule.");
            refused = true;
        }
        return refused;
    }
}
