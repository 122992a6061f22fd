using Google.OrTools.Sat;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Tests.Kits.Reference;

/// <summary>
/// The kit question as the plainest integer program there is, solved by a constraint solver one aim after the other: the optimum of
/// each aim becomes a constraint of the next. It gives only the measure of the best answer; any list may have it.
/// </summary>
internal sealed class ReferenceKitSolver
{
    private readonly CpModel _model = new();
    private readonly Dictionary<Aim, LinearExpr> _totals;

    /// <summary>What the latest solution found comes to, aim by aim.</summary>
    private Dictionary<Aim, long>? _latest;

    private ReferenceKitSolver(
        IReadOnlyDictionary<PartNumber, Quantity> demand, IReadOnlyList<ReferenceSupply> supplies, IReadOnlyDictionary<string, long> exactly)
    {
        List<LinearExpr> uncovered = [], cost = [], shorts = [], surplus = [], lines = [];
        var covered = demand.Keys.ToDictionary(item => item, _ => new List<LinearExpr>());
        var fromPacks = demand.Keys.ToDictionary(item => item, _ => new List<LinearExpr>());
        foreach (var supply in supplies)
        {
            var used = new List<LinearExpr>();
            var most = 0L;
            foreach (var way in supply.Ways)
            {
                var bound = Math.Min(supply.Limit ?? long.MaxValue, MostUseful(way, demand));
                var pieces = _model.NewIntVar(0, bound, "");
                most += bound;
                used.Add(pieces);
                foreach (var (item, each) in way.Covers) covered[item].Add(pieces * each);
                if (supply.CountsSurplus)
                    foreach (var (part, each) in way.Brings)
                        (demand.ContainsKey(part) ? fromPacks[part] : surplus).Add(pieces * each);
            }
            var quantity = LinearExpr.Sum(used);
            if (supply.Limit is { } limit) _model.Add(quantity <= limit);
            if (exactly.TryGetValue(supply.Name, out var times)) _model.Add(quantity == times);
            var isUsed = _model.NewBoolVar("");
            _model.Add(quantity <= isUsed * most);
            lines.Add(isUsed);
            cost.Add(quantity * supply.CostTenThousandths);
            var ordered = _model.NewIntVar(0, most, "");
            _model.Add(ordered >= quantity - supply.Available);
            shorts.Add(ordered);
        }
        foreach (var (item, quantity) in demand)
        {
            var missing = _model.NewIntVar(0, quantity.Thousandths, "");
            _model.Add(missing >= quantity.Thousandths - LinearExpr.Sum(covered[item]));
            uncovered.Add(missing);
            if (fromPacks[item].Count == 0) continue;
            var beyond = _model.NewIntVar(0, long.MaxValue / 1_000_000, "");
            _model.Add(beyond >= LinearExpr.Sum(fromPacks[item]) - quantity.Thousandths);
            surplus.Add(beyond);
        }
        _totals = new()
        {
            [Aim.Uncovered] = LinearExpr.Sum(uncovered), [Aim.Cost] = LinearExpr.Sum(cost), [Aim.Short] = LinearExpr.Sum(shorts),
            [Aim.Surplus] = LinearExpr.Sum(surplus), [Aim.Lines] = LinearExpr.Sum(lines),
        };
    }

    public static KitObjective Best(KitCatalogue catalogue, KitQuestion question) =>
        Best(catalogue, question, new Dictionary<string, long>()) ?? throw new InvalidOperationException("Without a condition there is always a list.");

    /// <param name="exactly">Of what is named here, so many pieces are used: no more, no fewer.</param>
    /// <returns>Null where no list keeps to that.</returns>
    public static KitObjective? Best(KitCatalogue catalogue, KitQuestion question, IReadOnlyDictionary<string, long> exactly)
    {
        var demand = ReferenceDemand.Of(catalogue, question);
        var supplies = ReferenceSupplies.Of(catalogue, demand).ToList();
        return exactly.Any(one => one.Value > 0 && !supplies.Exists(supply => supply.Name == one.Key)) ? null
            : new ReferenceKitSolver(demand, supplies, exactly).Best(question.Prefer);
    }

    private KitObjective? Best(KitPreference prefer)
    {
        Aim[] inOrder = prefer == KitPreference.Cost
            ? [Aim.Uncovered, Aim.Cost, Aim.Short, Aim.Surplus, Aim.Lines]
            : [Aim.Uncovered, Aim.Short, Aim.Cost, Aim.Surplus, Aim.Lines];
        var best = new Dictionary<Aim, long>();
        foreach (var aim in inOrder)
        {
            if (Least(aim) is not { } least) return null;
            best[aim] = least;
        }
        return new(best[Aim.Uncovered], best[Aim.Cost], best[Aim.Short], best[Aim.Surplus], best[Aim.Lines]);
    }

    /// <summary>The least the aim can be with every earlier aim at its best; from here on it stays there. Null where there is no list at all.</summary>
    private long? Least(Aim aim)
    {
        // Nothing can be less than nothing: a solution at hand that has none of it needs no further proof.
        if (_latest is null || _latest[aim] > 0) _latest = Solved(aim);
        if (_latest is null) return null;
        _model.Add(_totals[aim] == _latest[aim]);
        return _latest[aim];
    }

    private Dictionary<Aim, long>? Solved(Aim aim)
    {
        _model.Minimize(_totals[aim]);
        using var solver = new CpSolver { StringParameters = "num_workers:1" };
        var status = solver.Solve(_model);
        if (status == CpSolverStatus.Infeasible) return null;
        if (status != CpSolverStatus.Optimal) throw new InvalidOperationException($"The reference ended as {status}.");
        return _totals.ToDictionary(total => total.Key, total => solver.Value(total.Value));
    }

    /// <summary>One more piece than this brings nothing that is still needed, whatever else is used.</summary>
    private static long MostUseful(ReferenceWay way, IReadOnlyDictionary<PartNumber, Quantity> demand) =>
        way.Covers.Count == 0 ? 0 : way.Covers.Max(covers => (demand[covers.Key].Thousandths + covers.Value - 1) / covers.Value);

    private enum Aim { Uncovered, Cost, Short, Surplus, Lines }
}
