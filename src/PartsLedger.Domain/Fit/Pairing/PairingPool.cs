namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>
/// The halves that are still free, each side sorted by size, then by the caller's order. All arrays of a side are parallel;
/// places in them are what the searches speak of.
/// </summary>
/// <remarks>
/// A half is an interval: a valve the range in which its size may truly lie, [size − guard, size + guard]; a housing the range of
/// sizes it takes, [size + guard − maximum, size − guard − minimum]. Both bounds of the clearance say the same as
/// housing.Low ≤ valve.Low and valve.High ≤ housing.High: a pair fits when the valve's interval lies within the housing's.
/// </remarks>
internal sealed class PairingPool
{
    public PairingPool(PairingQuestion question, bool[] housingTaken, bool[] valveTaken)
    {
        (Minimum, Target, Maximum) = (question.Problem.Minimum, question.Problem.Target, question.Problem.Maximum);
        Housings = PoolSide.Of(question.Housings, question.HousingClass, housingTaken);
        Valves = PoolSide.Of(question.Valves, question.ValveClass, valveTaken);
    }

    public long Minimum { get; }
    public long Target { get; }
    public long Maximum { get; }
    public PoolSide Housings { get; }
    public PoolSide Valves { get; }

    /// <summary>Size from which a housing takes valves, less what its own guard forbids.</summary>
    public long HousingLow(int housing) => Housings.Size[housing] + Housings.Guard[housing] - Maximum;

    public long HousingHigh(int housing) => Housings.Size[housing] - Housings.Guard[housing] - Minimum;
    public long ValveLow(int valve) => Valves.Size[valve] - Valves.Guard[valve];
    public long ValveHigh(int valve) => Valves.Size[valve] + Valves.Guard[valve];

    public bool ClassesAgree(int housing, int valve) => Housings.Class[housing] is var own && (own == 0 || own == Valves.Class[valve]);

    public bool Fits(int housing, int valve) =>
        HousingLow(housing) <= ValveLow(valve) && ValveHigh(valve) <= HousingHigh(housing) && ClassesAgree(housing, valve);

    /// <summary>Clearance less target, nm.</summary>
    public long Deviation(int housing, int valve) => Housings.Size[housing] - Valves.Size[valve] - Target;

    public UInt128 SquaredDeviation(int housing, int valve)
    {
        var deviation = (UInt128)Math.Abs(Deviation(housing, valve));
        return deviation * deviation;
    }
}
