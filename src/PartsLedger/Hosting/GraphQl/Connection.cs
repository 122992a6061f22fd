using System.ComponentModel;

namespace PartsLedger.Hosting.GraphQl;

// Lists of the API, in the shape that client libraries know by the name of cursor connections.

[NamedAfterItem("Connection")]
[Description("One page of a list, in the list's fixed order.")]
public sealed class Connection<T> where T : notnull
{
    internal Connection(IReadOnlyList<Edge<T>> edges, PageInfo pageInfo) => (Edges, PageInfo) = (edges, pageInfo);

    [Description("The page's entries, each with its cursor.")]
    public IReadOnlyList<Edge<T>> Edges { get; }

    [Description("The page's entries without their cursors.")]
    public IEnumerable<T> Nodes => Edges.Select(edge => edge.Node);

    [Description("Where the page begins and ends and whether the list goes on.")]
    public PageInfo PageInfo { get; }
}

/// <summary>Makes connections.</summary>
public static class Connection
{
    /// <summary>A page as the API shows it.</summary>
    /// <param name="kind">The list's name in its cursors, so that another list's cursor is recognised as such.</param>
    /// <param name="page">What was read.</param>
    public static Connection<T> Of<T>(string kind, Page<T> page) where T : notnull
    {
        List<Edge<T>> edges = [.. page.Entries.Select(entry => new Edge<T>(Cursor.Write(kind, entry.Place), entry.Item))];
        return new(edges, new PageInfo(page.HasNext, page.HasPrevious,
            edges is [var first, ..] ? first.Cursor : null, edges is [.., var last] ? last.Cursor : null));
    }
}

[NamedAfterItem("Edge")]
[Description("One entry of a list with its place in the list.")]
public sealed record Edge<T>(
    [property: Description("The entry's place: send it as `after` to go on behind it. Opaque; only good for the list it came from.")]
    string Cursor,
    [property: Description("The entry.")] T Node) where T : notnull;

[Description("Where a page begins and ends and whether its list goes on.")]
public sealed record PageInfo(
    [property: Description("More entries follow after `endCursor`.")] bool HasNextPage,
    [property: Description("The page was asked for with `after`, so entries come before it.")] bool HasPreviousPage,
    [property: Description("The first entry's cursor; null when the page is empty.")] string? StartCursor,
    [property: Description("The last entry's cursor; null when the page is empty.")] string? EndCursor);
