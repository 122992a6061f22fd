namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>
/// Which valve shall go into which housing, in whole nanometres. A pair fits when
/// minimum + both guards ≤ housing's size − valve's size ≤ maximum − both guards, and its classes agree.
/// </summary>
/// <param name="Housings">In the order that breaks ties: the caller makes it canonical, then the answer is too.</param>
/// <param name="Valves">In the order that breaks ties, like the housings.</param>
/// <param name="Minimum">Least clearance, nm.</param>
/// <param name="Target">Best clearance, nm; from <paramref name="Minimum"/> to <paramref name="Maximum"/>.</param>
/// <param name="Maximum">Greatest clearance, nm.</param>
public sealed record PairingProblem(IReadOnlyList<LooseHalf> Housings, IReadOnlyList<LooseHalf> Valves, long Minimum, long Target, long Maximum)
{
    /// <summary>
    /// Pairs that came in together. Those that still fit are taken first and are out of the pool; the others' halves are in it.
    /// Each half at most once.
    /// </summary>
    public IReadOnlyList<(int Housing, int Valve)> KeepTogether { get; init; } = [];

    /// <summary>
    /// Jobs to be served first, the most urgent first: each gets as many pairs as it wants and as can be had beside the earlier ones.
    /// Pairs kept together count towards them. This never lowers the number of pairs (see <see cref="GreatestNumber"/>).
    /// </summary>
    public IReadOnlyList<ClassDemand> ServeFirst { get; init; } = [];

    /// <summary>Housings without a class that are kept for a class's valves and given to no other, in the order in which they are chosen.</summary>
    public IReadOnlyList<ClassReserve> Reserve { get; init; } = [];
}

/// <summary>One loose half, measured.</summary>
/// <param name="Size">Size at 20 °C in nm, within ± <see cref="PairingLimits.Length"/>.</param>
/// <param name="Guard">By how much the size may be off (half the form plus the gauge's expanded uncertainty), nm; zero or more.</param>
/// <param name="Class">
/// The pressure class, by any number the caller gives it; 0 for none. A housing without a class takes any valve, a housing with one
/// only valves of that class.
/// </param>
public readonly record struct LooseHalf(long Size, long Guard, int Class = 0);

/// <param name="Class">The class of the valves that the jobs need.</param>
/// <param name="Pairs">How many pairs they need; zero or more.</param>
public readonly record struct ClassDemand(int Class, int Pairs);

/// <param name="Class">The class, not 0.</param>
/// <param name="Housings">
/// How many housings without a class are kept for it, besides those that are of the class; zero or more. See <see cref="ReservedHousings"/>.
/// </param>
public readonly record struct ClassReserve(int Class, int Housings);

/// <summary>What a <see cref="PairingProblem"/> may hold.</summary>
public static class PairingLimits
{
    /// <summary>Greatest size, guard and clearance, either way: a kilometre, in nm. Squares of differences have room in 128 bits.</summary>
    public const long Length = 1_000_000_000_000;

    /// <summary>Up to this many halves a side the least deviation is exact whatever the guards and classes.</summary>
    public const int ExactSide = 2_000;
}
