using PartsLedger.Domain.Fit.Flow;
using PartsLedger.Domain.Fit.Plots;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Testing;

/// <summary>A pressure class by its limits: the relief opens from <paramref name="Relief"/> less minus to plus, ends included.</summary>
public sealed record ClassLimits(string Code, Pressure Relief, Pressure Minus, Pressure Plus)
{
    public Pressure Low => Relief - Minus;

    public Pressure High => Relief + Plus;

    public bool Holds(Pressure pressure) => pressure >= Low && pressure <= High;

    /// <summary>"P055, 5300 to 5800 kPa".</summary>
    public override string ToString() =>
        FormattableString.Invariant($"{Code}, {Low.ToKilopascals():0.#} to {High.ToKilopascals():0.#} kPa");
}

/// <summary>A flow read off the bench at a speed.</summary>
public sealed record BenchReading(int RevolutionsPerMinute, decimal LitresPerMinute);

/// <summary>What a run on the bench came to and why; a class that the relief pressure points to, when it is not the pump's.</summary>
public sealed record BenchJudgement(BenchVerdict Verdict, IReadOnlyList<string> Reasons, string? Shown = null)
{
    /// <summary>
    /// Relief within the class, every flow where it is expected, nothing leaks outward, and nobody rejects it. A relief pressure that lies
    /// in another class and not in the pump's own is a wrong class whatever else was found.
    /// </summary>
    /// <param name="own">The class of the pump's tag.</param>
    /// <param name="expected">The expected flow at the speeds of the readings; a speed without one is judged by nothing.</param>
    /// <param name="leakage">Outward, per minute. That a rebuilt pump drips not at all is common practice, no source.</param>
    /// <param name="rejected">Why whoever tested it rejects it (noise, say), or null.</param>
    public static BenchJudgement Of(
        ClassLimits own, IReadOnlyList<ClassLimits> others, Pressure relief, IReadOnlyList<BenchReading> readings,
            IReadOnlyList<ExpectedFlow> expected,
        Volume leakage, string? rejected)
    {
        var found = new List<string>();
        var kilopascals = FormattableString.Invariant($"{relief.ToKilopascals():0.#} kPa");
        if (!own.Holds(relief))
        {
            if (others.FirstOrDefault(other => other.Holds(relief)) is { } other)
                return new(BenchVerdict.WrongClass, [$"the relief opens at {kilopascals}: that is class {other}; the tag says {own}"],
                    other.Code);
            found.Add($"the relief opens at {kilopascals}, not within {own}");
        }
        foreach (var reading in readings)
        {
            if (expected.FirstOrDefault(point =>
                (int)point.RevolutionsPerMinute == reading.RevolutionsPerMinute) is not { } point) continue;
            if ((double)reading.LitresPerMinute < point.Low || (double)reading.LitresPerMinute > point.High)
                found.Add(FormattableString.Invariant($"{reading.LitresPerMinute:0.##} l/min at {reading.RevolutionsPerMinute} a minute; expected {Band.Between(point.Low, point.High, point.LitresPerMinute)}"));
        }
        if (leakage > Volume.Zero) found.Add(FormattableString.Invariant($"it leaks {leakage.Microlitres / 1000m:0.###} ml a minute outward"));
        if (!string.IsNullOrWhiteSpace(rejected)) found.Add(rejected.Trim());
        return new(found.Count == 0 ? BenchVerdict.Passed : BenchVerdict.Failed, found);
    }
}
