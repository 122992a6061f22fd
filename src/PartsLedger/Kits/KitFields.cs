using System.ComponentModel;
using GraphQL;
using PartsLedger.Domain.Kits;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;

namespace PartsLedger.Kits;

/// <summary>What the API can be asked about kits.</summary>
public sealed class KitFields
{
    private KitFields() { }

    [Description("What kit a job needs: the best complete list that can be had, with the reason for every line and for everything that cannot be covered. "
        + "The maker's service information, local codes and licensed practice come first. "
        + "An unknown variant or position is an error that names the nearest known ones.")]
    public static async Task<KitAnswerView> KitFor([FromServices] Asking asking,
        [Description("The variant's code; case and spare spaces do not matter.")] string variant,
        [Description("How far the job goes.")] JobScope scope,
        [Description("Position numbers found worn, renewed besides what the scope renews; order and repeats do not matter.")] IReadOnlyList<int>? worn = null,
        [Description("Which comes first when a complete kit can be had in several ways; COST when left out.")] KitPreference? prefer = null,
        CancellationToken cancellation = default) =>
        new(await asking.Answer<KitFor.Query, KitAnswer>(new(variant, scope, worn ?? [], prefer ?? KitPreference.Cost), cancellation));

    [Description("The cheapest list that holds everything the job needs whichever of two to sixteen variants the pump turns out to be, what that costs beyond "
        + "each one's own kit, and what comes back to stock afterwards.")]
    public static async Task<CoveringKitView> KitForAny([FromServices] Asking asking,
        [Description("The variants' codes.")] IReadOnlyList<string> variants,
        [Description("How far the job goes.")] JobScope scope,
        CancellationToken cancellation = default) =>
        new(await asking.Answer<KitForAny.Query, CoveringKit>(new(variants, scope), cancellation));
}
