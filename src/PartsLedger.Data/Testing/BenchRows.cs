using PartsLedger.Data.Catalog;
using PartsLedger.Data.Jobs;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Data.Testing;

/// <summary>One run of a pump on the bench and what it came to. A repeat is another row; none is ever changed.</summary>
public sealed class BenchRunRow
{
    public long Id { get; private set; }
    public int JobId { get; init; }
    public JobRow Job { get; init; } = null!;

    /// <summary>The job's runs from 1.</summary>
    public int Run { get; init; }

    /// <summary>Which time of being assembled it was tested after: only the last one's runs count.</summary>
    public int Assembly { get; init; }
    public required string Bench { get; init; }
    public required string BenchKey { get; init; }
    public int OilMilliCelsius { get; init; }
    public int OilGrade { get; init; }
    public Pressure Relief { get; init; }

    /// <summary>Outward, per minute.</summary>
    public Volume Leakage { get; init; }
    public string? Noise { get; init; }
    public string? Rejected { get; init; }

    /// <summary>The class it was judged against.</summary>
    public int PressureClassId { get; init; }
    public PressureClassRow PressureClass { get; init; } = null!;
    public BenchVerdict Verdict { get; init; }
    public string? Reasons { get; init; }

    /// <summary>The expected flow over speed as JSON, as it was reckoned then.</summary>
    public required string Expected { get; init; }
    public DateTimeOffset At { get; init; }
    public required string TestedBy { get; init; }
    public required string Who { get; init; }
    public required string RequestId { get; init; }
    public List<BenchReadingRow> Readings { get; } = [];
}

/// <summary>A flow at a speed.</summary>
public sealed class BenchReadingRow
{
    public long Id { get; private set; }
    public long RunId { get; private set; }
    public BenchRunRow Run { get; private set; } = null!;
    public int Rpm { get; init; }

    /// <summary>Per minute.</summary>
    public Volume Flow { get; init; }
}
