namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>How good a proposal is proved to be.</summary>
public enum PairingStatus
{
    /// <summary>The greatest number of pairs and, among those, the least sum of squared deviations.</summary>
    Optimal,

    /// <summary>The greatest number of pairs; the sum of squared deviations may be above the least, but not below the stated bound.</summary>
    GreatestNumber,
}

/// <summary>The proposal for a <see cref="PairingProblem"/>.</summary>
/// <param name="Pairs">In the order of the housings.</param>
/// <param name="SumSquaredDeviation">Of all pairs, those kept together included, nm².</param>
/// <param name="LeastSumBound">
/// No proposal with as many pairs and the same pairs kept together has a smaller sum, nm². Equals the sum when the answer is optimal.
/// </param>
/// <param name="Served">Pairs that each of the jobs served first gets, in the problem's order.</param>
/// <param name="ReservedHousings">Which housings are kept for which class, in the order in which they were chosen.</param>
public sealed record PairingAnswer(
    PairingStatus Status, IReadOnlyList<ProposedPair> Pairs, UInt128 SumSquaredDeviation, UInt128 LeastSumBound, IReadOnlyList<int> Served,
    IReadOnlyList<(int Housing, int Class)> ReservedHousings)
{
    public int Count => Pairs.Count;
}

/// <param name="Housing">0-based place in <see cref="PairingProblem.Housings"/>.</param>
/// <param name="Valve">0-based place in <see cref="PairingProblem.Valves"/>.</param>
/// <param name="Clearance">Housing's size less the valve's, nm.</param>
/// <param name="Deviation">Clearance less target, nm.</param>
/// <param name="CameTogether">Whether it is a pair that came in together and was kept.</param>
public readonly record struct ProposedPair(int Housing, int Valve, long Clearance, long Deviation, bool CameTogether);
