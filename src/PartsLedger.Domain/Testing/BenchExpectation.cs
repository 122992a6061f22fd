using PartsLedger.Domain.Fit.Flow;
using PartsLedger.Domain.Fit.Plots;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Testing;

/// <summary>
/// The flow to be expected at a speed: what the pump displaces, less what leaks past the spool, and no more than its metering valve lets
/// out. Where the valve's figures are not known, only the lowest speed has a least flow: above it the valve regulates, and by how much is
/// the maker's to say.
/// </summary>
public static class BenchExpectation
{
    /// <summary>How much of its displacement a rebuilt pump delivers at low pressure: common practice, no source.</summary>
    public static readonly Band VolumetricEfficiency = Band.Between(0.85, 1, 0.93);

    /// <param name="displacement">Per turn; null where the family does not state it: then nothing is expected.</param>
    /// <param name="leak">Past the spool, millilitres a minute; null where it cannot be reckoned.</param>
    /// <param name="valve">The metering valve's figures, where they are known.</param>
    public static IReadOnlyList<ExpectedFlow> At(IReadOnlyList<int> speeds, Volume? displacement, Band? leak, MeteringValve? valve)
    {
        if (displacement is not { } perTurn || speeds.Count == 0) return [];
        var lowest = speeds.Min();
        return [.. speeds.Distinct().Order().Select(speed =>
        {
            var flow = valve is null ? PumpFlow.LitresPerMinute(perTurn, Band.Exactly(speed), VolumetricEfficiency)
                : valve.FlowAt(speed, perTurn, VolumetricEfficiency);
            var (low, value) = (Math.Max(0, flow.Low - ((leak?.High ?? 0) / 1000)), Math.Max(0, flow.Value - ((leak?.Value ?? 0) / 1000)));
            return new ExpectedFlow(speed, value, valve is null && speed > lowest ? 0 : low, flow.High);
        })];
    }
}
