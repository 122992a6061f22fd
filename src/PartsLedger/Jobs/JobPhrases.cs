using PartsLedger.Domain.Kits;

namespace PartsLedger.Jobs;

/// <summary>The words about jobs that pages share.</summary>
public static class JobPhrases
{
    public static string Of(JobWay way) => way switch
    {
        JobWay.Kit => "Repaired with a kit",
        JobWay.Assembly => "Repaired with an assembly",
        JobWay.Exchange => "Exchange unit",
        _ => throw new ArgumentOutOfRangeException(nameof(way), way, "No word for this way."),
    };
}
