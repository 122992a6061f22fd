using System.Runtime.CompilerServices;
using GraphQL.Types;
using Microsoft.Extensions.DependencyInjection;
using PartsLedger.Hosting.GraphQl;

namespace PartsLedger.Integration.Tests.Api;

[Collection(ApiTests.Name)]
public sealed class SchemaTests(ShopApi api)
{
    /// <summary>Set to 1 to take what is served as what is approved.</summary>
    private const string Approve = "PARTSLEDGER_APPROVE";

    [Fact]
    public async Task The_served_schema_is_the_one_in_docs()
    {
        var served = await api.Http.GetStringAsync("/graphql/schema.graphql");
        var path = Path.GetFullPath(Path.Combine(Path.GetDirectoryName(Here())!, "../../../docs/schema.graphql"));
        if (Environment.GetEnvironmentVariable(Approve) == "1") await File.WriteAllTextAsync(path, served);
        Assert.True(File.Exists(path), $"docs/schema.graphql is missing. Run once with {Approve}=1.");
        Assert.True(served == (await File.ReadAllTextAsync(path)).ReplaceLineEndings("\n"),
            $"The schema served is not docs/schema.graphql. If the change is meant, run once with {Approve}=1 and look at the difference.");
    }

    [Fact]
    public void Everything_in_the_schema_is_described()
    {
        var schema = api.App.Services.GetRequiredService<ShopSchema>();
        List<string> bare = [];

        // The language's own: its introspection and its scalars.
        foreach (var type in schema.AllTypes.Where(type => !type.Name.StartsWith("__", StringComparison.Ordinal)
            && type.Name is not ("String" or "Boolean" or "Int" or "Float" or "ID")))
        {
            Check(type.Description, type.Name);
            if (type is EnumerationGraphType words)
                foreach (var word in words.Values) Check(word.Description, $"{type.Name}.{word.Name}");
            if (type is not IComplexGraphType complex) continue;
            foreach (var field in complex.Fields)
            {
                Check(field.Description, $"{type.Name}.{field.Name}");
                foreach (var argument in field.Arguments ?? []) Check(argument.Description, $"{type.Name}.{field.Name}({argument.Name})");
            }
        }
        Assert.Empty(bare);

        void Check(string? description, string what)
        {
            if (string.IsNullOrWhiteSpace(description)) bare.Add(what);
        }
    }

    [Fact]
    public void Every_list_that_can_be_long_is_paged_by_first_and_after()
    {
        var schema = api.App.Services.GetRequiredService<ShopSchema>();
        var connections = schema.AllTypes.OfType<IComplexGraphType>().SelectMany(type => type.Fields)
            .Where(field => field.ResolvedType!.ToString()!.TrimEnd('!').EndsWith("Connection", StringComparison.Ordinal)).ToList();
        Assert.True(connections.Count >= 8);
        Assert.All(connections, field => Assert.Equal(["after", "first"],
            field.Arguments!.Select(argument => argument.Name).Where(name => name is "after" or "first").Order()));

        // On Query itself every list is a connection.
        Assert.DoesNotContain(schema.Query.Fields, field => field.ResolvedType!.ToString()!.Contains('['));
    }

    private static string Here([CallerFilePath] string path = "") => path;
}
