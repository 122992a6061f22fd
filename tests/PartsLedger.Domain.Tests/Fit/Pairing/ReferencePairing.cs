using Google.OrTools.Graph;
using PartsLedger.Domain.Fit.Pairing;

namespace PartsLedger.Domain.Tests.Fit.Pairing;

/// <summary>
/// The pairing question as one min-cost flow: the shop sends units to jobs or straight to classes, on to valves, housings and out. Each
/// aim pays so much that one unit of it outweighs everything less important. For small problems without pairs kept together or reserves.
/// </summary>
internal static class ReferencePairing
{
    internal sealed record Best(int Count, long Sum, int[] Served);

    public static Best Of(PairingProblem problem)
    {
        int[] classes = [.. problem.Valves.Select(half => half.Class).Concat(problem.ServeFirst.Select(demand => demand.Class)).Distinct()];
        var (shop, door) = (0, 1);
        int ClassNode(int of) => 2 + Array.IndexOf(classes, of);
        int ValveNode(int valve) => 2 + classes.Length + valve;
        int HousingNode(int housing) => 2 + classes.Length + problem.Valves.Count + housing;

        var widest = Math.Max(problem.Maximum - problem.Target, problem.Target - problem.Minimum);
        var most = problem.Valves.Count + 1L;
        var pays = widest * widest * most + 1;
        var forCount = pays;
        var forServed = new long[problem.ServeFirst.Count];
        for (var demand = forServed.Length - 1; demand >= 0; demand--) forServed[demand] = pays = checked(pays * (most + 1));

        var flow = new MinCostFlow();
        var demandArcs = problem.ServeFirst
            .Select((demand, place) => flow.AddArcWithCapacityAndUnitCost(shop, ClassNode(demand.Class), demand.Pairs, -forServed[place])).ToArray();
        foreach (var of in classes) flow.AddArcWithCapacityAndUnitCost(shop, ClassNode(of), problem.Valves.Count, -forCount);
        var pairArcs = new List<(int Arc, long Squared)>();
        for (var valve = 0; valve < problem.Valves.Count; valve++)
        {
            flow.AddArcWithCapacityAndUnitCost(ClassNode(problem.Valves[valve].Class), ValveNode(valve), 1, 0);
            for (var housing = 0; housing < problem.Housings.Count; housing++)
            {
                var (bore, spool) = (problem.Housings[housing], problem.Valves[valve]);
                if (bore.Class != 0 && bore.Class != spool.Class) continue;
                if (bore.Size - bore.Guard - spool.Size - spool.Guard < problem.Minimum) continue;
                if (bore.Size + bore.Guard - spool.Size + spool.Guard > problem.Maximum) continue;
                var deviation = bore.Size - spool.Size - problem.Target;
                var arc = flow.AddArcWithCapacityAndUnitCost(ValveNode(valve), HousingNode(housing), 1, deviation * deviation);
                pairArcs.Add((arc, deviation * deviation));
            }
        }
        for (var housing = 0; housing < problem.Housings.Count; housing++) flow.AddArcWithCapacityAndUnitCost(HousingNode(housing), door, 1, 0);
        flow.AddArcWithCapacityAndUnitCost(shop, door, problem.Valves.Count, 0);
        flow.SetNodeSupply(shop, problem.Valves.Count);
        flow.SetNodeSupply(door, -problem.Valves.Count);
        Assert.Equal(MinCostFlow.Status.OPTIMAL, flow.Solve());
        return new(
            pairArcs.Count(arc => flow.Flow(arc.Arc) == 1), pairArcs.Where(arc => flow.Flow(arc.Arc) == 1).Sum(arc => arc.Squared),
            [.. demandArcs.Select(arc => (int)flow.Flow(arc))]);
    }
}
