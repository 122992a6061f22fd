namespace PartsLedger.Domain.Identification;

/// <summary>
/// How well an application answers free text, and why. Ordered best first: by <see cref="Penalty"/>, then by how few of the model's words
/// were left unsaid, then by make, model, option and years, ordinally.
/// </summary>
/// <param name="Penalty">0 when every word was found as written and the year, if any was given, lies in the range.</param>
/// <param name="Unsaid">Words of the model that the text does not have.</param>
/// <param name="Why">A part of a sentence; says how each word that was not found as written was read, and what the years say.</param>
public sealed record MachineMatch(MachineApplication Application, int Penalty, int Unsaid, string Why) : IComparable<MachineMatch>
{
    public bool IsExact => Penalty == 0;

    public int CompareTo(MachineMatch? other)
    {
        if (other is null) return 1;
        var (mine, others) = (Application, other.Application);
        var order = (Penalty, Unsaid).CompareTo((other.Penalty, other.Unsaid));
        if (order == 0) order = string.CompareOrdinal(mine.Make, others.Make);
        if (order == 0) order = string.CompareOrdinal(mine.Model, others.Model);
        if (order == 0) order = string.CompareOrdinal(mine.Option, others.Option);
        return order != 0 ? order : (mine.YearFrom ?? 0, mine.YearTo ?? int.MaxValue).CompareTo((others.YearFrom ?? 0, others.YearTo ?? int.MaxValue));
    }

    public static bool operator <(MachineMatch left, MachineMatch right) => Comparer<MachineMatch>.Default.Compare(left, right) < 0;
    public static bool operator >(MachineMatch left, MachineMatch right) => Comparer<MachineMatch>.Default.Compare(left, right) > 0;
    public static bool operator <=(MachineMatch left, MachineMatch right) => Comparer<MachineMatch>.Default.Compare(left, right) <= 0;
    public static bool operator >=(MachineMatch left, MachineMatch right) => Comparer<MachineMatch>.Default.Compare(left, right) >= 0;
}
