using DotNet.Testcontainers.Builders;
using Microsoft.Data.SqlClient;
using PartsLedger.Hosting;
using Respawn;
using Testcontainers.MsSql;

namespace PartsLedger.Integration.Tests.Databases;

/// <summary>The server that <c>PARTSLEDGER_TEST_SQLSERVER</c> names, or a container where Docker answers.</summary>
public sealed class SqlServerStore : Store
{
    public const string Variable = "PARTSLEDGER_TEST_SQLSERVER";

    private static readonly Lazy<Task<(string? Server, string? Missing)>> Once = new(Start);

    private readonly string _database = "partsledger_test_" + Guid.NewGuid().ToString("n");
    private string? _server;
    private Respawner? _respawner;

    public override string Name => "sqlserver";

    private string Connection => new SqlConnectionStringBuilder(_server!) { InitialCatalog = _database }.ConnectionString;

    protected override async Task<DatabaseAddress?> Make()
    {
        (_server, Missing) = await Once.Value;
        return _server is null ? null : AddressOf($"sqlserver:{Connection}");
    }

    protected override async Task Prepare()
    {
        await using var connection = new SqlConnection(Connection);
        await connection.OpenAsync();
        _respawner = await Respawner.CreateAsync(connection, new RespawnerOptions
        {
            DbAdapter = DbAdapter.SqlServer, TablesToIgnore = ["__EFMigrationsHistory"],
        });
    }

    protected override async Task Empty()
    {
        await using var connection = new SqlConnection(Connection);
        await connection.OpenAsync();
        await OnEveryTable(connection, "disable");
        await _respawner!.ResetAsync(connection);
        await OnEveryTable(connection, "enable");
    }

    protected override async Task Remove()
    {
        if (_server is null) return;
        SqlConnection.ClearAllPools();
        await using var connection = new SqlConnection(new SqlConnectionStringBuilder(_server) { Pooling = false }.ConnectionString);
        await connection.OpenAsync();
        await using var command = new SqlCommand($"drop database {_database}", connection);
        await command.ExecuteNonQueryAsync();
    }

    /// <summary>The append-only triggers stand aside while the tables are emptied.</summary>
    private static async Task OnEveryTable(SqlConnection connection, string verb)
    {
        var tables = new List<string>();
        await using (var ask = new SqlCommand(
            "select distinct object_name(parent_id) from sys.triggers where parent_id <> 0", connection))
        await using (var reader = await ask.ExecuteReaderAsync())
            while (await reader.ReadAsync()) tables.Add(reader.GetString(0));
        foreach (var table in tables)
        {
            await using var command = new SqlCommand($"alter table {table} {verb} trigger all", connection);
            await command.ExecuteNonQueryAsync();
        }
    }

    private static async Task<(string? Server, string? Missing)> Start()
    {
        if (Environment.GetEnvironmentVariable(Variable) is { Length: > 0 } given) return (given, null);
        try
        {
            var container = new MsSqlBuilder("mcr.microsoft.com/mssql/server:2022-latest").Build();
            await container.StartAsync();
            return (container.GetConnectionString(), null);
        }
        catch (Exception problem) when (problem is DockerUnavailableException or ArgumentException or HttpRequestException or TimeoutException)
        {
            return (null, $"No SQL Server to test on: set {Variable} to a connection string, or start Docker.");
        }
    }
}
