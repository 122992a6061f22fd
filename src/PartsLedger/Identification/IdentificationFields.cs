using System.ComponentModel;
using GraphQL;
using PartsLedger.Domain.Identification;
using PartsLedger.Domain.Kits;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;

namespace PartsLedger.Identification;

/// <summary>What the API can be asked about which variant a pump is.</summary>
public sealed class IdentificationFields
{
    private IdentificationFields() { }

    [Description("Which variant is this: what everything known leaves, and the question that is expected to settle it soonest. Nothing is guessed: "
        + "a variant stays until something known rules it out. Where nothing is left the answer says what to look at again.")]
    public static async Task<IdentifyView> Identify([FromServices] Asking asking,
        [Description("A number off the pump, a box or an old list: a part's, an alias, or a variant's code.")] string? number = null,
        [Description("The machine's maker.")] string? make = null,
        [Description("The machine's model.")] string? model = null,
        [Description("The machine's option or equipment.")] string? option = null,
        [Description("The machine's model year, four digits.")] string? year = null,
        [Description("The machine in words, in any order, slips and all.")] string? machine = null,
        [Description("The pump's serial number.")] string? serial = null,
        [Description("When the pump was built: `2004-05-17`, `2004-05` or `2004`.")] string? built = null,
        [Description("What was seen of the pump.")] IReadOnlyList<SeenInput>? seen = null,
        [Description("Features nobody can tell; they are not asked for.")] IReadOnlyList<string>? unknown = null,
        [Description("The job in question: variants that need the same kit for it need not be told apart.")] JobScope? scope = null,
        CancellationToken cancellation = default) =>
        new(await asking.Answer<Identify.Query, Identify.Answer>(new(number, make, model, option, year, machine, serial, built,
            [.. (seen ?? []).Select(one => new Observation(one.Feature, one.Value))], unknown, scope), cancellation), scope);

    [Description("The numbers that answer what was typed, exact ones first, then with look-alikes, leading zeros and one slip, each with why.")]
    public static async Task<Connection<SearchNumbers.Hit>> SearchNumbers([FromServices] Asking asking,
        [Description("The number as somebody read it; case, spaces, dashes, dots and slashes do not matter.")] string number,
        [Description(PageArguments.First)] int first = PageRequest.DefaultFirst, [Description(PageArguments.After)] string? after = null,
        CancellationToken cancellation = default) =>
        Connection.Of("number-hits", await asking.Answer<SearchNumbers.Query, Page<SearchNumbers.Hit>>(
            new(number, PageRequest.Read("number-hits", first, after).OrRefuse()), cancellation));

    [Description("The machines that answer words in any order, with slips, and perhaps a year.")]
    public static async Task<SearchMachines.Answer> SearchMachines([FromServices] Asking asking,
        [Description("Words of make, model and option, and perhaps a year.")] string text,
        [Description("Somebody is still typing: the last word may be unfinished unless a space follows it.")] bool typing = false,
        CancellationToken cancellation = default) =>
        await asking.Answer<SearchMachines.Query, SearchMachines.Answer>(new(text, typing), cancellation);

    [Description("Two to six variants side by side.")]
    public static async Task<ComparisonView> CompareVariants([FromServices] Asking asking,
        [Description("The variants' codes, in the order to show them.")] IReadOnlyList<string> variants,
        [Description("Leaves out what is the same for all.")] bool onlyDifferences = true,
        CancellationToken cancellation = default) =>
        new(await asking.Answer<SetSideBySide.Query, VariantComparison>(new(variants, onlyDifferences), cancellation));
}
