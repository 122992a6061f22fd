using System.Collections.Concurrent;
using System.Data;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Storage;
using PartsLedger.Data;

namespace PartsLedger.Migrations.Sqlite;

/// <summary>The embedded database: one file, written ahead (WAL), one writer at a time, every commit on the disk before it is acknowledged.</summary>
public sealed class SqliteDatabase : IFileDatabase
{
    private readonly ConcurrentDictionary<string, SemaphoreSlim> _lines = new(StringComparer.Ordinal);

    public string Scheme => "sqlite";

    public void Configure(DbContextOptionsBuilder options, string connection)
    {
        options.UseSqlite(Pooled(connection), sqlite => sqlite.MigrationsAssembly(typeof(SqliteDatabase).Assembly.GetName().Name));
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

    public string TellingId(string insert) => $"{insert} returning id";

    public ReadOnlySpan<byte> Signature => "SQLite format 3\0"u8;

    // The driver copies in one step: one moment of a database written ahead, whose writers go on.
    public async Task Copy(string connection, string file, CancellationToken cancellation)
    {
        await using var from = Plain(connection, SqliteOpenMode.ReadWrite);
        await using var to = Plain(file, SqliteOpenMode.ReadWriteCreate);
        await from.OpenAsync(cancellation);
        await to.OpenAsync(cancellation);
        await Task.Run(() => from.BackupDatabase(to), cancellation);
        await Ask(to, "pragma journal_mode = delete", cancellation);
    }

    public async Task<IReadOnlyList<string>> Faults(string file, CancellationToken cancellation)
    {
        await using var there = Plain(file, SqliteOpenMode.ReadOnly);
        try
        {
            await there.OpenAsync(cancellation);
            var faults = (await Ask(there, "pragma integrity_check(10)", cancellation)).Where(line => line != "ok").ToList();
            return faults.Count > 0 ? faults
                : [.. (await Ask(there, "pragma foreign_key_check", cancellation)).Take(10).Select(table => $"A row of {table} belongs to one that is not there.")];
        }
        catch (SqliteException problem)
        {
            return [problem.Message];
        }
    }

    public async Task<bool> Close(string connection, CancellationToken cancellation)
    {
        try
        {
            // This program's own connections that only wait to be used again.
            await using (var pooled = new SqliteConnection(Pooled(connection))) SqliteConnection.ClearPool(pooled);
            await using var there = Plain(connection, SqliteOpenMode.ReadWrite);
            await there.OpenAsync(cancellation);

            // The first fails while anybody has the file open for writing ahead, the second while anybody is at work on it in another mode.
            if (await Ask(there, "pragma journal_mode = delete", cancellation) is not ["delete"]) return false;
            await Ask(there, "begin exclusive", cancellation);
            await Ask(there, "rollback", cancellation);
            return true;
        }
        catch (SqliteException problem) when (IsLostRace(problem))
        {
            return false;
        }
    }

    // A busy writer is waited for inside the driver; 30 s is longer than any act of ours holds the file.
    private static string Pooled(string file) =>
        new SqliteConnectionStringBuilder { DataSource = file, DefaultTimeout = 30, ForeignKeys = true, Pooling = true }.ConnectionString;

    /// <summary>A connection of its own, closed when it is disposed: what is copied or moved must not stay open in a pool.</summary>
    private static SqliteConnection Plain(string file, SqliteOpenMode mode) =>
        new(new SqliteConnectionStringBuilder { DataSource = file, Mode = mode, Pooling = false, DefaultTimeout = 5 }.ConnectionString);

    private static async Task<List<string>> Ask(SqliteConnection connection, string question, CancellationToken cancellation)
    {
        await using var command = connection.CreateCommand();
#pragma warning disable CA2100 // The questions are the constants above.
        command.CommandText = question;
#pragma warning restore CA2100
        await using var reader = await command.ExecuteReaderAsync(cancellation);
        var answers = new List<string>();
        while (await reader.ReadAsync(cancellation)) answers.Add(reader.GetString(0));
        return answers;
    }

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
