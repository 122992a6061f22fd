namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>
/// Chains of exchanges that end in one more pair: a valve takes a housing, whose valve takes another, until a free housing is reached.
/// A search touches each housing once, found through <see cref="CoverTree"/>s, never an arc of the fitting graph one by one.
/// </summary>
internal sealed class Exchanges
{
    private readonly PairingPool _pool;
    private readonly int[] _housingOf;
    private readonly int[] _valveOf;
    private readonly CancellationToken _cancellation;
    private readonly Dictionary<int, CoverTree> _trees;
    private readonly Dictionary<int, int[]> _valvesOfClass;
    private readonly int[] _reachedBy;
    private readonly bool[] _queued;
    private readonly List<(CoverTree Tree, int Leaf)> _reached = [];
    private readonly List<int> _queue = [];
    private readonly Dictionary<int, int> _givenUpFor = [];

    /// <param name="housingOf">Changed in place, like <paramref name="valveOf"/>.</param>
    public Exchanges(PairingPool pool, int[] housingOf, int[] valveOf, CancellationToken cancellation)
    {
        (_pool, _housingOf, _valveOf, _cancellation) = (pool, housingOf, valveOf, cancellation);
        _trees = Enumerable.Range(0, pool.Housings.Count).GroupBy(housing => pool.Housings.Class[housing])
            .ToDictionary(group => group.Key, group => new CoverTree(pool, [.. group]));
        _valvesOfClass = Enumerable.Range(0, pool.Valves.Count).GroupBy(valve => pool.Valves.Class[valve])
            .ToDictionary(group => group.Key, group => group.ToArray());
        _reachedBy = new int[pool.Housings.Count];
        _queued = new bool[pool.Valves.Count];
    }

    /// <summary>
    /// One more pair for a class while every class keeps the number it has. A class's valve may be given up for another of its class.
    /// </summary>
    public bool ServeOneMore(int of)
    {
        Begin();
        _givenUpFor.Clear();
        _givenUpFor[of] = -1;
        QueueFree(of);
        var end = Reach(exchangeWithinClass: true);
        if (end >= 0) Take(end);
        PutBack();
        return end >= 0;
    }

    /// <summary>
    /// All further pairs there can be. What a failed search touched never leads to a free housing again, since no chain enters it from
    /// outside without leaving the same way: it stays out of the trees.
    /// </summary>
    public void Complete()
    {
        _givenUpFor.Clear();
        foreach (var valve in Enumerable.Range(0, _pool.Valves.Count))
        {
            if (_housingOf[valve] >= 0) continue;
            Begin();
            Queue(valve);
            var end = Reach(exchangeWithinClass: false);
            if (end < 0) continue;
            Take(end);
            PutBack();
        }
    }

    private void Begin()
    {
        _cancellation.ThrowIfCancellationRequested();
        foreach (var valve in _queue) _queued[valve] = false;
        _queue.Clear();
        _reached.Clear();
    }

    private void Queue(int valve)
    {
        if (_queued[valve]) return;
        _queued[valve] = true;
        _queue.Add(valve);
    }

    private void QueueFree(int of)
    {
        if (!_valvesOfClass.TryGetValue(of, out var valves)) return;
        foreach (var valve in valves)
            if (_housingOf[valve] < 0) Queue(valve);
    }

    /// <returns>A free housing that was reached, or −1.</returns>
    private int Reach(bool exchangeWithinClass)
    {
        for (var head = 0; head < _queue.Count; head++)
        {
            var valve = _queue[head];
            var own = _pool.Valves.Class[valve];
            if (own != 0 && Reach(valve, own, exchangeWithinClass) is >= 0 and var ownEnd) return ownEnd;
            if (Reach(valve, 0, exchangeWithinClass) is >= 0 and var end) return end;
        }
        return -1;
    }

    private int Reach(int valve, int of, bool exchangeWithinClass)
    {
        if (!_trees.TryGetValue(of, out var tree)) return -1;
        while (tree.TakeCovering(_pool.ValveLow(valve), _pool.ValveHigh(valve)) is >= 0 and var leaf)
        {
            _reached.Add((tree, leaf));
            var housing = tree.Housing(leaf);
            _reachedBy[housing] = valve;
            if (_valveOf[housing] is not (>= 0 and var next)) return housing;
            Queue(next);
            if (exchangeWithinClass && _givenUpFor.TryAdd(_pool.Valves.Class[next], next)) QueueFree(_pool.Valves.Class[next]);
        }
        return -1;
    }

    private void Take(int housing)
    {
        while (true)
        {
            var valve = _reachedBy[housing];
            var left = _housingOf[valve];
            (_housingOf[valve], _valveOf[housing]) = (housing, valve);
            if (left < 0)
            {
                // The chain began at a free valve: of the class to be served, of any class, or in place of one that is given up for it.
                if (!_givenUpFor.TryGetValue(_pool.Valves.Class[valve], out var givenUp) || givenUp < 0) return;
                left = _housingOf[givenUp];
                _housingOf[givenUp] = -1;
            }
            housing = left;
        }
    }

    private void PutBack()
    {
        foreach (var (tree, leaf) in _reached) tree.PutBack(leaf);
    }
}
