using PartsLedger.Domain.Outcomes;
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
    private Verified? _last;

    /// <summary>Nothing was found wrong when it was last asked; also while nobody has asked.</summary>
    public bool WasSound => _last?.Answer.Sound ?? true;

    /// <summary>The last verification and when it was made; for whoever may ask for one.</summary>
    public async Task<Outcome<Verified>> Ask(Caller caller, CancellationToken cancellation)
    {
        if (Permission.WhyNot(typeof(VerifyLedger.Query), caller) is { } notAllowed) return notAllowed;
        await _turn.WaitAsync(cancellation);
        try
        {
            var now = clock.GetUtcNow();
            if (_last is { } last && now - last.At < Every) return last;
            var verified = await dispatcher.Ask<VerifyLedger.Query, VerifyLedger.Answer>(new(), caller, cancellation);
            if (!verified.Succeeded) return verified.Refusal;
            return _last = new Verified(verified.Result, now);
        }
        finally
        {
            _turn.Release();
        }
    }

    public sealed record Verified(VerifyLedger.Answer Answer, DateTimeOffset At);

    public void Dispose() => _turn.Dispose();
}
