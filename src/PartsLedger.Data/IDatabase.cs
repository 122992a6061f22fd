using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Storage;

namespace PartsLedger.Data;

/// <summary>What differs by database and nothing else; one implementation in each migrations project.</summary>
public interface IDatabase
{
    /// <summary>The word before the colon in <c>--db</c>: <c>sqlite</c>, <c>sqlserver</c>, <c>postgresql</c>.</summary>
    string Scheme { get; }

    /// <param name="connection">What stands after the colon in <c>--db</c>: a path or a connection string.</param>
    void Configure(DbContextOptionsBuilder options, string connection);

    /// <summary>A unique key was already taken. Told by the driver's error number, never by its text.</summary>
    bool IsUniqueViolation(Exception exception);

    /// <summary>The work lost a race (deadlock, serialisation failure, busy) and may be tried again from the start.</summary>
    bool IsLostRace(Exception exception);

    /// <summary>
    /// The database does not answer: not started, shutting down, the connection lost. Whether what was under way was committed is not known;
    /// sending it again with the same request id finds out and does it at most once.
    /// </summary>
    bool IsUnreachable(Exception exception);

    /// <summary>
    /// Waits for this program's turn to write, where the database has one writer at a time: waiting here in line is fair and wakes at once,
    /// where the driver would ask again from time to time. Where writers run side by side nobody waits. Other programs are kept out, or
    /// waited for, by the database itself.
    /// </summary>
    /// <param name="connection">The database, as for <see cref="Configure"/>.</param>
    /// <param name="cancellation">Ends the waiting.</param>
    /// <returns>Gives the turn on when disposed.</returns>
    ValueTask<IDisposable?> TurnToWrite(string connection, CancellationToken cancellation);

    /// <summary>
    /// Begins a transaction for reading only, in which everything read is of one moment. Where the database can, nobody waits for it.
    /// </summary>
    Task<IDbContextTransaction> BeginSnapshot(DbContext db, CancellationToken cancellation);

    /// <summary>An insert of one row, written so that it answers with the number that the row's column <c>id</c> got.</summary>
    string TellingId(string insert);
}
