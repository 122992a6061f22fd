using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Fit.Pairing;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Fit;

/// <summary>
/// What honing would buy: of the halves that no proposed pair takes, which bores to enlarge by how much so that the most further pairs come
/// together at the least cost; and which valve sizes to order, against those on hand. Changes nothing.
/// </summary>
public static class PlanHoning
{
    /// <summary>A thousand steps of it are still far within what the solver adds up.</summary>
    public const int LargestCost = 10_000;

    /// <param name="StepUm">By how much one step enlarges a bore, 0.001 to 1000 µm.</param>
    /// <param name="LimitUm">The most a bore may be enlarged in all.</param>
    /// <param name="CostPerStep">In any unit: minutes or money, 0 to <see cref="LargestCost"/>.</param>
    /// <param name="BinUm">Width of the size classes of the order list, 0.001 to 1000 µm.</param>
    [AllowedToEveryone]
    [Heavy]
    public sealed record Query(string Family, string? Class, decimal StepUm, decimal LimitUm, decimal CostPerStep = 1, decimal BinUm = 2) : IQuery<Answer>;

    /// <param name="LeastCost">The least that one further pair costs, two, and so on to the most there can be.</param>
    public sealed record Answer(IReadOnlyList<Honed> Plan, IReadOnlyList<decimal> LeastCost, IReadOnlyList<SizeClass> Sizes);

    /// <param name="EnlargeUm">Of the bore, in all. Measure it again before it is believed.</param>
    public sealed record Honed(string Housing, string Valve, decimal EnlargeUm, decimal Cost, decimal ClearanceUm, decimal DeviationUm);

    /// <param name="FromMm">Least size in the class.</param>
    /// <param name="BelowMm">Least size beyond it.</param>
    public sealed record SizeClass(decimal FromMm, decimal BelowMm, int Needed, int OnHand, int ToOrder);

    public sealed class Handler(PairingDesk desk) : IQueryHandler<Query, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            if (Unusable(query) is { } refusal) return refusal;
            var proposed = await desk.Propose(new ProposePairs.Query(query.Family, query.Class), cancellation);
            if (!proposed.Succeeded) return proposed.Refusal;
            var (limits, left) = (proposed.Result.Family.Limits.Result, proposed.Result.Left);
            var housings = left.Where(unit => unit.Role == UnitRole.Housing).ToList();
            var valves = left.Where(unit => unit.Role == UnitRole.Valve).ToList();
            if (Math.Max(housings.Count, valves.Count) > PairingLimits.ExactSide)
                return new Refusal("TOO_MANY_HALVES", $"Honing is planned for up to {PairingLimits.ExactSide} halves a side that are left over; there are more.", "Ask for one pressure class.");

            var factor = proposed.Result.Factor;
            var (bores, spools) = (housings.ConvertAll(unit => unit.Loose(factor)), valves.ConvertAll(unit => unit.Loose(factor)));
            var cost = (long)decimal.Round(query.CostPerStep * Money.PerUnit);
            var plan = HoningPlanner.Plan(new HoningProblem(bores, spools, HalfNanometres.Of(limits.Min), HalfNanometres.Of(limits.Target), HalfNanometres.Of(limits.Max),
                HoningStep.Every(HalfNanometres.OfMicrometres(query.StepUm), HalfNanometres.OfMicrometres(query.LimitUm), cost)), cancellation: cancellation);
            return new Answer(
                [.. plan.Pairs.Select(pair => new Honed(housings[pair.Housing].Tag, valves[pair.Valve].Tag, HalfNanometres.ToMicrometres(pair.Step.Enlarges), Units(pair.Step.Cost),
                    HalfNanometres.ToMicrometres(pair.Clearance), HalfNanometres.ToMicrometres(pair.Deviation)))],
                [.. plan.LeastCost.Select(Units)],
                [.. SizesToOrder.Of(bores, spools, HalfNanometres.Of(limits.Target), HalfNanometres.OfMicrometres(query.BinUm)).Select(bin =>
                    new SizeClass(HalfNanometres.ToMicrometres(bin.From) / 1000, HalfNanometres.ToMicrometres(bin.Below) / 1000, bin.Needed, bin.OnHand, bin.ToOrder))]);
        }

        private static Refusal? Unusable(Query query)
        {
            if (query.StepUm is < 0.001m or > 1000 || query.LimitUm < query.StepUm || query.LimitUm > 1000 || query.LimitUm / query.StepUm > 1000)
                return new Refusal("HONING_STEPS", $"Steps of {query.StepUm} µm up to {query.LimitUm} µm cannot be planned.", "Give a step of 0.001 µm or more and a limit of 1 to 1000 steps, at most 1000 µm.");
            if (query.CostPerStep is < 0 or > LargestCost) return new Refusal("COST_OUT_OF_RANGE", $"A step cannot cost {query.CostPerStep}.", $"Give 0 to {LargestCost}, in minutes or money.");
            return query.BinUm is < 0.001m or > 1000 ? new Refusal("BIN_WIDTH", $"Sizes cannot be sorted by {query.BinUm} µm.", "Give a width above 0, such as 2 µm.") : null;
        }

        private static decimal Units(long tenThousandths) => (decimal)tenThousandths / Money.PerUnit;
    }
}
