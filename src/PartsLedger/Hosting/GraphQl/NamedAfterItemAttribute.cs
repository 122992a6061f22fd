using System.Reflection;
using GraphQL;
using GraphQL.Types;

namespace PartsLedger.Hosting.GraphQl;

/// <summary>Names a generic type after the API name of what it holds: a connection of parts is <c>PartConnection</c>.</summary>
[AttributeUsage(AttributeTargets.Class)]
public sealed class NamedAfterItemAttribute(string suffix) : GraphQLAttribute
{
    public string Suffix => suffix;

    public override void Modify(IGraphType graphType, Type sourceType)
    {
        var item = sourceType.GetGenericArguments()[0];
        graphType.Name = (item.GetCustomAttribute<NameAttribute>()?.Name ?? item.Name) + Suffix;
    }
}
