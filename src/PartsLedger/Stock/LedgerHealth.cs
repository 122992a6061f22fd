using PartsLedger.Hosting;

namespace PartsLedger.Stock;

/// <summary>
/// Whether the ledger is sound, for a monitor that asks often: verified at most once a minute, what is new only, one caller at a time; whoever
/// asks in between gets the last answer.
/// </summary>
public sealed class LedgerHealth(Dispatcher dispatcher, TimeProvider clock) : IDisposable
{
    public static readonly TimeSpan Every = TimeSpan.FromMinutes(1);

    private readonly SemaphoreSlim _turn = new(1, 1);
    private (VerifyLedger.Answer Answer, DateTimeOffset At)? _last;

    /// <summary>The last verification and when it was made.</summary>
    public async Task<(VerifyLedger.Answer Answer, DateTimeOffset At)> Ask(CancellationToken cancellation)
    {
        await _turn.WaitAsync(cancellation);
        try
        {
            var now = clock.GetUtcNow();
            if (_last is { } last && now - last.At < Every) return last;
            var verified = await dispatcher.Ask<VerifyLedger.Query, VerifyLedger.Answer>(new(), cancellation);
            var made = (verified.Result, now);
            _last = made;
            return made;
        }
        finally
        {
            _turn.Release();
        }
    }

    public void Dispose() => _turn.Dispose();
}
