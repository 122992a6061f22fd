using System.Collections.Concurrent;
using System.Reflection;
using PartsLedger.Data;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Hosting;

/// <summary>A question: answered from a snapshot, changes nothing.</summary>
public interface IQuery<TAnswer> where TAnswer : notnull;

/// <summary>An act: carried out once for its request id, however often it is sent.</summary>
public interface IAct<TAnswer> where TAnswer : notnull
{
    /// <summary>Chosen by the caller before sending and kept when trying again; 1 to 100 characters.</summary>
    string RequestId { get; }
}

/// <summary>Whom or what a request concerns is part of what is written down of it: never anything secret.</summary>
public interface IConcerns
{
    string Name { get; }
}

/// <summary>Whom or what a request concerns: as it says itself, or by the first of its fields that names a thing of the shop.</summary>
public static class Concern
{
    private static readonly string[] Things = ["Job", "Pair", "Unit", "Valve", "Tag", "Core", "Kit", "Part", "Location", "Place", "Document", "Name"];
    private static readonly ConcurrentDictionary<Type, PropertyInfo?> Known = new();

    public static string? Of(object request) => request is IConcerns concerns ? concerns.Name : Known.GetOrAdd(request.GetType(), type =>
        Things.Select(type.GetProperty).FirstOrDefault(property => property?.PropertyType == typeof(string)))?.GetValue(request) is string { Length: <= Code.MaxLength } thing ? thing : null;
}

/// <summary>How a request is called where it is written down.</summary>
public static class UseCase
{
    /// <summary><c>MoveStock.Command</c> is <c>MoveStock</c>.</summary>
    public static string Of(Type request) => request.DeclaringType?.Name ?? request.Name;
}

public interface IQueryHandler<in TQuery, TAnswer> where TQuery : IQuery<TAnswer> where TAnswer : notnull
{
    Task<Outcome<TAnswer>> Handle(TQuery query, CancellationToken cancellation);
}

/// <summary>
/// Loads what the decision needs, lets the pure <c>Decide</c> decide, and writes what it decided to <see cref="ActContext.Db"/>.
/// Never commits: the dispatcher does. May run more than once when it loses a race, so it keeps nothing between runs.
/// </summary>
public interface IActHandler<in TAct, TAnswer> where TAct : IAct<TAnswer> where TAnswer : notnull
{
    Task<Outcome<TAnswer>> Handle(TAct act, ActContext context, CancellationToken cancellation);
}

/// <summary>What surrounds one run of an act: its transaction's context, who asks, and the moment it counts as done.</summary>
public sealed record ActContext(LedgerContext Db, Caller Caller, DateTimeOffset Now);
