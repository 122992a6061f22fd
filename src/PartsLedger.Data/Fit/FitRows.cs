using PartsLedger.Data.Catalog;
using PartsLedger.Data.Cores;
using PartsLedger.Data.Stock;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Data.Fit;

/// <summary>
/// A housing or a valve as a single thing with a tag. While it is in a pair it has no place and no job of its own: the pair has them, and
/// the database holds no column in which two halves could be in two places.
/// </summary>
public sealed class UnitRow
{
    public int Id { get; private set; }
    public required string Tag { get; init; }
    public required string TagKey { get; init; }
    public UnitRole Role { get; init; }
    public int FamilyId { get; init; }
    public FamilyRow Family { get; init; } = null!;

    /// <summary>A valve's class is set by its shims; a housing serves any class until it is paired.</summary>
    public int? PressureClassId { get; set; }
    public PressureClassRow? PressureClass { get; set; }
    public int? PartId { get; init; }
    public PartRow? Part { get; init; }
    public int? CoreId { get; init; }
    public CoreRow? Core { get; init; }
    public UnitState State { get; set; }

    /// <summary>Shims under the relief spring as found at tear-down: they belong to the valve.</summary>
    public int? ShimCount { get; set; }
    public Length? ShimStack { get; set; }
    public int? PairId { get; set; }
    public PairRow? Pair { get; set; }
    public int? LocationId { get; set; }
    public LocationRow? Location { get; set; }

    /// <summary>The job it is kept for.</summary>
    public string? Job { get; set; }
    public int Version { get; set; }
}

/// <summary>A housing and its valve, kept together.</summary>
public sealed class PairRow
{
    public int Id { get; private set; }

    /// <summary>Printed on both halves.</summary>
    public required string Code { get; init; }
    public required string CodeKey { get; init; }
    public int FamilyId { get; init; }
    public FamilyRow Family { get; init; } = null!;
    public int PressureClassId { get; set; }
    public PressureClassRow PressureClass { get; set; } = null!;
    public PairOrigin Origin { get; init; }
    public PairState State { get; set; }

    /// <summary>Measured and found fit to go out.</summary>
    public bool Released { get; set; }
    public Money Cost { get; set; }
    public int? LocationId { get; set; }
    public LocationRow? Location { get; set; }

    /// <summary>The job it is kept for, and until when.</summary>
    public string? Job { get; set; }
    public DateTimeOffset? JobUntil { get; set; }
    public int Version { get; set; }
    public List<UnitRow> Halves { get; } = [];
}

/// <summary>Something that happened to a core, a unit or a pair. Never changed once written.</summary>
public sealed class UnitEventRow
{
    public long Id { get; private set; }
    public int? CoreId { get; init; }
    public CoreRow? Core { get; init; }
    public int? UnitId { get; init; }
    public UnitRow? Unit { get; init; }
    public int? PairId { get; init; }
    public PairRow? Pair { get; init; }

    /// <summary>What happened, in one or two words: paired, taken apart, moved, graded …</summary>
    public required string What { get; init; }
    public string? Detail { get; init; }
    public string? Why { get; init; }
    public DateTimeOffset At { get; init; }
    public required string Who { get; init; }
    public required string RequestId { get; init; }
}

public sealed class GaugeRow
{
    public int Id { get; private set; }
    public required string Code { get; set; }
    public required string CodeKey { get; set; }
    public required string Kind { get; set; }

    /// <summary>Expanded uncertainty, k = 2.</summary>
    public Length Uncertainty { get; set; }
    public DateOnly? CalibratedOn { get; set; }
    public DateOnly? DueOn { get; set; }
}

/// <summary>One measurement of a unit. A repeat is another row; the latest counts, nothing is overwritten.</summary>
public sealed class MeasurementRow
{
    public long Id { get; private set; }
    public int UnitId { get; init; }
    public UnitRow Unit { get; init; } = null!;
    public Characteristic Characteristic { get; init; }
    public DateTimeOffset TakenAt { get; init; }
    public int GaugeId { get; init; }
    public GaugeRow Gauge { get; init; } = null!;

    /// <summary>Of the piece while it was measured, in thousandths of a degree Celsius.</summary>
    public int MilliCelsius { get; init; }
    public required string Who { get; init; }
    public List<ReadingRow> Readings { get; } = [];
}

/// <summary>One reading, and where in the bore or on the spool it was taken when that is known.</summary>
public sealed class ReadingRow
{
    public long Id { get; private set; }
    public long MeasurementId { get; private set; }
    public MeasurementRow Measurement { get; private set; } = null!;
    public int Sequence { get; init; }
    public Length Diameter { get; init; }
    public Length? Depth { get; init; }
    public int? AngleDegrees { get; init; }
}

/// <summary>A proposal of pairs that somebody holds: until it is done, dropped or run out, its halves are in no other.</summary>
public sealed class ProposalRow
{
    public long Id { get; private set; }
    public int FamilyId { get; init; }
    public FamilyRow Family { get; init; } = null!;
    public DateTimeOffset MadeAt { get; init; }
    public required string MadeBy { get; init; }
    public DateTimeOffset HeldUntil { get; init; }
    public int Version { get; set; }
    public List<ProposalLineRow> Lines { get; } = [];
}

/// <summary>One proposed pair, and the measurements that it was found with: newer ones make it stale.</summary>
public sealed class ProposalLineRow
{
    public long Id { get; private set; }
    public long ProposalId { get; private set; }
    public ProposalRow Proposal { get; private set; } = null!;
    public int HousingId { get; init; }
    public UnitRow Housing { get; init; } = null!;
    public int ValveId { get; init; }
    public UnitRow Valve { get; init; } = null!;
    public long BoreMeasurementId { get; init; }
    public MeasurementRow BoreMeasurement { get; init; } = null!;
    public long SpoolMeasurementId { get; init; }
    public MeasurementRow SpoolMeasurement { get; init; } = null!;
    public Length Clearance { get; init; }
    public Length Deviation { get; init; }
    public ProposalState State { get; set; }
}
