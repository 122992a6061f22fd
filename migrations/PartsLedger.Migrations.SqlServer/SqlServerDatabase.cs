using System.Data;
using System.Globalization;
using Microsoft.Data.SqlClient;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Storage;
using IDatabase = PartsLedger.Data.IDatabase;

namespace PartsLedger.Migrations.SqlServer;

/// <summary>
/// SQL Server, and other engines that speak T-SQL. <c>PARTSLEDGER_SQLSERVER_MAX_BATCH</c> bounds the statements sent in one batch;
/// 1 keeps MERGE out of what is sent.
/// </summary>
public sealed class SqlServerDatabase : IDatabase
{
    public const string MaxBatchVariable = "PARTSLEDGER_SQLSERVER_MAX_BATCH";

    public string Scheme => "sqlserver";

    public void Configure(DbContextOptionsBuilder options, string connection) => options.UseSqlServer(connection, server =>
    {
        server.MigrationsAssembly(typeof(SqlServerDatabase).Assembly.GetName().Name);
        if (int.TryParse(Environment.GetEnvironmentVariable(MaxBatchVariable), CultureInfo.InvariantCulture, out var batch) && batch > 0)
            server.MaxBatchSize(batch);
    });

    // 2601: duplicate key in a unique index; 2627: the same in a unique constraint.
    public bool IsUniqueViolation(Exception exception) => Find(exception) is { Number: 2601 or 2627 };

    // 1205: deadlock victim; 1222: lock time-out; 3960, 3961: snapshot update conflict; 41302 … 41325: the same in memory-optimised tables.
    public bool IsLostRace(Exception exception) => Find(exception) is { Number: 1205 or 1222 or 3960 or 3961 or 41302 or 41305 or 41325 };

    // Severity 20 and up ends the connection, and the driver's own failures to reach the server have it; 4060, 40613: database not to be had
    // now; 6005, 6006: shutting down.
    public bool IsUnreachable(Exception exception) => Find(exception) is { Class: >= 20 } or { Number: 4060 or 40613 or 6005 or 6006 };

    public ValueTask<IDisposable?> TurnToWrite(string connection, CancellationToken cancellation) => default;

    // Row versions where the database keeps them (alter database … set allow_snapshot_isolation on); else locks, and writers wait.
    public async Task<IDbContextTransaction> BeginSnapshot(DbContext db, CancellationToken cancellation)
    {
        var versions = await db.Database.SqlQueryRaw<int>(
            "select cast(snapshot_isolation_state as int) as Value from sys.databases where database_id = db_id()").ToListAsync(cancellation);
        return await db.Database.BeginTransactionAsync(versions is [1] ? IsolationLevel.Snapshot : IsolationLevel.Serializable, cancellation);
    }

    // A table with triggers takes no output clause.
    public string TellingId(string insert) => $"{insert}; select cast(scope_identity() as bigint)";

    private static SqlException? Find(Exception? exception)
    {
        for (; exception is not null; exception = exception.InnerException)
            if (exception is SqlException found) return found;
        return null;
    }
}
