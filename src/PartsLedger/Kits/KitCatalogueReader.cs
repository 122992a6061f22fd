using Microsoft.EntityFrameworkCore;
using PartsLedger.Catalog;
using PartsLedger.Data;
using PartsLedger.Data.Catalog;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Stock;

namespace PartsLedger.Kits;

/// <summary>What one job has already: it counts as available to that job and to nobody else.</summary>
/// <param name="Job">The job's number, as it was written when the job was started.</param>
/// <param name="CoreId">The core it rebuilds: the pair that came with it is what may be worn, and no supply.</param>
/// <param name="Pieces">What it has reserved or pulled, by part id.</param>
public sealed record OwnPieces(string Job, int? CoreId, IReadOnlyDictionary<int, Quantity> Pieces);

/// <summary>
/// Reads the part of the catalogue that can have a bearing on one variant's kits: its positions, their supersession chains, every pack
/// that holds a piece of them at any depth, and what else is in those packs. The number of queries grows with the depth of chains and
/// packs, not with the number of rows.
/// </summary>
public sealed class KitCatalogueReader(LedgerContext db, TimeProvider clock)
{
    // Longer lists of ids are asked for in several statements: every database bounds the parameters of one.
    private const int IdsPerQuery = 900;

    /// <param name="also">Parts to know besides, with everything in them: of a kit that is not in the catalogue yet.</param>
    public async Task<Outcome<KitCatalogue>> Read(
        string variantCode, CancellationToken cancellation, OwnPieces? own = null, IReadOnlyCollection<int>? also = null)
    {
        var key = Code.KeyOf(variantCode);
        var variant = await db.Variants.AsNoTracking()
            .Include(row => row.Family).Include(row => row.PressureClass).Include(row => row.Positions)
            .SingleOrDefaultAsync(row => row.CodeKey == key, cancellation);
        if (variant is null) return Unknown.Variant(variantCode, await db.Variants.AsNoTracking().Select(row => row.Code).ToListAsync(cancellation));

        var reach = new Reach(db, cancellation);
        await reach.Explore([.. variant.Positions.Select(position => position.PartId).Concat(also ?? []).Distinct()]);
        var parts = await ReadParts(reach.Parts, own, cancellation);
        var numbers = parts.ToDictionary(part => part.Key, part => part.Value.Number);

        return new KitCatalogue(
            new KitVariant(variant.Code, variant.Family.Code, variant.PressureClass.Code, variant.Family.ValveFit,
                [.. variant.Positions.OrderBy(row => row.Position).Select(row =>
                    new KitPosition(row.Position, row.Name, numbers[row.PartId], row.Quantity, row.PartGroup, row.Renew))]),
            parts.Values.ToDictionary(part => part.Number),
            [.. reach.Contents.Select(row => new PackContent(numbers[row.PackId], numbers[row.PartId], row.Quantity))],
            [.. reach.Supersessions.Select(row => new Supersession(numbers[row.OldId], numbers[row.NewId], row.Quantity, row.SupersessionRule))],
            await ReadPairs(variant, parts, own, cancellation),
            await ReadCautions(variant, numbers.Values, cancellation),
            await ReadChecks(variant, cancellation),
            await ReadTools(variant, cancellation));
    }

    private async Task<Dictionary<int, KitPart>> ReadParts(IReadOnlyCollection<int> ids, OwnPieces? own, CancellationToken cancellation)
    {
        var parts = new Dictionary<int, KitPart>(ids.Count);
        foreach (var some in ids.Chunk(IdsPerQuery))
        {
            var available = await Availability.Of(db, some, clock.GetUtcNow(), cancellation);
            var rows = await db.Parts.AsNoTracking().Where(row => some.Contains(row.Id))
                .Select(row => new { row.Id, row.Number, row.Name, row.Kind, row.Service, Class = row.PressureClass!.Code, row.Cost, row.Supplied })
                .ToListAsync(cancellation);
            foreach (var row in rows)
                parts.Add(row.Id, new KitPart(new PartNumber(row.Number), row.Name, row.Kind, row.Service, row.Class, row.Cost, row.Supplied,
                    available.GetValueOrDefault(row.Id) + (own?.Pieces.GetValueOrDefault(row.Id) ?? Quantity.Zero)));
        }
        return parts;
    }

    /// <summary>Measured and released pairs of the variant's family and class that nobody else keeps, in a place where they may be used.</summary>
    private async Task<List<PairSupply>> ReadPairs(VariantRow variant, Dictionary<int, KitPart> parts, OwnPieces? own, CancellationToken cancellation)
    {
        var now = clock.GetUtcNow();
        var (ownJob, ownCore) = (own?.Job, own?.CoreId);
        var pairs = await db.Pairs.AsNoTracking()
            .Where(row => row.FamilyId == variant.FamilyId && row.PressureClassId == variant.PressureClassId && row.State == PairState.Together && row.Released
                && (row.Job == null || row.JobUntil <= now || row.Job == ownJob)
                && (ownCore == null || row.Origin != PairOrigin.AsReceived || row.Halves.All(half => half.CoreId != ownCore)) && row.Location!.Kind != LocationKind.Quarantine)
            .Select(row => new
            {
                row.Code, row.Cost,
                Housing = row.Halves.Where(half => half.Role == UnitRole.Housing).Select(half => half.PartId).FirstOrDefault(),
                Valve = row.Halves.Where(half => half.Role == UnitRole.Valve).Select(half => half.PartId).FirstOrDefault(),
            }).OrderBy(row => row.Code).ToListAsync(cancellation);

        // A half whose part number nobody wrote down, or that no position of this variant leads to, meets no need.
        return [.. pairs.Where(pair => pair is { Housing: { } housing, Valve: { } valve } && parts.ContainsKey(housing) && parts.ContainsKey(valve))
            .Select(pair => new PairSupply(pair.Code, parts[pair.Housing!.Value].Number, parts[pair.Valve!.Value].Number, variant.Family.Code,
                variant.PressureClass.Code, pair.Cost))];
    }

