using PartsLedger.Data;

namespace PartsLedger.Catalog;

/// <summary>How one number on the way from a part to a parts list leads to the next.</summary>
internal enum UseStep
{
    /// <summary>The next is a pack that holds the one before.</summary>
    HeldBy,

    /// <summary>The next lies in the one before, at whatever depth.</summary>
    Holds,

    /// <summary>The next was replaced by the one before.</summary>
    Replaced,

    /// <summary>The next replaced the one before.</summary>
    ReplacedBy,
}

/// <summary>A position at which a part is used, and the number by which the parts list names it.</summary>
internal readonly record struct PartUse(int PositionId, int VariantId, string VariantKey, int Position, int PartId);

/// <summary>
/// Every number by which a part may stand on a parts list, with the shortest way to it: itself, packs that hold it, what it replaced and what
/// replaced it, and, when it is a pack itself, what is in it.
/// </summary>
internal sealed class PartUses
{
    private readonly Dictionary<int, (int From, UseStep? Step)> _known = [];
    private readonly HashSet<int> _classes = [];

    private PartUses() { }

    public static async Task<PartUses> Of(LedgerContext db, int part, CancellationToken cancellation)
    {
        var uses = new PartUses();
        uses._known.Add(part, (part, null));

        // First to what it replaced and what holds it, in any order; that way always leads to something it can serve today.
        await uses.Outward(db, [part], replaced: true, packs: true, cancellation);

        // Then along its own replacements; from there only outward to packs, since a replacement's other ancestors never took this part.
        for (int[] level = [part]; level.Length > 0;)
        {
            var rows = await CatalogLoaders.InChunks(level, ids => db.Supersessions.Where(row => ids.Contains(row.OldId))
                .OrderBy(row => row.Id).Select(row => new { row.OldId, row.NewId }), cancellation);
            level = [.. rows.Where(row => uses._known.TryAdd(row.NewId, (row.OldId, UseStep.ReplacedBy))).Select(row => row.NewId)];
            await uses.Outward(db, level, replaced: false, packs: true, cancellation);
        }
        await uses.Inward(db, part, cancellation);
        return uses;
    }

    /// <summary>The positions, in no order. What a pack brings of one pressure class is of no use to a variant of another.</summary>
    public async Task<List<PartUse>> Positions(LedgerContext db, CancellationToken cancellation)
    {
        var rows = await CatalogLoaders.InChunks(_known.Keys, ids => db.Positions.Where(row => ids.Contains(row.PartId))
            .Select(row => new { row.Id, row.VariantId, row.Variant.CodeKey, row.Position, row.PartId, row.Variant.PressureClassId }), cancellation);
        return [.. rows.Where(row => !IsFromInside(row.PartId) || _classes.Count == 0 || (_classes.Count == 1 && _classes.Contains(row.PressureClassId)))
            .Select(row => new PartUse(row.Id, row.VariantId, row.CodeKey, row.Position, row.PartId))];
    }

    /// <summary>The numbers from the part asked for to the one a parts list names, both included, each with the step that led to it.</summary>
    public List<(int Part, UseStep? Step)> To(int part)
    {
        List<(int, UseStep?)> way = [];
        for (var at = part; ; at = _known[at].From)
        {
            way.Add((at, _known[at].Step));
            if (_known[at].Step is null) break;
        }
        way.Reverse();
        return way;
    }

    private bool IsFromInside(int part) => To(part).Exists(step => step.Step is UseStep.Holds);

    private async Task Outward(LedgerContext db, int[] level, bool replaced, bool packs, CancellationToken cancellation)
    {
        while (level.Length > 0)
        {
            List<int> next = [];
            if (packs)
            {
                var holding = await CatalogLoaders.InChunks(level, ids => db.PackContents.Where(row => ids.Contains(row.PartId))
                    .OrderBy(row => row.Id).Select(row => new { row.PartId, row.PackId }), cancellation);
                next.AddRange(holding.Where(row => _known.TryAdd(row.PackId, (row.PartId, UseStep.HeldBy))).Select(row => row.PackId));
            }
            if (replaced)
            {
                var olds = await CatalogLoaders.InChunks(level, ids => db.Supersessions.Where(row => ids.Contains(row.NewId))
                    .OrderBy(row => row.Id).Select(row => new { row.OldId, row.NewId }), cancellation);
                next.AddRange(olds.Where(row => _known.TryAdd(row.OldId, (row.NewId, UseStep.Replaced))).Select(row => row.OldId));
            }
            level = [.. next];
        }
    }

    /// <summary>To what is in it, and from there to the numbers that these replaced; other packs that hold the same pieces are another matter.</summary>
    private async Task Inward(LedgerContext db, int part, CancellationToken cancellation)
    {
        List<int> inside = [];
        for (int[] level = [part]; level.Length > 0;)
        {
            foreach (var row in await CatalogLoaders.InChunks(level, ids => db.Parts.Where(row => ids.Contains(row.Id) && row.PressureClassId != null)
                .Select(row => row.PressureClassId!.Value), cancellation)) _classes.Add(row);
            var rows = await CatalogLoaders.InChunks(level, ids => db.PackContents.Where(row => ids.Contains(row.PackId))
                .OrderBy(row => row.Id).Select(row => new { row.PackId, row.PartId }), cancellation);
            level = [.. rows.Where(row => _known.TryAdd(row.PartId, (row.PackId, UseStep.Holds))).Select(row => row.PartId)];
            inside.AddRange(level);
        }
        await Outward(db, [.. inside], replaced: true, packs: false, cancellation);
    }
}
