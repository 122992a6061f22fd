using System.ComponentModel;
using GraphQL;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;

namespace PartsLedger.Catalog;

/// <summary>What the API can be asked about the catalogue.</summary>
public sealed class CatalogFields
{
    private CatalogFields() { }

    [Description("One variant by its code. An unknown code is an error that names the nearest known ones.")]
    public static async Task<VariantView?> Variant([FromServices] Asking asking,
        [Description("The variant's code; case and spare spaces do not matter.")] string code,
        CancellationToken cancellation) =>
        await asking.Answer<VariantByCode.Query, VariantView>(new(code), cancellation);

    [Description("The variants, by code.")]
    public static async Task<Connection<VariantView>> Variants([FromServices] Asking asking,
        [Description(PageArguments.First)] int first = PageRequest.DefaultFirst, [Description(PageArguments.After)] string? after = null,
        [Description("Only those of this family, by its code.")] string? family = null,
        [Description("Only those of this pressure class, by its code.")] string? pressureClass = null,
        CancellationToken cancellation = default) =>
        Connection.Of("variants", await asking.Answer<FindVariants.Query, Page<VariantView>>(
            new(family, pressureClass, PageRequest.Read("variants", first, after).OrRefuse()), cancellation));

    [Description("One part by any of its numbers: its own, superseded or current, or an alias. An unknown number is an error "
        + "that names the nearest known ones.")]
    public static async Task<PartView?> Part([FromServices] Asking asking,
        [Description("The number; case, spaces, dashes, dots and slashes do not matter.")] string number,
        CancellationToken cancellation) =>
        await asking.Answer<PartByNumber.Query, PartView>(new(number), cancellation);

    [Description("The parts of which a number begins with what is searched for, exact matches first, then by number.")]
    public static async Task<Connection<FindParts.Hit>> Parts([FromServices] Asking asking,
        [Description("A number or its beginning: own numbers, aliases and superseded numbers; case, spaces, dashes, dots and "
            + "slashes do not matter. Every part when left out.")] string? search = null,
        [Description(PageArguments.First)] int first = PageRequest.DefaultFirst, [Description(PageArguments.After)] string? after = null,
        CancellationToken cancellation = default) =>
        Connection.Of("parts", await asking.Answer<FindParts.Query, Page<FindParts.Hit>>(
            new(search, PageRequest.Read("parts", first, after).OrRefuse()), cancellation));

    [Description("The packs that hold a part, at any depth, by number.")]
    public static async Task<Connection<PacksContaining.Holding>> PacksContaining([FromServices] Asking asking,
        [Description("Any number of the part.")] string part,
        [Description(PageArguments.First)] int first = PageRequest.DefaultFirst, [Description(PageArguments.After)] string? after = null,
        CancellationToken cancellation = default) =>
        Connection.Of("packs-containing", await asking.Answer<PacksContaining.Query, Page<PacksContaining.Holding>>(
            new(part, PageRequest.Read("packs-containing", first, after).OrRefuse()), cancellation));

    [Description("The positions at which a part is used, directly, inside packs or by way of supersessions, by variant and position.")]
    public static async Task<Connection<WhereUsed.Use>> WhereUsed([FromServices] Asking asking,
        [Description("Any number of the part.")] string part,
        [Description(PageArguments.First)] int first = PageRequest.DefaultFirst, [Description(PageArguments.After)] string? after = null,
        CancellationToken cancellation = default) =>
        Connection.Of("where-used", await asking.Answer<WhereUsed.Query, Page<WhereUsed.Use>>(
            new(part, PageRequest.Read("where-used", first, after).OrRefuse()), cancellation));

    [Description("How many positions, variants and machines use a part, by whatever way `whereUsed` knows.")]
    public static async Task<CountUses.Answer> CountUses([FromServices] Asking asking,
        [Description("Any number of the part or kit.")] string part, CancellationToken cancellation) =>
        await asking.Answer<CountUses.Query, CountUses.Answer>(new(part), cancellation);

    [Description("The machines that carry a variant which uses a part, by whatever way `whereUsed` knows, in order of entry.")]
    public static async Task<Connection<ApplicationView>> MachinesUsing([FromServices] Asking asking,
        [Description("Any number of the part or kit.")] string part,
        [Description(PageArguments.First)] int first = PageRequest.DefaultFirst, [Description(PageArguments.After)] string? after = null,
        CancellationToken cancellation = default) =>
        Connection.Of("machines-using", await asking.Answer<MachinesUsing.Query, Page<ApplicationView>>(
            new(part, PageRequest.Read("machines-using", first, after).OrRefuse()), cancellation));

    [Description("The machines and the variants they carry, in order of entry.")]
    public static async Task<Connection<ApplicationView>> Applications([FromServices] Asking asking,
        [Description("Only this maker's; case does not matter.")] string? make = null,
        [Description("Only this model; case does not matter.")] string? model = null,
        [Description("Only those whose range holds this model year.")] int? year = null,
        [Description(PageArguments.First)] int first = PageRequest.DefaultFirst, [Description(PageArguments.After)] string? after = null,
        CancellationToken cancellation = default) =>
        Connection.Of("applications", await asking.Answer<FindApplications.Query, Page<ApplicationView>>(
            new(make, model, year, PageRequest.Read("applications", first, after).OrRefuse()), cancellation));
}
