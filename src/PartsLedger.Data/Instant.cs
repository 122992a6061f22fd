namespace PartsLedger.Data;

/// <summary>An instant as it is kept: whole microseconds since 1970 in UTC, the finest grain every database has.</summary>
public static class Instant
{
    public static long ToMicroseconds(DateTimeOffset at) => (at.UtcTicks - DateTimeOffset.UnixEpoch.Ticks) / TimeSpan.TicksPerMicrosecond;

    public static DateTimeOffset FromMicroseconds(long microseconds) =>
        DateTimeOffset.UnixEpoch.AddTicks(microseconds * TimeSpan.TicksPerMicrosecond);
}
