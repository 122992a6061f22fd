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

// What the API shows of pumps: families, pressure classes, variants and their positions.

[Name("Variant")]
[Description("One variant of a pump: a family in a pressure class, between two production changes.")]
public sealed record VariantView(
    [property: Ignore] int Id,
    [property: Ignore] string Key,
    [property: Ignore] int FamilyId,
    [property: Ignore] int PressureClassId,
    [property: Description("The variant's code, as written.")] string Code,
    [property: Description("First day of production; null when open.")] DateOnly? BuiltFrom,
    [property: Description("Last day of production; null when open.")] DateOnly? BuiltTo,
    [property: Description("First serial number; null when open.")] string? SerialFrom,
    [property: Description("Last serial number; null when open.")] string? SerialTo,
    [property: Description("Direction of rotation, in the catalogue's words.")] string? Rotation,
    [property: Description("What else the catalogue says about the variant.")] string? Note)
{
    internal static readonly Expression<Func<VariantRow, VariantView>> Of = row => new VariantView(row.Id, row.CodeKey, row.FamilyId,
        row.PressureClassId, row.Code, row.BuiltFrom, row.BuiltTo, row.SerialFrom, row.SerialTo, row.Rotation, row.Note);

    [Description("The family the variant belongs to.")]
    public IDataLoaderResult<FamilyView> Family([FromServices] CatalogLoaders loaders) => loaders.Families.Load(FamilyId);

    [Description("The relief-pressure class the variant belongs to.")]
    public IDataLoaderResult<PressureClassView> PressureClass([FromServices] CatalogLoaders loaders) =>
        loaders.PressureClasses.Load(PressureClassId);

    [Description("The variant's parts list, by position number.")]
    public IDataLoaderResult<IReadOnlyList<PositionView>> Positions([FromServices] CatalogLoaders loaders) =>
        loaders.Positions.Load(Id, []);

    [Description("What the variant shows for the features by which variants are told apart.")]
    public IDataLoaderResult<IReadOnlyList<VariantFeatureView>> Features([FromServices] CatalogLoaders loaders) =>
        loaders.Features.Load(Id, []);

    [Description("The machines that carry the variant.")]
    public IDataLoaderResult<Connection<ApplicationView>> Applications([FromServices] CatalogLoaders loaders,
        [Description(PageArguments.First)] int first = PageRequest.DefaultFirst, [Description(PageArguments.After)] string? after = null) =>
        loaders.ApplicationsOfVariants.Load(Id, first, after);
}

[Name("Family")]
[Description("A family of pumps that share a housing bore, a displacement and the rule of how the valve is fitted.")]
public sealed record FamilyView(
    [property: Ignore] int Id,
    [property: Description("The family's code, as written.")] string Code,
    [property: Description("The family's name.")] string Name,
    [property: Description("`selective`: the valve is fitted to its bore by selection and not exchanged by itself; "
        + "`interchangeable`: any valve fits.")] string ValveFit,
    [property: Description("What the housing is made of.")] string? HousingMaterial,
    [property: Description("What the valve is made of.")] string? ValveMaterial)
{
    internal static FamilyView Of(FamilyRow row) =>
        new(row.Id, row.Code, row.Name, Words.Of(row.ValveFit), row.HousingMaterial, row.ValveMaterial);
}

[Name("PressureClass")]
[Description("A relief-pressure class: pumps that look alike and open their relief valve at different pressures.")]
public sealed record PressureClassView(
    [property: Ignore] int Id,
    [property: Description("The class's code, as written.")] string Code,
    [property: Description("The class's name.")] string Name,
    [property: Description("The pressure at which the relief valve opens.")] PressureView Relief,
    [property: Description("How far below `relief` a pump of the class may lie.")] PressureView Minus,
    [property: Description("How far above `relief` a pump of the class may lie.")] PressureView Plus)
{
    internal static PressureClassView Of(PressureClassRow row) =>
        new(row.Id, row.Code, row.Name, new(row.Relief), new(row.Minus), new(row.Plus));
}

[Name("Pressure")]
[Description("A gauge pressure or a difference of pressures, in the units people read it in.")]
public sealed class PressureView(Pressure pressure)
{
    internal Pressure Exact => pressure;

    [Description("Kilopascals, exact.")]
    public decimal KPa { get; } = pressure.ToKilopascals();

    [Description("Bar, exact.")]
    public decimal Bar { get; } = pressure.Pascals / (decimal)Pressure.PascalsPerBar;

    [Description("Pounds-force per square inch, rounded to the thousandth.")]
    public decimal Psi { get; } = decimal.Round(pressure.ToPsi(), 3, MidpointRounding.AwayFromZero);
}

[Name("Position")]
[Description("One line of a variant's parts list.")]
public sealed record PositionView(
    [property: Ignore] int Id,
    [property: Ignore] int VariantId,
    [property: Ignore] int PartId,
    [property: Description("The position's number on the parts list.")] int Position,
    [property: Description("What stands at the position.")] string Name,
    [property: Description("How many one pump carries, in the part's unit.")] decimal Quantity,
    [property: Description("The part of the pump: seal, rotating, valve, body, hardware or external.")] string Group,
    [property: Description("`always`: renewed in every job; `if-worn`: only when found worn.")] string Renew)
{
    internal static PositionView Of(PositionRow row) => new(row.Id, row.VariantId, row.PartId, row.Position, row.Name,
        row.Quantity.ToDecimal(), Words.Of(row.PartGroup), Words.Of(row.Renew));

    [Description("The part the list names, which may have been superseded since.")]
    public IDataLoaderResult<PartView> Part([FromServices] CatalogLoaders loaders) => loaders.Parts.Load(PartId);

    [Description("The variant whose list this is.")]
    public IDataLoaderResult<VariantView> Variant([FromServices] CatalogLoaders loaders) => loaders.Variants.Load(VariantId);
}

[Name("VariantFeature")]
[Description("What a variant shows for one feature.")]
public sealed record VariantFeatureView(
    [property: Description("The feature's code.")] string Feature,
    [property: Description("What to look at, as a question.")] string Question,
    [property: Description("What this variant shows.")] string Value,
    [property: Description("Seconds it takes to look.")] int Seconds,
    [property: Description("The pump must be opened to see it.")] bool Teardown);

[Name("Application")]
[Description("A machine that carries a variant, in a range of model years.")]
public sealed record ApplicationView(
    [property: Ignore] int Id,
    [property: Ignore] int VariantId,
    [property: Description("The machine's maker.")] string Make,
    [property: Description("The machine's model.")] string Model,
    [property: Description("First model year.")] int YearFrom,
    [property: Description("Last model year; null while it still carries the variant.")] int? YearTo,
    [property: Description("The option or equipment it holds for; empty for all.")] string Option)
{
    internal static readonly Expression<Func<ApplicationRow, ApplicationView>> Of = row =>
        new ApplicationView(row.Id, row.VariantId, row.Make, row.Model, row.YearFrom, row.YearTo, row.Option);

    [Description("The variant the machine carries.")]
    public IDataLoaderResult<VariantView> Variant([FromServices] CatalogLoaders loaders) => loaders.Variants.Load(VariantId);
}
