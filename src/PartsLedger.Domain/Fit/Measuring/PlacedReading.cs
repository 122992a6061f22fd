using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Fit.Measuring;

/// <summary>A diameter as the gauge showed it, and where it was taken when that is known.</summary>
/// <param name="Diameter">At the piece's temperature; above zero.</param>
/// <param name="Depth">From the edge of the bore or the end of the spool.</param>
/// <param name="AngleDegrees">Around the axis, from any mark.</param>
public sealed record PlacedReading(Length Diameter, Length? Depth = null, int? AngleDegrees = null);
