namespace PartsLedger.Domain.Kits;

/// <summary>Counts what given quantities come to, from the problem alone: the answer's figures never rest on the search's own sums.</summary>
internal static class CoverAudit
{
    public static CoverSolution Describe(CoverProblem problem, IReadOnlyList<IReadOnlyList<long>> quantities, long nodes)
    {
        var covered = new Int128[problem.Demand.Count];
        var brought = new Int128[problem.Demand.Count];
        Int128 surplus = 0;
        long cost = 0, shortBy = 0, lines = 0;
        for (var at = 0; at < quantities.Count; at++)
        {
            var supply = problem.Supplies[at];
            var units = quantities[at].Sum();
            if (units == 0) continue;
            lines++;
            checked
            {
                cost += supply.UnitCost * units;
                shortBy += Math.Max(0, units - supply.InStock);
            }
            for (var mode = 0; mode < supply.Modes.Count; mode++)
            {
                Int128 times = quantities[at][mode];
                surplus += times * supply.Modes[mode].Unneeded;
                foreach (var cover in supply.Modes[mode].Covers) covered[cover.Item] += times * cover.Pieces;
                foreach (var bring in supply.Modes[mode].Brings) brought[bring.Item] += times * bring.Pieces;
            }
        }
        var uncovered = new long[problem.Demand.Count];
        for (var item = 0; item < uncovered.Length; item++)
        {
            uncovered[item] = (long)Int128.Max(0, problem.Demand[item] - covered[item]);
            surplus += Int128.Max(0, brought[item] - problem.Demand[item]);
        }
        return new(quantities, uncovered, new(checked(uncovered.Sum()), cost, shortBy, checked((long)surplus), lines), nodes);
    }
}
