using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Time.Testing;
using PartsLedger.Data;
using PartsLedger.Hosting;

namespace PartsLedger.Integration.Tests.Databases;

/// <summary>
/// One database for one test class: made, migrated, emptied between tests. The specifications are written against this; each database
/// supplies only how it is made and emptied.
/// </summary>
public abstract class Store : IAsyncLifetime
{
    private ServiceProvider? _services;

    /// <summary>Why this database cannot be tested here, or null when it can.</summary>
    public string? Missing { get; protected set; }

    /// <summary>The word in <c>PARTSLEDGER_REQUIRE</c>.</summary>
    public abstract string Name { get; }

    /// <summary>Noon on a working day; tests move it.</summary>
    public FakeTimeProvider Clock { get; } = new(new DateTimeOffset(2031, 3, 12, 12, 0, 0, TimeSpan.Zero));

    public ServiceProvider Services => _services ?? throw new InvalidOperationException("The store is not ready.");

    public Dispatcher Dispatcher => Services.GetRequiredService<Dispatcher>();

    public DatabaseAddress Address => Services.GetRequiredService<DatabaseAddress>();

    public async ValueTask InitializeAsync()
    {
        if (await Make() is not { } address) return;
        _services = new ServiceCollection().AddLogging().AddPartsLedger(address).AddSingleton<TimeProvider>(Clock).BuildServiceProvider();
        await using var scope = Services.CreateAsyncScope();
        var opened = await DatabaseOpening.Open(scope.ServiceProvider.GetRequiredService<LedgerContext>(), CancellationToken.None);
        Assert.True(opened.Succeeded, opened.Refusal?.ToString());
        await Prepare();
    }

    public async ValueTask DisposeAsync()
    {
        if (_services is not null) await _services.DisposeAsync();
        await Remove();
        GC.SuppressFinalize(this);
    }

    /// <summary>Skips or fails the running test when the database is not here; else leaves it empty and ready.</summary>
    public async Task Begin()
    {
        Requirements.SkipUnless(Missing is null, Name, Missing ?? "");
        await Empty();
    }

    /// <summary>Runs work on a context of its own.</summary>
    public async Task<T> With<T>(Func<LedgerContext, Task<T>> work)
    {
        await using var scope = Services.CreateAsyncScope();
        return await work(scope.ServiceProvider.GetRequiredService<LedgerContext>());
    }

    public Task With(Func<LedgerContext, Task> work) => With(async db =>
    {
        await work(db);
        return true;
    });

    /// <summary>The address of a fresh database, or null after setting <see cref="Missing"/>.</summary>
    protected abstract Task<DatabaseAddress?> Make();

    protected virtual Task Prepare() => Task.CompletedTask;

    protected abstract Task Empty();

    protected abstract Task Remove();

    protected static DatabaseAddress AddressOf(string text)
    {
        var parsed = DatabaseAddress.Parse(text);
        Assert.True(parsed.Succeeded, parsed.Refusal?.ToString());
        return parsed.Result;
    }
}
