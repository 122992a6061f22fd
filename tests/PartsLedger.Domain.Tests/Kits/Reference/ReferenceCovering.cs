using Google.OrTools.Sat;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;

namespace PartsLedger.Domain.Tests.Kits.Reference;

/// <summary>
/// The list for several variants as the plainest integer program there is: pieces of every supply once, and for each variant by itself some
/// way of using them that covers all it needs. Only for variants each of which can be covered.
/// </summary>
internal static class ReferenceCovering
{
    /// <summary>The least cost, in ten-thousandths, and the fewest pieces short at that cost.</summary>
    public static (long Cost, long Short) Best(IReadOnlyList<KitCatalogue> catalogues, JobScope scope)
    {
        var model = new CpModel();
        var pieces = new Dictionary<string, (IntVar Count, ReferenceSupply Supply)>(StringComparer.Ordinal);
        foreach (var catalogue in catalogues)
        {
            var demand = ReferenceDemand.Of(catalogue, new KitQuestion(catalogue.Variant.Code, scope, []));
            var covered = demand.Keys.ToDictionary(item => item, _ => new List<LinearExpr>());
            foreach (var supply in ReferenceSupplies.Of(catalogue, demand))
            {
                if (!pieces.TryGetValue(supply.Name, out var known))
                    pieces.Add(supply.Name, known = (model.NewIntVar(0, Math.Min(supply.Limit ?? 1_000, 1_000), supply.Name), supply));
                var used = new List<LinearExpr>();
                foreach (var way in supply.Ways)
                {
                    var so = model.NewIntVar(0, 1_000, "");
                    used.Add(so);
                    foreach (var (item, each) in way.Covers) covered[item].Add(so * each);
                }
                model.Add(LinearExpr.Sum(used) <= known.Count);
            }
            foreach (var (item, wanted) in demand) model.Add(LinearExpr.Sum(covered[item]) >= wanted.Thousandths);
        }
        var cost = LinearExpr.Sum(pieces.Values.Select(entry => entry.Count * entry.Supply.CostTenThousandths));
        var shorts = new List<LinearExpr>();
        foreach (var (count, supply) in pieces.Values)
        {
            var ordered = model.NewIntVar(0, 1_000, "");
            model.Add(ordered >= count - supply.Available);
            shorts.Add(ordered);
        }
        var least = Least(model, cost);
        model.Add(cost == least);
        return (least, Least(model, LinearExpr.Sum(shorts)));
    }

    private static long Least(CpModel model, LinearExpr total)
    {
        model.Minimize(total);
        using var solver = new CpSolver { StringParameters = "num_workers:1" };
        var status = solver.Solve(model);
        return status == CpSolverStatus.Optimal ? solver.Value(total) : throw new InvalidOperationException($"The reference ended as {status}.");
    }
}
