using Microsoft.EntityFrameworkCore;
using PartsLedger.Data.Catalog;
using PartsLedger.Domain.Catalog;
using PartsLedger.Exchange.Reading;
using PartsLedger.Stock;

namespace PartsLedger.Exchange.Kinds;

/// <summary>
/// What is in a pack. A pack may hold packs, but never itself at any depth. What is in a kit of the house its recipe says, and no file.
/// </summary>
public sealed class ContentsFile : RowKind<PackContentRow, (int Pack, int Part)>
{
    private Register<NamedPart> _parts = null!;
    private HashSet<int> _houseKits = [];

    public override string Name => "contents";

    public override IReadOnlyList<Column> Columns { get; } = [Column.Key("pack"), Column.Key("part"), Column.Needed("quantity")];

    protected override async Task Prepare(KindRun run, CancellationToken cancellation)
    {
        _parts = await run.Registers.Parts();
        _houseKits = [.. await run.Db.KitRecipes.AsNoTracking().Select(row => row.KitId).Distinct().ToListAsync(cancellation)];
    }

    protected override PackContentRow Read(RowCells cells)
    {
        var (pack, part, quantity) = (_parts.Find(cells, "pack"), _parts.Find(cells, "part"), cells.Quantity("quantity"));
        if (part is not null && PieceUnit.IsWhole(part.Unit)) cells.RequireWhole("quantity", quantity, part.Number, part.Unit);
        return new PackContentRow { PackId = pack?.Id ?? 0, PartId = part?.Id ?? 0, Quantity = quantity };
    }

    protected override (int Pack, int Part) KeyOf(PackContentRow row) => (row.PackId, row.PartId);

    protected override void Judge(
        KindRun run, IReadOnlyList<Judged<PackContentRow, (int Pack, int Part)>> rows, IReadOnlyDictionary<(int Pack, int Part), PackContentRow> kept)
    {
        foreach (var row in rows.Where(row => _houseKits.Contains(row.Key.Pack) && kept.GetValueOrDefault(row.Key)?.Quantity != row.Row.Quantity))
            run.Reject(row.Line, "pack", "The shop puts this kit together itself: change its recipe instead.");
        var added = rows.Where(row => !kept.ContainsKey(row.Key)).ToList();
        var circles = Circles.ClosedBy(kept.Keys, [.. added.Select(row => row.Key)]);
        if (circles.Count == 0) return;
        var numbers = _parts.All.ToDictionary(part => part.Id, part => part.Number);
        foreach (var circle in circles)
            run.Reject(added[circle.Added].Line, "part", circle.Nodes.Count == 2 ? "A pack cannot hold itself."
                : $"A pack cannot hold itself at any depth: {string.Join(" holds ", circle.Nodes.Select(id => numbers[id]))}.");
    }
}
