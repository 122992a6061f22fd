using System.ComponentModel;
using GraphQL;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;

namespace PartsLedger.Fit;

/// <summary>What the API can be asked about tagged units and matched pairs.</summary>
public sealed class FitFields
{
    private FitFields() { }

    [Description("What is this? Takes any tag, pair code, core, place, part number or job.")]
    public static async Task<ScanView> Scan([FromServices] Asking asking, [Description("What was scanned.")] string code,
        [Description("The class of the job at hand: a thing of another class is then called out.")] string? forClass = null, CancellationToken cancellation = default) =>
        new(await asking.Answer<Scan.Query, Scan.Answer>(new(code, forClass), cancellation));

    [Description("Do these two belong together? Yes, or no with the reason.")]
    public static async Task<TogetherView> BelongTogether([FromServices] Asking asking, [Description("The first half's tag.")] string first,
        [Description("The second half's tag.")] string second, CancellationToken cancellation = default) =>
        new(await asking.Answer<BelongTogether.Query, BelongTogether.Answer>(new(first, second), cancellation));

    [Description("Everything that ever happened to a unit, oldest first: among it every partner it has had.")]
    public static async Task<UnitHistoryView> UnitHistory([FromServices] Asking asking, [Description("The unit's tag.")] string tag,
        CancellationToken cancellation = default) => new(await asking.Answer<UnitHistory.Query, UnitHistory.Answer>(new(tag), cancellation));
}
