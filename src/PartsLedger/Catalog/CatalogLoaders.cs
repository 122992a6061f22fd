using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Hosting.GraphQl;
using PartsLedger.Stock;

namespace PartsLedger.Catalog;

/// <summary>
/// The catalogue's relations as one GraphQL request follows them: each is read once per level, for all rows of the level together.
/// A level of more than <see cref="IdsPerQuery"/> distinct rows takes one statement more for every so many.
/// </summary>
public sealed class CatalogLoaders(LedgerContext db, TimeProvider clock)
{
    // Every database bounds the parameters of one statement.
    internal const int IdsPerQuery = 900;

    public Batch<int, FamilyView> Families { get; } =
        One(ids => db.Families.AsNoTracking().Where(row => ids.Contains(row.Id)).Select(row => FamilyView.Of(row)), view => view.Id);

    public Batch<int, PressureClassView> PressureClasses { get; } =
        One(ids => db.PressureClasses.AsNoTracking().Where(row => ids.Contains(row.Id)).Select(row => PressureClassView.Of(row)), view => view.Id);

    public Batch<int, PartView> Parts { get; } =
        One(ids => db.Parts.Where(row => ids.Contains(row.Id)).Select(PartView.Of), view => view.Id);

    public Batch<int, VariantView> Variants { get; } =
        One(ids => db.Variants.Where(row => ids.Contains(row.Id)).Select(VariantView.Of), view => view.Id);

    public Batch<int, IReadOnlyList<PositionView>> Positions { get; } = Many(
        ids => db.Positions.AsNoTracking().Where(row => ids.Contains(row.VariantId)).OrderBy(row => row.Position),
        row => row.VariantId, PositionView.Of);

    public Batch<int, PositionView> PositionById { get; } =
        One(ids => db.Positions.AsNoTracking().Where(row => ids.Contains(row.Id)).Select(row => PositionView.Of(row)), view => view.Id);

    public Batch<int, IReadOnlyList<VariantFeatureView>> Features { get; } = Many(
        ids => db.VariantFeatures.AsNoTracking().Include(row => row.Feature).Where(row => ids.Contains(row.VariantId)).OrderBy(row => row.Feature.CodeKey),
        row => row.VariantId,
        row => new VariantFeatureView(row.Feature.Code, row.Feature.Question, row.Value, row.Feature.Seconds, row.Feature.Teardown));

    public Batch<int, IReadOnlyList<AliasView>> Aliases { get; } = Many(
        ids => db.Aliases.AsNoTracking().Where(row => ids.Contains(row.PartId)).OrderBy(row => row.NumberKey),
        row => row.PartId, row => new AliasView(row.Number, row.Source));

    public Batch<int, IReadOnlyList<PackContentView>> Contents { get; } = Many(
        ids => db.PackContents.AsNoTracking().Where(row => ids.Contains(row.PackId)).OrderBy(row => row.Id),
        row => row.PackId, PackContentView.Of);

    public Batch<int, IReadOnlyList<SupersessionView>> SupersededBy { get; } = Many(
        ids => db.Supersessions.AsNoTracking().Where(row => ids.Contains(row.OldId)).OrderBy(row => row.Id),
        row => row.OldId, SupersessionView.Of);

    public Batch<int, IReadOnlyList<SupersessionView>> Replaces { get; } = Many(
        ids => db.Supersessions.AsNoTracking().Where(row => ids.Contains(row.NewId)).OrderBy(row => row.Id),
        row => row.NewId, SupersessionView.Of);

    public Batch<int, decimal> Available { get; } = new(async (ids, cancellation) =>
    {
        var found = new Dictionary<int, decimal>();
        foreach (var some in ids.Chunk(IdsPerQuery))
            foreach (var (id, quantity) in await Availability.Of(db, some, clock.GetUtcNow(), cancellation)) found.Add(id, quantity.ToDecimal());
        return found;
    });

    public WindowedBatch<ApplicationView> ApplicationsOfVariants { get; } = new("variant-applications", view => view.Id,
        async (owners, after, take, cancellation) => (await InChunks(owners, ids => db.Variants.Where(variant => ids.Contains(variant.Id))
            .SelectMany(variant => db.Applications.Where(row => row.VariantId == variant.Id && row.Id > after).OrderBy(row => row.Id).Take(take))
            .Select(ApplicationView.Of), cancellation)).ConvertAll(view => (view.VariantId, view)));

    public WindowedBatch<PackContentView> PacksOfParts { get; } = new("part-packs", view => view.Id,
        async (owners, after, take, cancellation) => (await InChunks(owners, ids => db.Parts.Where(part => ids.Contains(part.Id))
            .SelectMany(part => db.PackContents.Where(row => row.PartId == part.Id && row.Id > after).OrderBy(row => row.Id).Take(take))
            .AsNoTracking().Select(row => PackContentView.Of(row)), cancellation)).ConvertAll(view => (view.PartId, view)));

    public WindowedBatch<PositionView> PositionsOfParts { get; } = new("part-positions", view => view.Id,
        async (owners, after, take, cancellation) => (await InChunks(owners, ids => db.Parts.Where(part => ids.Contains(part.Id))
            .SelectMany(part => db.Positions.Where(row => row.PartId == part.Id && row.Id > after).OrderBy(row => row.Id).Take(take))
            .AsNoTracking().Select(row => PositionView.Of(row)), cancellation)).ConvertAll(view => (view.PartId, view)));

    /// <summary>What a query finds for many ids, asked for in as few statements as databases allow.</summary>
    internal static async Task<List<T>> InChunks<T>(IEnumerable<int> ids, Func<int[], IQueryable<T>> query, CancellationToken cancellation)
    {
        List<T> found = [];
        foreach (var some in ids.Chunk(IdsPerQuery)) found.AddRange(await query(some).ToListAsync(cancellation));
        return found;
    }

    private static Batch<int, TView> One<TView>(Func<int[], IQueryable<TView>> query, Func<TView, int> id) =>
        new(async (ids, cancellation) => (await InChunks(ids, query, cancellation)).ToDictionary(id));

    private static Batch<int, IReadOnlyList<TView>> Many<TRow, TView>(
        Func<int[], IQueryable<TRow>> query, Func<TRow, int> owner, Func<TRow, TView> view) =>
        new(async (ids, cancellation) => (await InChunks(ids, query, cancellation)).GroupBy(owner)
            .ToDictionary(group => group.Key, group => (IReadOnlyList<TView>)[.. group.Select(view)]));
}
