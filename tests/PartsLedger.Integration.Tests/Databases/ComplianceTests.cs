namespace PartsLedger.Integration.Tests.Databases;

public sealed class ComplianceTests
{
    public static TheoryData<string> Specifications => [.. All.Select(type => type.Name)];

    private static IEnumerable<Type> All => typeof(ComplianceTests).Assembly.GetTypes()
        .Where(type => type is { IsAbstract: true, IsGenericTypeDefinition: true } && IsSpecification(type.BaseType) && HasTests(type));

    [Theory]
    [MemberData(nameof(Specifications))]
    public void Every_specification_runs_on_every_database(string name)
    {
        var specification = All.Single(type => type.Name == name);
        var stores = typeof(ComplianceTests).Assembly.GetTypes()
            .Where(type => type is { IsAbstract: false } && type.BaseType is { IsGenericType: true } parent
                && parent.GetGenericTypeDefinition() == specification)
            .Select(type => type.BaseType!.GetGenericArguments()[0].Name).Order().ToList();
        Assert.Equal([nameof(PostgreSqlStore), nameof(SqlServerStore), nameof(SqliteStore)], stores);
    }

    private static bool IsSpecification(Type? type) => type is { IsGenericType: true }
        && (type.GetGenericTypeDefinition() == typeof(Specification<>) || IsSpecification(type.BaseType));

    /// <summary>A class that only sets a scene for others has none of its own.</summary>
    private static bool HasTests(Type type) => type.GetMethods().Any(method => method.DeclaringType == type
        && method.GetCustomAttributes(typeof(FactAttribute), inherit: true).Length > 0);
}
