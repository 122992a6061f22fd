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

/// <summary>The served schema: every capability's root fields under one <c>Query</c>.</summary>
public sealed class ShopSchema : Schema
{
    public ShopSchema(IServiceProvider services, IEnumerable<RootFields> capabilities) : base(services)
    {
        Description = "PartsLedger: parts, kits and stock of a shop that rebuilds hydraulic pumps.";
        var query = new ObjectGraphType { Name = "Query", Description = "Everything that can be asked. Asking changes nothing." };
        foreach (var field in capabilities.SelectMany(capability => capability.Fields().Fields)) query.AddField(field);
        Query = query;
    }
}
