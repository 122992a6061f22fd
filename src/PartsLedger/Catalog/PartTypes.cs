using System.ComponentModel;
using System.Linq.Expressions;
using GraphQL;
using GraphQL.DataLoader;
using PartsLedger.Data.Catalog;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;

namespace PartsLedger.Catalog;

// What the API shows of parts and of how they hang together.

[Name("Part")]
[Description("A part or a pack: anything with a number.")]
public sealed class PartView
{
    private readonly Money _cost;
    private readonly Money? _price;

    private PartView(int id, string key, string number, string name, PartKind kind, PartService service, int? pressureClassId, string unit,
        Money cost, Money? price, int? leadDays, bool supplied)
    {
        (Id, Key, Number, Name, Kind, Service) = (id, key, number, name, Words.Of(kind), Words.Of(service));
        (PressureClassId, Unit, _cost, _price, LeadDays, Supplied) = (pressureClassId, unit, cost, price, leadDays, supplied);
    }

    internal static readonly Expression<Func<PartRow, PartView>> Of = row => new PartView(row.Id, row.NumberKey, row.Number, row.Name,
        row.Kind, row.Service, row.PressureClassId, row.Unit, row.Cost, row.Price, row.LeadDays, row.Supplied);

    [Ignore]
    public int Id { get; }

    /// <summary>The number's canonical form.</summary>
    [Ignore]
    public string Key { get; }

    [Ignore]
    public int? PressureClassId { get; }

    [Description("The part's number, as written.")]
    public string Number { get; }

    [Description("What the part is called.")]
    public string Name { get; }

    [Description("What the part is by nature: seal, rotating, plate, spring, valve, housing, hardware, kit, assembly, fluid or tool.")]
    public string Kind { get; }

    [Description("How it can be had: `separate`, `kit-only` (inside a kit or an assembly), `assembly-only` or `none` (not any more).")]
    public string Service { get; }

    [Description("The unit its quantities are in.")]
    public string Unit { get; }

    [Description("False: stock only. It can be used up to what is available and never ordered.")]
    public bool Supplied { get; }

    [Description("What one costs the shop, in the shop's currency; zero when not known.")]
    public decimal Cost => _cost.ToDecimal();

    [Description("What the shop sells one for, in the shop's currency.")]
    public decimal? Price => _price?.ToDecimal();

    [Description("Days from order to delivery.")]
    public int? LeadDays { get; }

    [Description("The pressure class it belongs to; null when it serves every class.")]
    public IDataLoaderResult<PressureClassView?>? PressureClass([FromServices] CatalogLoaders loaders) =>
        (PressureClassId is { } id ? loaders.PressureClasses.Load(id) : null)!;

    [Description("On hand in good condition less reserved, in `unit`.")]
    public IDataLoaderResult<decimal> Available([FromServices] CatalogLoaders loaders) => loaders.Available.Load(Id, 0);

    [Description("Its other numbers: casting numbers, customers' and suppliers' numbers.")]
    public IDataLoaderResult<IReadOnlyList<AliasView>> Aliases([FromServices] CatalogLoaders loaders) => loaders.Aliases.Load(Id, []);

    [Description("What is inside, when it is a pack; one level.")]
    public IDataLoaderResult<IReadOnlyList<PackContentView>> Contents([FromServices] CatalogLoaders loaders) =>
        loaders.Contents.Load(Id, []);

    [Description("The packs that hold it directly. The query's `packsContaining` looks into packs within packs as well.")]
    public IDataLoaderResult<Connection<PackContentView>> Packs([FromServices] CatalogLoaders loaders,
        [Description(PageArguments.First)] int first = PageRequest.DefaultFirst, [Description(PageArguments.After)] string? after = null) =>
        loaders.PacksOfParts.Load(Id, first, after);

    [Description("What replaced it: nothing while it is current, several entries when a set did.")]
    public IDataLoaderResult<IReadOnlyList<SupersessionView>> SupersededBy([FromServices] CatalogLoaders loaders) =>
        loaders.SupersededBy.Load(Id, []);

    [Description("The old numbers it replaced, alone or as part of a set.")]
    public IDataLoaderResult<IReadOnlyList<SupersessionView>> Replaces([FromServices] CatalogLoaders loaders) =>
        loaders.Replaces.Load(Id, []);

    [Description("The positions whose parts list names this very number. The query's `whereUsed` follows packs and supersessions as well.")]
    public IDataLoaderResult<Connection<PositionView>> UsedIn([FromServices] CatalogLoaders loaders,
        [Description(PageArguments.First)] int first = PageRequest.DefaultFirst, [Description(PageArguments.After)] string? after = null) =>
        loaders.PositionsOfParts.Load(Id, first, after);
}

[Name("Alias")]
[Description("Another number of a part.")]
public sealed record AliasView(
    [property: Description("The other number, as written.")] string Number,
    [property: Description("Whose number it is or where it is written.")] string? Source);

[Name("PackContent")]
[Description("So many of a part in one pack.")]
public sealed record PackContentView(
    [property: Ignore] int Id,
    [property: Ignore] int PackId,
    [property: Ignore] int PartId,
    [property: Description("Pieces of `part` in one `pack`.")] decimal Quantity)
{
    internal static PackContentView Of(PackContentRow row) => new(row.Id, row.PackId, row.PartId, row.Quantity.ToDecimal());

    [Description("The pack.")]
    public IDataLoaderResult<PartView> Pack([FromServices] CatalogLoaders loaders) => loaders.Parts.Load(PackId);

    [Description("What is inside.")]
    public IDataLoaderResult<PartView> Part([FromServices] CatalogLoaders loaders) => loaders.Parts.Load(PartId);
}

[Name("Supersession")]
[Description("An old number was replaced by so many of a new one; several with one old number are a set.")]
public sealed record SupersessionView(
    [property: Ignore] int OldId,
    [property: Ignore] int NewId,
    [property: Description("Pieces of `new` that replace one piece of `old`.")] decimal Quantity,
    [property: Description("`replace`: pieces of the old number no longer count; `use-up`: they are used up from stock first.")]
    string Rule)
{
    internal static SupersessionView Of(SupersessionRow row) =>
        new(row.OldId, row.NewId, row.Quantity.ToDecimal(), Words.Of(row.SupersessionRule));

    [Description("The number that was replaced.")]
    public IDataLoaderResult<PartView> Old([FromServices] CatalogLoaders loaders) => loaders.Parts.Load(OldId);

    [Description("The number that replaced it.")]
    public IDataLoaderResult<PartView> New([FromServices] CatalogLoaders loaders) => loaders.Parts.Load(NewId);
}
