using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Domain.Fit.Conformity;

/// <summary>
/// How much of the gauges' uncertainty is kept clear of the limits, in thousandths: 1 000 is all of it (full guard, the rule of
/// ISO 14253-1 and what a shop starts with), 0 is none (plain acceptance at the limits). It scales the uncertainty alone: form is the
/// piece's own and counts in full.
/// </summary>
public readonly record struct GuardFactor
{
    public const int Whole = 1_000;

    // Kept as what is given up, so that the default is the full guard.
    private readonly int _givenUp;

    private GuardFactor(int thousandths) => _givenUp = Whole - thousandths;

    public static GuardFactor Full => default;
    public static GuardFactor None { get; } = new(0);

    public int Thousandths => Whole - _givenUp;

    /// <summary>From 0 to 1, to the thousandth; refusal <c>GUARD_FACTOR_RANGE</c>.</summary>
    public static Outcome<GuardFactor> From(decimal factor) =>
        factor is < 0 or > 1 || decimal.Truncate(factor * Whole) != factor * Whole
            ? new Refusal("GUARD_FACTOR_RANGE", $"A guard factor of {factor} cannot be used.", "Choose from 0 (none) to 1 (full), to three decimals.")
            : new GuardFactor((int)(factor * Whole));
}
