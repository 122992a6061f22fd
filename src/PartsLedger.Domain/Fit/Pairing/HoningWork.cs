namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>Which valves could go into which bores once honed, valve by valve, with the least cost of it.</summary>
internal sealed class HoningWork
{
    private readonly HoningProblem _problem;
    private readonly int[] _cheapestFirst;

    private HoningWork(HoningProblem problem)
    {
        _problem = problem;
        _cheapestFirst = [.. Enumerable.Range(0, problem.Steps.Count)
            .OrderBy(step => problem.Steps[step].Cost).ThenBy(step => problem.Steps[step].Enlarges)];
    }

    public int[] Start { get; private set; } = [];
    public int[] Housings { get; private set; } = [];
    public long[] Costs { get; private set; } = [];

    public static HoningWork Of(HoningProblem problem)
    {
        var work = new HoningWork(problem) { Start = new int[problem.Valves.Count + 1] };
        var (housings, costs) = (new List<int>(), new List<long>());
        for (var valve = 0; valve < problem.Valves.Count; valve++)
        {
            for (var housing = 0; housing < problem.Housings.Count; housing++)
                if (work.CheapestStep(housing, valve) is { } step)
                {
                    housings.Add(housing);
                    costs.Add(problem.Steps[step].Cost);
                }
            work.Start[valve + 1] = housings.Count;
        }
        (work.Housings, work.Costs) = ([.. housings], [.. costs]);
        return work;
    }

    /// <summary>The cheapest step after which the pair fits; of equally cheap ones the one that comes nearest to the target, then the smaller.</summary>
    public int? CheapestStep(int housing, int valve)
    {
        var (bore, spool) = (_problem.Housings[housing], _problem.Valves[valve]);
        if (bore.Class != 0 && bore.Class != spool.Class) return null;
        var (clearance, guards) = (bore.Size - spool.Size, bore.Guard + spool.Guard);
        var (least, greatest) = (_problem.Minimum + guards - clearance, _problem.Maximum - guards - clearance);
        int? best = null;
        foreach (var step in _cheapestFirst)
        {
            var (enlarges, cost) = _problem.Steps[step];
            if (best is { } found && cost > _problem.Steps[found].Cost) break;
            if (enlarges < least || enlarges > greatest) continue;
            if (best is not { } nearest || Off(enlarges) < Off(_problem.Steps[nearest].Enlarges)) best = step;
        }
        return best;

        long Off(long enlarges) => Math.Abs(clearance + enlarges - _problem.Target);
    }
}
