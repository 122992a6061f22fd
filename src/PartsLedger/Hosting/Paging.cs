using System.Globalization;
using System.Text;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Hosting;

/// <summary>Which part of a list is asked for.</summary>
/// <param name="First">At most so many entries, 1 to <see cref="MaxFirst"/>.</param>
/// <param name="After">The place in the list's order after which to go on, or null for its beginning; see <see cref="Cursor"/>.</param>
public sealed record PageRequest(int First, string? After)
{
    public const int MaxFirst = 100;
    public const int DefaultFirst = 25;

    /// <summary>
    /// A page of a list of a kind. Refuses a size outside 1..<see cref="MaxFirst"/> (<c>BAD_PAGE_SIZE</c>: a negative one would mean
    /// "no limit" to a database) and a cursor that is none of that kind's (<c>BAD_CURSOR</c>).
    /// </summary>
    public static Outcome<PageRequest> Read(string kind, int? first, string? cursor)
    {
        var size = first ?? DefaultFirst;
        if (size is < 1 or > MaxFirst)
            return new Refusal("BAD_PAGE_SIZE", $"A page of {size} cannot be had.", $"Ask for 1 to {MaxFirst} at a time and go on after the last cursor.");
        if (cursor is null) return new PageRequest(size, null);
        return Cursor.Read(kind, cursor) is { } place ? new PageRequest(size, place)
            : BadCursor;
    }

    public static Refusal BadCursor { get; } =
        new("BAD_CURSOR", "The cursor is none of this list's.", "Send back the endCursor of this same list unchanged, or none to begin again.");
}

/// <summary>One page: its entries, each with its place in the list's order, and whether more follow.</summary>
public sealed record Page<T>(IReadOnlyList<Page<T>.Entry> Entries, bool HasPrevious, bool HasNext) where T : notnull
{
    public readonly record struct Entry(string Place, T Item);

    public Page<TNext> Select<TNext>(Func<T, TNext> next) where TNext : notnull =>
        new([.. Entries.Select(entry => new Page<TNext>.Entry(entry.Place, next(entry.Item)))], HasPrevious, HasNext);
}

/// <summary>Makes pages.</summary>
public static class Page
{
    /// <summary>A page of rows of which one more than asked for was read, in the list's order.</summary>
    public static Page<T> Of<T>(PageRequest request, IReadOnlyList<T> oneMore, Func<T, string> place) where T : notnull =>
        new([.. oneMore.Take(request.First).Select(item => new Page<T>.Entry(place(item), item))],
            request.After is not null, oneMore.Count > request.First);

    /// <summary>A page of a list that is at hand as a whole; a place is the number of entries up to it.</summary>
    public static Outcome<Page<T>> Of<T>(PageRequest request, IReadOnlyList<T> all) where T : notnull
    {
        var start = 0;
        if (request.After is { } after && !int.TryParse(after, NumberStyles.None, CultureInfo.InvariantCulture, out start)) return PageRequest.BadCursor;
        return Of(request, [.. all.Index().Skip(start).Take(request.First + 1)], entry => (entry.Index + 1).ToString(CultureInfo.InvariantCulture)).Select(entry => entry.Item);
    }
}

/// <summary>A place in a list, written so that it can travel in an address and is not mistaken for another list's.</summary>
public static class Cursor
{
    // A cursor carries at most a canonical number or a code and a few digits.
    private const int MaxLength = 600;

    public static string Write(string kind, string place) =>
        Convert.ToBase64String(Encoding.UTF8.GetBytes($"{kind}:{place}")).TrimEnd('=').Replace('+', '-').Replace('/', '_');

    /// <summary>The place, or null when the cursor was not written by <see cref="Write"/> for this kind.</summary>
    public static string? Read(string kind, string cursor)
    {
        if (cursor.Length > MaxLength) return null;
        var padded = cursor.Replace('-', '+').Replace('_', '/').PadRight((cursor.Length + 3) / 4 * 4, '=');
        var bytes = new byte[padded.Length];
        if (!Convert.TryFromBase64String(padded, bytes, out var length)) return null;
        var text = Encoding.UTF8.GetString(bytes, 0, length);
        return text.StartsWith($"{kind}:", StringComparison.Ordinal) ? text[(kind.Length + 1)..] : null;
    }
}
