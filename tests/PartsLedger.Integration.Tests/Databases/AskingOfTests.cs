using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Integration.Tests.Databases;

/// <summary>Most tests do not mind who asks.</summary>
internal static class AskingOfTests
{
    public static Task<Outcome<TAnswer>> Ask<TQuery, TAnswer>(this Dispatcher dispatcher, TQuery query, CancellationToken cancellation)
        where TQuery : IQuery<TAnswer> where TAnswer : notnull => dispatcher.Ask<TQuery, TAnswer>(query, Caller.CommandLine, cancellation);
}
