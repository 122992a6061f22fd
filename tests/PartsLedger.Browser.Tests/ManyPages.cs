namespace PartsLedger.Browser.Tests;

/// <summary>Every page of the program in its usual states, with the invented shop's data.</summary>
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
        ["compare"] = "/compare?variant=VR20-055-R1&variant=VR20-055-R2",
        ["warehouse"] = "/warehouse",
        ["warehouse-pair"] = "/warehouse?scan=H-0041",
        ["warehouse-part"] = "/warehouse?scan=030-7110",
        ["receive"] = "/warehouse/receive?document=NOTE-1&scan=030-8101",
        ["move"] = "/warehouse/move?scan=H-0042",
        ["count"] = "/warehouse/count?scan=E-06",
        ["pull"] = "/warehouse/pull",
        ["labels"] = "/warehouse/labels?codes=P-H-0042%0A030-7110",
        ["quote"] = "/counter/quote?variant=VS30-070-R1&scope=full",
        ["start-job"] = "/counter/job?variants=VS30-070-R1&scope=full",
        ["take-in"] = "/counter/core?variant=VS30-070-R1",
        ["bench"] = "/bench",
        ["bench-findings"] = $"/bench?job={Job}&at=findings",
        ["bench-fetch"] = $"/bench?job={Job}",
        ["bench-pairs"] = $"/bench?job={Job}&at=pairs",
        ["bench-assemble"] = $"/bench?job={Job}&at=assemble",
        ["office"] = "/office",
        ["office-order"] = "/office/order",
        ["office-value"] = "/office/value?begin=TP-0100",
        ["office-choices"] = "/office/choices",
        ["office-import"] = "/office/import",
        ["office-people"] = "/office/people",
        ["office-tokens"] = "/office/tokens",
        ["office-audit"] = "/office/audit",
        ["office-api"] = "/office/explorer",
        ["office-api-type"] = "/office/explorer?type=KitAnswer",
        ["sign-in"] = "/sign-in",
    };

    public static TheoryData<string> Names => [.. All.Keys];
}
