using GraphQL.DataLoader;

namespace PartsLedger.Hosting.GraphQl;

/// <summary>What every paged list says of its two arguments.</summary>
public static class PageArguments
{
    public const string First = "At most so many entries, 1 to 100.";
    public const string After = "Go on behind this cursor, taken from the same list; from the beginning when left out.";
}

/// <summary>
/// A paged list below each of many rows, read in one statement for all rows that ask for the same page: the first entries of every
/// row's list. Its order is the order of entry, because a list's ids are the one order that every row's list shares.
/// </summary>
public sealed class WindowedBatch<T>(string kind, Func<T, int> id, Func<int[], int, int, CancellationToken, Task<List<(int Owner, T Item)>>> read)
    where T : notnull
{
    private readonly Dictionary<PageRequest, Batch<int, Connection<T>>> _pages = [];

    /// <exception cref="QueryRefused">The page's size or cursor is of no use.</exception>
    public IDataLoaderResult<Connection<T>> Load(int owner, int first, string? after)
    {
        var page = PageRequest.Read(kind, first, after).OrRefuse();
        var from = page.After is null ? 0 : int.TryParse(page.After, out var number) ? number : throw new QueryRefused(PageRequest.BadCursor);
        if (!_pages.TryGetValue(page, out var batch))
            _pages.Add(page, batch = new((owners, cancellation) => Read(page, from, owners, cancellation)));
        return batch.Load(owner, Connection.Of(kind, Page.Of<T>(page, [], Place)));
    }

    private async Task<IReadOnlyDictionary<int, Connection<T>>> Read(
        PageRequest page, int from, IReadOnlyCollection<int> owners, CancellationToken cancellation) =>
        (await read([.. owners], from, page.First + 1, cancellation)).GroupBy(found => found.Owner, found => found.Item)
            .ToDictionary(group => group.Key, group => Connection.Of(kind, Page.Of<T>(page, [.. group.OrderBy(id)], Place)));

    private string Place(T item) => id(item).ToString(System.Globalization.CultureInfo.InvariantCulture);
}
