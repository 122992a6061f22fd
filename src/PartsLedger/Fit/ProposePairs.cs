using PartsLedger.Domain.Fit.Conformity;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Fit;

/// <summary>
/// Which loose valve shall go into which loose housing: the greatest number of pairs that fit, and among those the least deviation from the
/// best clearance. A proposal changes nothing; matched pairs are not loose and stay as they are.
/// </summary>
public static class ProposePairs
{
    /// <param name="Class">Only valves of this class; null for every class, each housing then going where it helps most.</param>
    /// <param name="KeepTogether">Loose halves that came out of one core and still fit are proposed to each other first.</param>
    /// <param name="First">Classes whose jobs are served before the rest, the most urgent first. Never costs a pair.</param>
    /// <param name="Reserve">Housings kept for a class's valves.</param>
    [AllowedToEveryone]
    [Heavy]
    public sealed record Query(
        string Family, string? Class = null, bool KeepTogether = false, IReadOnlyList<ClassPieces>? First = null, IReadOnlyList<ClassPieces>? Reserve = null)
        : IQuery<Answer>;

    public sealed record ClassPieces(string Class, int Pieces);

    /// <param name="ClearanceUm">At 20 °C, in micrometres.</param>
    /// <param name="DeviationUm">Clearance less target.</param>
    public sealed record Pair(string Housing, string Valve, decimal ClearanceUm, decimal DeviationUm);

    public sealed record Unpaired(string Tag, string Why);

    /// <summary>The proposal as the contract shows it.</summary>
    public sealed record Shown(
        string Family, string? Class, IReadOnlyList<Pair> Pairs, int Count, decimal SumSquaredDeviationUm2, IReadOnlyList<Unpaired> UnpairedHousings,
        IReadOnlyList<Unpaired> UnpairedValves);

    /// <param name="IsLeast">The sum of squared deviations is proved the least; else it is at least <paramref name="LeastSumUm2"/>.</param>
    /// <param name="Warnings">What to know of the gauges.</param>
    /// <param name="Factor">The guard factor it was found with.</param>
    /// <param name="Halves">The two of each pair, in the same order.</param>
    /// <param name="Left">What is left over and could be paired.</param>
    public sealed record Answer(
        Shown Shown, bool IsLeast, decimal LeastSumUm2, IReadOnlyList<string> Warnings, FamilyFit Family, GuardFactor Factor, IReadOnlyList<(SizedUnit Housing, SizedUnit Valve)> Halves,
        IReadOnlyList<SizedUnit> Left);

    public sealed class Handler(PairingDesk desk) : IQueryHandler<Query, Answer>
    {
        public Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation) => desk.Propose(query, cancellation);
    }
}
