using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Fit.Flow;

/// <summary>What a pump of fixed displacement gives and takes. Definitions; gpm and horsepower are for those who print them.</summary>
public static class PumpFlow
{
    /// <summary>Displacement times speed times volumetric efficiency (0 to 1; 1 for the theoretical flow).</summary>
    public static double LitresPerMinute(Volume displacement, double revolutionsPerMinute, double volumetricEfficiency = 1) =>
        displacement.Microlitres * 1e-6 * revolutionsPerMinute * volumetricEfficiency;

    /// <summary>As an interval.</summary>
    public static Band LitresPerMinute(Volume displacement, Band revolutionsPerMinute, Band volumetricEfficiency) =>
        Band.Through(at => LitresPerMinute(displacement, at[0], at[1]), revolutionsPerMinute, volumetricEfficiency);

    /// <summary>Actual over theoretical flow.</summary>
    public static double VolumetricEfficiency(double actualLitresPerMinute, Volume displacement, double revolutionsPerMinute) =>
        actualLitresPerMinute / LitresPerMinute(displacement, revolutionsPerMinute);

    /// <summary>Pressure times flow: 100 bar at 10 L/min are 1.667 kW.</summary>
    public static double HydraulicKilowatts(double kilopascals, double litresPerMinute) => kilopascals * litresPerMinute / 60_000;

    /// <summary>2 π times torque times speed.</summary>
    public static double ShaftKilowatts(double newtonMetres, double revolutionsPerMinute) => 2 * Math.PI * newtonMetres * revolutionsPerMinute / 60_000;
}
