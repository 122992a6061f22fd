using GraphQL.DataLoader;

namespace PartsLedger.Hosting.GraphQl;

/// <summary>
/// Collects the keys that one level of a query asks for and reads them together: the first result awaited closes the lot and runs one
/// read for all its keys. One batch per relation and request. Safe on one database context because the query runs serially.
/// </summary>
/// <param name="read">Reads the values of distinct keys; a key it leaves out has no value (see <see cref="Load(TKey, TValue)"/>).</param>
public sealed class Batch<TKey, TValue>(Func<IReadOnlyCollection<TKey>, CancellationToken, Task<IReadOnlyDictionary<TKey, TValue>>> read)
    where TKey : notnull
{
    private readonly Lock _door = new();
    private Lot? _open;

    /// <summary>Joins the open lot. The result is <paramref name="missing"/> for a key that the read leaves out.</summary>
    public IDataLoaderResult<TValue> Load(TKey key, TValue missing)
    {
        lock (_door)
        {
            _open ??= new Lot(this);
            _open.Keys.Add(key);
            return new Ticket(_open, key, missing);
        }
    }

    /// <summary>Joins the open lot with a key that is certain to be found, such as the other end of a foreign key.</summary>
    public IDataLoaderResult<TValue> Load(TKey key) => Load(key, default!);

    private sealed class Lot(Batch<TKey, TValue> batch)
    {
        private Task<IReadOnlyDictionary<TKey, TValue>>? _answer;

        public HashSet<TKey> Keys { get; } = [];

        public Task<IReadOnlyDictionary<TKey, TValue>> Answer(CancellationToken cancellation)
        {
            lock (batch._door)
            {
                if (batch._open == this) batch._open = null;
                return _answer ??= Read(cancellation);
            }
        }

        private async Task<IReadOnlyDictionary<TKey, TValue>> Read(CancellationToken cancellation)
        {
            // Leaves the lock before the read begins.
            await Task.Yield();
            return await batch._read(Keys, cancellation);
        }
    }

    private readonly Func<IReadOnlyCollection<TKey>, CancellationToken, Task<IReadOnlyDictionary<TKey, TValue>>> _read = read;

    private sealed class Ticket(Lot lot, TKey key, TValue missing) : IDataLoaderResult<TValue>
    {
        public async Task<TValue> GetResultAsync(CancellationToken cancellationToken = default) =>
            (await lot.Answer(cancellationToken)).TryGetValue(key, out var value) ? value : missing;

        async Task<object?> IDataLoaderResult.GetResultAsync(CancellationToken cancellationToken) =>
            await GetResultAsync(cancellationToken);
    }
}
