using PartsLedger.Access;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Hosting;

/// <summary>How pages, downloads and fields ask: in the name of whoever sent the request that is being answered.</summary>
public sealed class Asking(Dispatcher dispatcher, CurrentCaller current, Rates rates)
{
    public Caller Caller => current.Caller;

    public async Task<Outcome<TAnswer>> Ask<TQuery, TAnswer>(TQuery query, CancellationToken cancellation)
        where TQuery : IQuery<TAnswer> where TAnswer : notnull
    {
        var outcome = await dispatcher.Ask<TQuery, TAnswer>(
            query, current.Caller, cancellation.CanBeCanceled ? cancellation : current.Until);
        if (!outcome.Succeeded) current.MustWait ??= rates.WaitAfter(outcome.Refusal);
        return outcome;
    }
}
