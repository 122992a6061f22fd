using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.DependencyInjection;
using PartsLedger.Domain.Cores;
using PartsLedger.Domain.Kits;
using PartsLedger.Hosting;
using PartsLedger.Jobs;

namespace PartsLedger.Browser.Tests;

/// <summary>
/// Every page of the program in its usual states, with the invented shop's data. The tests look at them; the benchmarks measure them.
/// </summary>
public static class ManyPages
{
    /// <summary>A job whose kit list is accepted.</summary>
    public const string Job = "R-26-118";

    /// <summary>The name of each state's picture, and its address.</summary>
    public static IReadOnlyDictionary<string, string> All { get; } = new Dictionary<string, string>
    {
        ["home"] = "/",
        ["counter"] = "/counter",
        ["counter-number"] = "/counter?q=030-6101",
        ["counter-machine"] = "/counter?q=Haldrin+Skerry+19+2005",
        ["counter-kit"] = "/counter?q=VS30-070-R1&scope=full",
        ["counter-unknown"] = "/counter?q=no-such-thing-77",
        ["counter-looking"] = "/counter?look=yes",
        ["compare"] = "/compare?variant=VR20-055-R1&variant=VR20-055-R2",
        ["warehouse"] = "/warehouse",
        ["warehouse-pair"] = "/warehouse?scan=H-0041",
        ["warehouse-part"] = "/warehouse?scan=030-7110",
        ["receive"] = "/warehouse/receive?document=NOTE-1&scan=030-8101",
        ["move"] = "/warehouse/move?scan=H-0042",
        ["count"] = "/warehouse/count?scan=E-06",
        ["quarantine"] = "/warehouse/quarantine?scan=H-0041",
        ["scrap"] = "/warehouse/scrap?scan=030-8101",
        ["pull"] = "/warehouse/pull",
        ["labels"] = "/warehouse/labels?codes=P-H-0042%0A030-7110",
        ["quote"] = "/counter/quote?variant=VS30-070-R1&scope=full",
        ["start-job"] = "/counter/job?variants=VS30-070-R1&scope=full",
        ["take-in"] = "/counter/core?variant=VS30-070-R1",
        ["bench"] = "/bench",
        ["bench-findings"] = $"/bench?job={Job}&at=findings",
        ["bench-list"] = $"/bench?job={Job}&at=list",
        ["bench-fetch"] = $"/bench?job={Job}",
        ["bench-measure"] = $"/bench?job={Job}&at=measure&unit=H-0041",
        ["bench-pairs"] = $"/bench?job={Job}&at=pairs",
        ["bench-assemble"] = $"/bench?job={Job}&at=assemble",
        ["office"] = "/office",
        ["office-order"] = "/office/order",
        ["office-value"] = "/office/value?begin=TP-0100",
        ["office-prices"] = "/office/prices?begin=030-8101",
        ["office-choices"] = "/office/choices",
        ["office-import"] = "/office/import",
        ["office-people"] = "/office/people",
        ["office-tokens"] = "/office/tokens",
        ["office-audit"] = "/office/audit",
        ["office-api"] = "/office/explorer",
        ["office-api-type"] = "/office/explorer?type=KitAnswer",
        ["sign-in"] = "/sign-in",
    };

    /// <summary>Begins the job that some of the pages show.</summary>
    public static async Task Begin(WebApplication app)
    {
        await Do<StartJob.Command, JobActed>(app, new("pictures-1", Job, JobScope.Reseal, Exchange: true, Variants: ["VS30-070-R1"], CustomerReference: "Fenside 12"));
        await Do<RecordFindings.Command, JobActed>(app, new("pictures-2", Job, [new(4, Finding.Damaged, "lip torn"), new(11, Finding.Worn), new(5, Finding.Good)]));
        await using var scope = app.Services.CreateAsyncScope();
        var list = await scope.ServiceProvider.GetRequiredService<Dispatcher>().Ask<JobList.Query, JobList.Answer>(new(Job), Caller.CommandLine, default);
        await Do<AcceptList.Command, AcceptList.Answer>(app, new("pictures-3", Job, list.Result.Mark, "for the pictures"));
    }

    public static async Task Do<TAct, TAnswer>(WebApplication app, TAct act) where TAct : IAct<TAnswer> where TAnswer : notnull
    {
        var done = await app.Services.GetRequiredService<Dispatcher>().Send<TAct, TAnswer>(act, Caller.CommandLine, default);
        if (!done.Succeeded) throw new InvalidOperationException(done.Refusal.ToString());
    }
}
