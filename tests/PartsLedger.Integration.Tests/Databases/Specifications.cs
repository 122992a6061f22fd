namespace PartsLedger.Integration.Tests.Databases;

/// <summary>
/// A specification is an abstract class of tests over a <see cref="Store"/>; a class per database runs it. A class that does not skip
/// or fail by itself before its first step has forgotten <see cref="Store.Begin"/>, so it is called here.
/// </summary>
public abstract class Specification<TStore>(TStore store) : IClassFixture<TStore>, IAsyncLifetime where TStore : Store
{
    protected TStore Store { get; } = store;

    public virtual async ValueTask InitializeAsync() => await Store.Begin();

    public virtual ValueTask DisposeAsync()
    {
        GC.SuppressFinalize(this);
        return ValueTask.CompletedTask;
    }
}
