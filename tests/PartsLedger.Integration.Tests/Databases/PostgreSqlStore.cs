using Npgsql;
using PartsLedger.Hosting;
using Respawn;

namespace PartsLedger.Integration.Tests.Databases;

/// <summary>A database of its own on the server that <c>PARTSLEDGER_TEST_POSTGRESQL</c> names, or else on a cluster started for this run.</summary>
public sealed class PostgreSqlStore : Store
{
    private readonly string _database = "partsledger_test_" + Guid.NewGuid().ToString("n");
    private string? _server;
    private Respawner? _respawner;

    public override string Name => "postgresql";

    private string Connection => new NpgsqlConnectionStringBuilder(_server!) { Database = _database, MaxPoolSize = 40 }.ConnectionString;

    protected override async Task<DatabaseAddress?> Make()
    {
        (_server, Missing) = await PostgreSqlCluster.Find();
        if (_server is null) return null;
        await Administer($"create database {_database}");
        return AddressOf($"postgresql:{Connection}");
    }

    protected override async Task Prepare()
    {
        await using var connection = new NpgsqlConnection(Connection);
        await connection.OpenAsync();
        _respawner = await Respawner.CreateAsync(connection, new RespawnerOptions
        {
            DbAdapter = DbAdapter.Postgres, TablesToIgnore = ["__EFMigrationsHistory"],
        });
    }

    protected override async Task Empty()
    {
        await using var connection = new NpgsqlConnection(Connection);
        await connection.OpenAsync();

        // As a replica the session fires no triggers: the append-only tables may be emptied, and only by the cluster's owner.
        await using (var quiet = new NpgsqlCommand("set session_replication_role = replica", connection)) await quiet.ExecuteNonQueryAsync();
        await _respawner!.ResetAsync(connection);
        await using var loud = new NpgsqlCommand("set session_replication_role = default", connection);
        await loud.ExecuteNonQueryAsync();
    }

    protected override async Task Remove()
    {
        if (_server is null) return;
        NpgsqlConnection.ClearAllPools();
        await Administer($"drop database {_database} with (force)");
    }

    private async Task Administer(string sql)
    {
        await using var connection = new NpgsqlConnection(new NpgsqlConnectionStringBuilder(_server!) { Pooling = false }.ConnectionString);
        await connection.OpenAsync();
        await using var command = new NpgsqlCommand(sql, connection);
        await command.ExecuteNonQueryAsync();
    }
}
