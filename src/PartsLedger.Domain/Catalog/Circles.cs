namespace PartsLedger.Domain.Catalog;

/// <summary>
/// Finds which of the arrows that are to be added would close a circle (a pack that holds itself at some depth, a number that replaces
/// itself in the end). The arrows that are there already have none.
/// </summary>
public static class Circles
{
    /// <summary>One added arrow that closes a circle, by its place in the list, and the circle: first and last node are the same.</summary>
    public sealed record Circle(int Added, IReadOnlyList<int> Nodes);

    /// <summary>
    /// Takes the added arrows in their order; one that would close a circle is named and left out, so the same list always loses the
    /// same arrows. Takes time in proportion to the arrows unless there are circles.
    /// </summary>
    public static IReadOnlyList<Circle> ClosedBy(
        IEnumerable<(int From, int To)> existing, IReadOnlyList<(int From, int To)> added)
    {
        var all = existing.ToList();
        var suspects = OnOrBetweenCircles(all.Concat(added));
        if (suspects.Count == 0) return [];

        var next = new Dictionary<int, List<int>>();
        foreach (var (from, to) in all)
            if (suspects.Contains(from) && suspects.Contains(to)) Add(next, from, to);

        var found = new List<Circle>();
        for (var at = 0; at < added.Count; at++)
        {
            var (from, to) = added[at];
            if (!suspects.Contains(from) || !suspects.Contains(to)) continue;
            if (Path(next, to, from) is { } path) found.Add(new Circle(at, [from, .. path]));
            else Add(next, from, to);
        }
        return found;
    }

    /// <summary>What is left when nodes without an arrow in or without an arrow out are taken away again and again.</summary>
    private static HashSet<int> OnOrBetweenCircles(IEnumerable<(int From, int To)> arrows)
    {
        Dictionary<int, List<int>> forward = [], backward = [];
        Dictionary<int, int> outgoing = [], incoming = [];
        foreach (var (from, to) in arrows)
        {
            Add(forward, from, to);
            Add(backward, to, from);
            outgoing[from] = outgoing.GetValueOrDefault(from) + 1;
            incoming[to] = incoming.GetValueOrDefault(to) + 1;
        }
        var left = forward.Keys.Concat(backward.Keys).ToHashSet();
        Peel(left, incoming, forward);
        Peel(left, outgoing, backward);
        return left;
    }

    private static void Peel(HashSet<int> left, Dictionary<int, int> degree, Dictionary<int, List<int>> next)
    {
        var free = new Stack<int>(left.Where(node => degree.GetValueOrDefault(node) == 0));
        while (free.TryPop(out var node))
        {
            left.Remove(node);
            foreach (var neighbour in next.GetValueOrDefault(node) ?? [])
                if (--degree[neighbour] == 0 && left.Contains(neighbour)) free.Push(neighbour);
        }
    }

    /// <summary>A shortest way, first arrows first; null when there is none.</summary>
    private static List<int>? Path(Dictionary<int, List<int>> next, int start, int goal)
    {
        var cameFrom = new Dictionary<int, int> { [start] = start };
        var waiting = new Queue<int>([start]);
        while (waiting.TryDequeue(out var node))
        {
            if (node == goal)
            {
                var path = new List<int> { node };
                while (node != start) path.Add(node = cameFrom[node]);
                path.Reverse();
                return path;
            }
            foreach (var neighbour in next.GetValueOrDefault(node) ?? [])
                if (cameFrom.TryAdd(neighbour, node)) waiting.Enqueue(neighbour);
        }
        return null;
    }

    private static void Add(Dictionary<int, List<int>> next, int from, int to)
    {
        if (!next.TryGetValue(from, out var list)) next.Add(from, list = []);
        list.Add(to);
    }
}
