using System.Data.Common;
using Microsoft.EntityFrameworkCore.Diagnostics;

namespace PartsLedger.Integration.Tests.Api;

/// <summary>Counts the statements the database is asked, and makes it slow or broken on demand.</summary>
public sealed class DatabaseWatch : DbCommandInterceptor
{
    private int _statements;

    public TimeSpan Delay { get; set; }

    public Exception? Failure { get; set; }

    /// <summary>The statements that <paramref name="work"/> takes. Tests of the API run one after another, so nobody else's are among them.</summary>
    public async Task<int> Statements(Func<Task> work)
    {
        var before = _statements;
        await work();
        return _statements - before;
    }

    public override async ValueTask<InterceptionResult<DbDataReader>> ReaderExecutingAsync(
        DbCommand command, CommandEventData eventData, InterceptionResult<DbDataReader> result, CancellationToken cancellationToken = default)
    {
        // The audit is sealed beside the tests and is nobody's question.
        if (command.CommandText.Contains("audit_", StringComparison.Ordinal)) return result;
        Interlocked.Increment(ref _statements);
        if (Failure is { } failure) throw failure;
        if (Delay > TimeSpan.Zero) await Task.Delay(Delay, cancellationToken);
        return result;
    }
}
