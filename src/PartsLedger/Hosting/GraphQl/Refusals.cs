using GraphQL;
using GraphQL.Execution;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Hosting.GraphQl;

/// <summary>A question's refusal on its way through the library's error list: code, sentence and what to do about it arrive unchanged.</summary>
public sealed class QueryRefused : ExecutionError
{
    public QueryRefused(Refusal refusal) : base(refusal.ToString()) => Code = refusal.Code;
}

/// <summary>A document that is refused before it is validated.</summary>
public sealed class DocumentRefused : DocumentError
{
    public DocumentRefused(string code, string sentence) : base(sentence) => Code = code;
}

/// <summary>How a resolver hands a use case's answer on.</summary>
public static class AskingExtensions
{
    /// <summary>The answer of a query sent through the dispatcher by whoever asks.</summary>
    /// <exception cref="QueryRefused">The query was refused.</exception>
    public static async Task<TAnswer> Answer<TQuery, TAnswer>(this Asking asking, TQuery query, CancellationToken cancellation)
        where TQuery : IQuery<TAnswer> where TAnswer : notnull =>
        (await asking.Ask<TQuery, TAnswer>(query, cancellation)).OrRefuse();

    /// <exception cref="QueryRefused">The outcome is a refusal.</exception>
    public static T OrRefuse<T>(this Outcome<T> outcome) where T : notnull =>
        outcome.Succeeded ? outcome.Result : throw new QueryRefused(outcome.Refusal);
}
