using System.Data;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Storage;
using Npgsql;
using IDatabase = PartsLedger.Data.IDatabase;

namespace PartsLedger.Migrations.PostgreSql;

public sealed class PostgreSqlDatabase : IDatabase
{
    public string Scheme => "postgresql";

    public void Configure(DbContextOptionsBuilder options, string connection)
    {
        // The same few statements come again and again: the server parses and plans them once for a connection. What the shop's own text
        // says about it stands later and wins (a pooler between may need "Max Auto Prepare=0").
        options.UseNpgsql($"Max Auto Prepare=100;{connection}",
            server => server.MigrationsAssembly(typeof(PostgreSqlDatabase).Assembly.GetName().Name));
        options.ReplaceService<IModelCustomizer, OrdinalText>();
    }

    public bool IsUniqueViolation(Exception exception) => Find(exception) is { SqlState: PostgresErrorCodes.UniqueViolation };

    // A statement that waited for longer than the driver waits has stood in somebody's way or in a line: it may be tried again like the others.
    public bool IsLostRace(Exception exception) => Find(exception) is
    {
        SqlState: PostgresErrorCodes.SerializationFailure or PostgresErrorCodes.DeadlockDetected or PostgresErrorCodes.LockNotAvailable
    } || FindDriver(exception) is { InnerException: TimeoutException };

    // What the server says while it starts or stops (class 57P), and a connection that failed (class 08, or under the driver).
    public bool IsUnreachable(Exception exception) => Find(exception) is { SqlState: var state }
        ? state.StartsWith("57P", StringComparison.Ordinal) || state.StartsWith("08", StringComparison.Ordinal)
        : FindDriver(exception) is { InnerException: System.Net.Sockets.SocketException or IOException };

    public ValueTask<IDisposable?> TurnToWrite(string connection, CancellationToken cancellation) => default;

    public Task<IDbContextTransaction> BeginSnapshot(DbContext db, CancellationToken cancellation) =>
        db.Database.BeginTransactionAsync(IsolationLevel.RepeatableRead, cancellation);

    public string TellingId(string insert) => $"{insert} returning id";

    private static PostgresException? Find(Exception? exception) => FindDriver(exception) as PostgresException;

    private static NpgsqlException? FindDriver(Exception? exception)
    {
        for (; exception is not null; exception = exception.InnerException)
            if (exception is NpgsqlException found) return found;
        return null;
    }
}

/// <summary>Text compared and ordered byte by byte, as SQLite does: the cluster's language must not decide the order of part numbers.</summary>
internal sealed class OrdinalText(ModelCustomizerDependencies dependencies) : RelationalModelCustomizer(dependencies)
{
    public override void Customize(ModelBuilder modelBuilder, DbContext context)
    {
        base.Customize(modelBuilder, context);
        foreach (var property in modelBuilder.Model.GetEntityTypes().SelectMany(entity => entity.GetProperties()))
            if ((property.FindTypeMapping()?.Converter?.ProviderClrType ?? property.GetProviderClrType() ?? property.ClrType) == typeof(string)
                || property.GetValueConverter()?.ProviderClrType == typeof(string))
                property.SetCollation("C");
    }
}
