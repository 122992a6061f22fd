using GraphQL.Types;

namespace PartsLedger.Hosting.GraphQl;

/// <summary>
/// A capability's root fields: a class of static methods in the capability's own folder, each a field of <c>Query</c>. A new capability
/// registers its class beside the others and no class grows.
/// </summary>
/// <param name="Fields">Makes the object type that carries the fields, named like any other type.</param>
public sealed record RootFields(Func<IObjectGraphType> Fields)
{
    public static RootFields Of<TFields>() => new(() => new AutoRegisteringObjectGraphType<TFields>());
}

/// <summary>
/// A capability's acts: a class of static methods as with <see cref="RootFields"/>, each a field of <c>Mutation</c>. Each takes a
/// <c>requestId</c> and answers with a <see cref="Payload{T}"/>.
/// </summary>
/// <param name="Fields">Makes the object type that carries the fields.</param>
public sealed record RootActs(Func<IObjectGraphType> Fields)
{
    public static RootActs Of<TFields>() => new(() => new AutoRegisteringObjectGraphType<TFields>());
}

/// <summary>The served schema: every capability's root fields under one <c>Query</c>, its acts under one <c>Mutation</c>.</summary>
public sealed class ShopSchema : Schema
{
    public ShopSchema(IServiceProvider services, IEnumerable<RootFields> capabilities, IEnumerable<RootActs> acts) : base(services)
    {
        Description = "PartsLedger: parts, kits and stock of a shop that rebuilds hydraulic pumps.";
        var query = new ObjectGraphType { Name = "Query", Description = "Everything that can be asked. Asking changes nothing." };
        foreach (var field in capabilities.SelectMany(capability => capability.Fields().Fields)) query.AddField(field);
        Query = query;
        var mutation = new ObjectGraphType { Name = "Mutation", Description = "Everything that can be done, each once for its request id." };
        foreach (var field in acts.SelectMany(capability => capability.Fields().Fields)) mutation.AddField(field);
        Mutation = mutation;
    }
}