    private async Task<List<KitCaution>> ReadCautions(VariantRow variant, IEnumerable<PartNumber> parts, CancellationToken cancellation)
    {
        // What applies to everything, to the family, to a group this variant has, or to any part that could be on the list.
        var keys = variant.Positions.Select(row => Code.KeyOf(Words.Of(row.PartGroup))).Append("*").Append(variant.Family.CodeKey)
            .Concat(parts.Select(part => part.Key)).ToHashSet(StringComparer.Ordinal);
        var rows = await db.Cautions.AsNoTracking().ToListAsync(cancellation);
        return [.. rows.Where(row => keys.Contains(row.AppliesToKey))
            .OrderByDescending(row => row.Severity).ThenBy(row => row.Text, StringComparer.Ordinal)
            .Select(row => new KitCaution(row.Severity, row.Text)).Distinct()];
    }

    private async Task<List<KitCheck>> ReadChecks(VariantRow variant, CancellationToken cancellation)
    {
        var rows = await db.Checks.AsNoTracking()
            .Where(row => row.FamilyId == variant.FamilyId || row.VariantId == variant.Id).ToListAsync(cancellation);

        // A variant's own check takes the place of its family's check with the same sequence number.
        return [.. rows.GroupBy(row => row.Sequence).Select(group => group.OrderBy(row => row.VariantId is null).First())
            .OrderBy(row => row.Sequence)
            .Select(row => new KitCheck(row.Sequence, row.Text, row.Expected, row.Unit, Millionths(row.LowMillionths), Millionths(row.HighMillionths)))];
    }

    private static decimal? Millionths(long? value) => value / 1_000_000m;

    private async Task<List<KitTool>> ReadTools(VariantRow variant, CancellationToken cancellation)
    {
        var rows = await db.Tools.AsNoTracking()
            .Where(row => row.FamilyId == variant.FamilyId || row.VariantId == variant.Id).ToListAsync(cancellation);
        return [.. rows.GroupBy(row => row.NameKey).Select(group => group.OrderBy(row => row.VariantId is null).First())
            .OrderBy(row => row.NameKey, StringComparer.Ordinal).Select(row => new KitTool(row.Name, row.Note))];
    }

    /// <summary>The parts, contents and supersessions reachable from a variant's positions, level by level.</summary>
    private sealed class Reach(LedgerContext db, CancellationToken cancellation)
    {
        private readonly HashSet<int> _parts = [];
        private readonly Dictionary<int, PackContentRow> _contents = [];
        private readonly Dictionary<int, SupersessionRow> _supersessions = [];

        public IReadOnlyCollection<int> Parts => _parts;
        public IReadOnlyCollection<PackContentRow> Contents => _contents.Values;
        public IReadOnlyCollection<SupersessionRow> Supersessions => _supersessions.Values;

        public async Task Explore(int[] positionParts)
        {
            // Forward: today's numbers. Upward: packs that hold them, and packs that hold those. Backward: old numbers whose pieces may
            // be used up, and what else their replacement consists of. Then downward: everything inside, for what else a pack brings.
            _parts.UnionWith(positionParts);
            var frontier = positionParts;
            while (frontier.Length > 0)
            {
                await Supersede(frontier);
                await Contain(frontier, upward: true);
                frontier = TakeNew();
            }
            frontier = [.. _parts];
            while (frontier.Length > 0)
            {
                await Contain(frontier, upward: false);
                frontier = TakeNew();
            }
        }

        private async Task Supersede(int[] ids)
        {
            foreach (var some in ids.Chunk(IdsPerQuery))
                foreach (var row in await db.Supersessions.AsNoTracking()
                    .Where(row => some.Contains(row.OldId) || some.Contains(row.NewId)).ToListAsync(cancellation))
                    _supersessions.TryAdd(row.Id, row);
        }

        private async Task Contain(int[] ids, bool upward)
        {
            foreach (var some in ids.Chunk(IdsPerQuery))
                foreach (var row in await (upward
                    ? db.PackContents.AsNoTracking().Where(row => some.Contains(row.PartId))
                    : db.PackContents.AsNoTracking().Where(row => some.Contains(row.PackId))).ToListAsync(cancellation))
                    _contents.TryAdd(row.Id, row);
        }

        private int[] TakeNew()
        {
            var found = _supersessions.Values.SelectMany(row => (int[])[row.OldId, row.NewId])
                .Concat(_contents.Values.SelectMany(row => (int[])[row.PackId, row.PartId])).Where(id => !_parts.Contains(id)).Distinct().ToArray();
            _parts.UnionWith(found);
            return found;
        }
    }
}
