namespace PartsLedger.Domain.Identification;

/// <summary>How a stored number answers a typed one, best first.</summary>
public enum NumberMatchKind
{
    /// <summary>The same canonical form. Nothing else is ever exact.</summary>
    Exact,

    /// <summary>The same but for zeros in front.</summary>
    LeadingZeros,

    /// <summary>The same when letters that look like digits are read as these.</summary>
    LookAlike,

    /// <summary>One has a letter at its end that the other lacks.</summary>
    SuffixLetter,

    /// <summary>One has a letter at its front that the other lacks.</summary>
    PrefixLetter,

    /// <summary>Two neighbours changed places.</summary>
    Swapped,

    /// <summary>The typed number lacks a character.</summary>
    MissingCharacter,

    /// <summary>The typed number has a character too many.</summary>
    ExtraCharacter,

    /// <summary>One character is another.</summary>
    ChangedCharacter,

    /// <summary>Further apart than one slip.</summary>
    None,
}

/// <summary>
/// How well a stored number answers a query, and why. Ordered best first: exact; one kind of difference in the order of
/// <see cref="NumberMatchKind"/>; then two and three kinds together (a slip, look-alikes, leading zeros); equals by stored number, ordinally.
/// </summary>
/// <param name="Stored">The stored number's canonical form.</param>
/// <param name="Kind">The slip where there was one, else look-alikes, else leading zeros.</param>
/// <param name="WithLookAlikes">Look-alikes were read as each other (besides a slip, if there was one).</param>
/// <param name="WithLeadingZeros">Leading zeros were dropped or put in (besides anything else).</param>
/// <param name="Why">A part of a sentence: <c>letter O read as zero, without its leading zeros</c>. Places count from 1 in the canonical form.</param>
public sealed record NumberMatch(string Stored, NumberMatchKind Kind, bool WithLookAlikes, bool WithLeadingZeros, string Why)
    : IComparable<NumberMatch>
{
    public bool IsExact => Kind == NumberMatchKind.Exact;

    public bool IsMatch => Kind != NumberMatchKind.None;

    /// <summary>Lower is better; 0 is exact and nothing else is. Equal ranks are told apart by <see cref="CompareTo"/>.</summary>
    public int Rank => Kind switch
    {
        NumberMatchKind.Exact => 0,
        NumberMatchKind.None => int.MaxValue,
        _ => 100 * Differences + 10 * (int)Kind + (IsSlip && WithLookAlikes ? 1 : 0),
    };

    private bool IsSlip => Kind is > NumberMatchKind.LookAlike and < NumberMatchKind.None;

    private int Differences => (IsSlip ? 1 : 0) + (WithLookAlikes ? 1 : 0) + (WithLeadingZeros ? 1 : 0);

    /// <summary>Judges one stored number. The same two always give the same answer.</summary>
    /// <param name="storedCanonical">The canonical form of the stored number.</param>
    public static NumberMatch Judge(NumberQuery query, string storedCanonical)
    {
        ArgumentNullException.ThrowIfNull(query);
        ArgumentNullException.ThrowIfNull(storedCanonical);
        return NumberJudgement.Of(query, storedCanonical);
    }

    public int CompareTo(NumberMatch? other)
    {
        if (other is null) return 1;
        var order = Rank.CompareTo(other.Rank);
        return order != 0 ? order : string.CompareOrdinal(Stored, other.Stored);
    }

    public static bool operator <(NumberMatch left, NumberMatch right) => Comparer<NumberMatch>.Default.Compare(left, right) < 0;
    public static bool operator >(NumberMatch left, NumberMatch right) => Comparer<NumberMatch>.Default.Compare(left, right) > 0;
    public static bool operator <=(NumberMatch left, NumberMatch right) => Comparer<NumberMatch>.Default.Compare(left, right) <= 0;
    public static bool operator >=(NumberMatch left, NumberMatch right) => Comparer<NumberMatch>.Default.Compare(left, right) >= 0;
}
