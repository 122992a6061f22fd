using System.ComponentModel;
using GraphQL;

namespace PartsLedger.Fit;

// What honing would buy, as the API shows it.

[Name("HoningPlan")]
[Description("Which bores to enlarge, and by how much. A bore is measured again before it is believed.")]
public sealed class HoningPlanView(PlanHoning.Answer answer)
{
    [Description("The most further pairs, at the least cost; by the housing's tag.")]
    public IEnumerable<HonedPairView> Pairs => answer.Plan.Select(pair => new HonedPairView(pair));

    [Description("The least that one further pair costs, two, and so on: stop where the next is not worth it.")]
    public IReadOnlyList<decimal> LeastCost => answer.LeastCost;

    [Description("Valve sizes that the housings left over need, against those on hand.")]
    public IEnumerable<SizeClassView> Sizes => answer.Sizes.Select(size => new SizeClassView(size));
}

[Name("HonedPair")]
[Description("A pair that a honed bore makes possible.")]
public sealed class HonedPairView(PlanHoning.Honed pair)
{
    [Description("The housing's tag.")]
    public string Housing => pair.Housing;

    [Description("The valve's tag.")]
    public string Valve => pair.Valve;

    [Description("By how much to enlarge the bore, in micrometres.")]
    public decimal EnlargeUm => pair.EnlargeUm;

    [Description("What that costs.")]
    public decimal Cost => pair.Cost;

    [Description("The clearance once honed, in micrometres.")]
    public decimal ClearanceUm => pair.ClearanceUm;

    [Description("That clearance less the best one, in micrometres.")]
    public decimal DeviationUm => pair.DeviationUm;
}

[Name("SizeClass")]
[Description("A class of valve sizes.")]
public sealed class SizeClassView(PlanHoning.SizeClass size)
{
    [Description("Least size in it, in millimetres.")]
    public decimal FromMm => size.FromMm;

    [Description("Least size beyond it, in millimetres.")]
    public decimal BelowMm => size.BelowMm;

    [Description("Housings left over whose best valve is of such a size.")]
    public int Needed => size.Needed;

    [Description("Valves left over of such a size.")]
    public int OnHand => size.OnHand;

    [Description("How many are missing.")]
    public int ToOrder => size.ToOrder;
}
