using System.Data.Common;
using Microsoft.Data.SqlClient;
using Microsoft.Data.Sqlite;
using Npgsql;
using PartsLedger.Integration.Tests.Databases;

namespace PartsLedger.Integration.Tests.Stock;

/// <summary>Plain SQL past everything that guards the tables: triggers, foreign keys, check constraints. What no code path can do.</summary>
internal static class Damage
{
    /// <param name="store">The database of this test; its guards are gone until it is made again.</param>
    /// <param name="sql">One statement, the same for every database.</param>
    /// <param name="constraint">Check constraints that stand in the way, as <c>table.name</c> with commas between; SQLite ignores them all.</param>
    /// <param name="uniqueIndex">A unique index that stands in the way, as <c>table.name</c>.</param>
    public static async Task Do(Store store, string sql, string? constraint = null, string? uniqueIndex = null)
    {
        await using var connection = Connect(store);
        await connection.OpenAsync();
        foreach (var guard in await Guards(store, connection)) await Run(connection, guard);
        if (store is not SqliteStore)
            foreach (var one in constraint?.Split(',') ?? [])
                if (one.Split('.') is [var table, var name]) await Run(connection, $"alter table {table} drop constraint if exists {name}");
        if (uniqueIndex?.Split('.') is [var of, var index])
            await Run(connection, store is SqlServerStore ? $"drop index if exists {index} on {of}" : $"drop index if exists {index}");
        Assert.True(await Run(connection, sql) > 0, "Nothing was damaged.");
    }

    private static DbConnection Connect(Store store) => store switch
    {
        SqliteStore => new SqliteConnection($"Data Source={store.Address.Connection};Pooling=False;Foreign Keys=False"),
        PostgreSqlStore => new NpgsqlConnection(store.Address.Connection),
        _ => new SqlConnection(store.Address.Connection),
    };

    private static async Task<IReadOnlyList<string>> Guards(Store store, DbConnection connection) => store switch
    {
        SqliteStore => ["pragma ignore_check_constraints = on", .. (await Names(connection, "select name from sqlite_master where type = 'trigger'")).Select(name => $"drop trigger {name}")],
        PostgreSqlStore => ["set session_replication_role = replica"],
        _ => [.. (await Names(connection, "select name from sys.tables where name <> '__EFMigrationsHistory'"))
            .SelectMany(table => (string[])[$"alter table {table} disable trigger all", $"alter table {table} nocheck constraint all"])],
    };

    private static async Task<List<string>> Names(DbConnection connection, string sql)
    {
        await using var command = connection.CreateCommand();
        command.CommandText = sql;
        await using var reader = await command.ExecuteReaderAsync();
        var names = new List<string>();
        while (await reader.ReadAsync()) names.Add(reader.GetString(0));
        return names;
    }

    private static async Task<int> Run(DbConnection connection, string sql)
    {
        await using var command = connection.CreateCommand();
        command.CommandText = sql;
        return await command.ExecuteNonQueryAsync();
    }
}
