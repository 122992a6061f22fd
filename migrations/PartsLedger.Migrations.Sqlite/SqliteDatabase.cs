using System.Collections.Concurrent;
using System.Data;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Storage;
using IDatabase = PartsLedger.Data.IDatabase;

namespace PartsLedger.Migrations.Sqlite;

/// <summary>The embedded database: one file, written ahead (WAL), one writer at a time, every commit on the disk before it is acknowledged.</summary>
public sealed class SqliteDatabase : IDatabase
{
    private readonly ConcurrentDictionary<string, SemaphoreSlim> _lines = new(StringComparer.Ordinal);

    public string Scheme => "sqlite";

    public void Configure(DbContextOptionsBuilder options, string connection)
    {
        // A busy writer is waited for inside the driver; 30 s is longer than any act of ours holds the file.
        var text = new SqliteConnectionStringBuilder { DataSource = connection, DefaultTimeout = 30, ForeignKeys = true, Pooling = true };
        options.UseSqlite(text.ConnectionString, sqlite => sqlite.MigrationsAssembly(typeof(SqliteDatabase).Assembly.GetName().Name));
    }

    public bool IsUniqueViolation(Exception exception) => Find(exception) is { SqliteExtendedErrorCode: 2067 or 1555 };

    public bool IsLostRace(Exception exception) => Find(exception) is { SqliteErrorCode: 5 or 6 or 517 };

    // 10: the disk failed; 14: the file cannot be opened.
    public bool IsUnreachable(Exception exception) => Find(exception) is { SqliteErrorCode: 10 or 14 };

    public async ValueTask<IDisposable?> TurnToWrite(string connection, CancellationToken cancellation)
    {
        var line = _lines.GetOrAdd(Path.GetFullPath(connection), _ => new SemaphoreSlim(1, 1));
        await line.WaitAsync(cancellation);
        return new Turn(line);
    }

    // The driver begins this level deferred: a reader in WAL, which sees one moment and keeps nobody from writing.
    public Task<IDbContextTransaction> BeginSnapshot(DbContext db, CancellationToken cancellation) =>
        db.Database.BeginTransactionAsync(IsolationLevel.ReadUncommitted, cancellation);

    private sealed class Turn(SemaphoreSlim line) : IDisposable
    {
        private SemaphoreSlim? _line = line;

        public void Dispose() => Interlocked.Exchange(ref _line, null)?.Release();
    }

    private static SqliteException? Find(Exception? exception)
    {
        for (; exception is not null; exception = exception.InnerException)
            if (exception is SqliteException found) return found;
        return null;
    }
}
