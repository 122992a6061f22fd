namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>A problem that was checked, with its lists as arrays and the classes that housings count as, which reserves change.</summary>
internal sealed class PairingQuestion
{
    /// <exception cref="ArgumentException">A number or an index is out of its range.</exception>
    public PairingQuestion(PairingProblem problem)
    {
        Problem = problem;
        Housings = problem.Housings as LooseHalf[] ?? [.. problem.Housings];
        Valves = problem.Valves as LooseHalf[] ?? [.. problem.Valves];
        PairingCheck.Halves(Housings, "housing");
        PairingCheck.Halves(Valves, "valve");
        PairingCheck.Problem(problem);
        HousingClass = Array.ConvertAll(Housings, half => half.Class);
        ValveClass = Array.ConvertAll(Valves, half => half.Class);
    }

    public PairingProblem Problem { get; }
    public LooseHalf[] Housings { get; }
    public LooseHalf[] Valves { get; }
    public int[] HousingClass { get; }
    public int[] ValveClass { get; }
}
