namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>The pairs that came in together and still fit: taken first.</summary>
internal sealed class KeptPairs
{
    private readonly Dictionary<int, int> _ofClass = [];

    public KeptPairs(PairingQuestion question)
    {
        var problem = question.Problem;
        HousingTaken = new bool[question.Housings.Length];
        ValveTaken = new bool[question.Valves.Length];
        foreach (var (housing, valve) in problem.KeepTogether)
        {
            if (!Fits(problem, question.Housings[housing], question.Valves[valve])) continue;
            (HousingTaken[housing], ValveTaken[valve]) = (true, true);
            Pairs.Add((housing, valve));
            var of = question.Valves[valve].Class;
            _ofClass[of] = _ofClass.GetValueOrDefault(of) + 1;
        }
    }

    public bool[] HousingTaken { get; }
    public bool[] ValveTaken { get; }
    public List<(int Housing, int Valve)> Pairs { get; } = [];

    /// <summary>How many pairs kept together serve each job, the earlier jobs first.</summary>
    public IReadOnlyList<int> Served(IReadOnlyList<ClassDemand> demands)
    {
        var left = new Dictionary<int, int>(_ofClass);
        var served = new int[demands.Count];
        for (var demand = 0; demand < demands.Count; demand++)
        {
            var of = demands[demand].Class;
            served[demand] = Math.Min(demands[demand].Pairs, left.GetValueOrDefault(of));
            left[of] = left.GetValueOrDefault(of) - served[demand];
        }
        return served;
    }

    /// <summary>What the jobs want beyond the pairs kept together.</summary>
    public IReadOnlyList<ClassDemand> StillWanted(IReadOnlyList<ClassDemand> demands)
    {
        var served = Served(demands);
        return [.. demands.Select((demand, place) => demand with { Pairs = demand.Pairs - served[place] })];
    }

    private static bool Fits(PairingProblem problem, LooseHalf housing, LooseHalf valve)
    {
        var (clearance, guards) = (housing.Size - valve.Size, housing.Guard + valve.Guard);
        return problem.Minimum + guards <= clearance && clearance <= problem.Maximum - guards && (housing.Class == 0 || housing.Class == valve.Class);
    }
}
