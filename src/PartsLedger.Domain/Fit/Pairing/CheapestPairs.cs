namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>The least cost of one pair, two pairs and so on to the greatest number, by a min-cost flow that grows along cheapest chains.</summary>
/// <remarks>
/// Prices keep every arc's reduced cost at or above zero. Each round finds how much dearer the next chain is, changes the prices so that the
/// cheapest chains consist of arcs of reduced cost zero, and takes chains of such arcs as long as there are any: all of them cost
/// the same, so a round is needed for each different cost of a chain, not for each pair.
/// </remarks>
internal sealed class CheapestPairs
{
    private readonly int[] _start;
    private readonly int[] _housings;
    private readonly long[] _costs;
    private readonly int[] _housingOf;
    private readonly int[] _valveOf;
    private readonly long[] _valvePrice;
    private readonly long[] _housingPrice;
    private readonly int[] _triedIn;
    private readonly int[] _arc;
    private int _round;

    private CheapestPairs(int[] start, int[] housings, long[] costs, int housingCount)
    {
        (_start, _housings, _costs) = (start, housings, costs);
        var valves = start.Length - 1;
        (_housingOf, _valveOf) = (new int[valves], new int[housingCount]);
        Array.Fill(_housingOf, -1);
        Array.Fill(_valveOf, -1);
        (_valvePrice, _housingPrice) = (new long[valves], new long[housingCount]);
        (_triedIn, _arc) = (new int[housingCount], new int[valves]);
    }

    /// <param name="start">Arcs of valve v stand from start[v] to start[v + 1].</param>
    /// <returns>For each valve its housing or −1, and the least cost of one pair, two pairs, ….</returns>
    public static (int[] HousingOf, List<long> LeastCost) Find(
        int[] start, int[] housings, long[] costs, int housingCount, int mostPairs, CancellationToken cancellation)
    {
        var flow = new CheapestPairs(start, housings, costs, housingCount);
        var (leastCost, total) = (new List<long>(), 0L);
        while (leastCost.Count < mostPairs && flow.Reprice(cancellation) is { } chain)
        {
            flow._round++;
            for (var valve = 0; valve < flow._arc.Length; valve++) flow._arc[valve] = start[valve];
            for (var valve = 0; valve < flow._housingOf.Length && leastCost.Count < mostPairs; valve++)
                if (flow._housingOf[valve] < 0 && flow.Take(valve)) leastCost.Add(total += chain);
        }
        return (flow._housingOf, leastCost);
    }

    /// <summary>Finds the cheapest chain from any free valve to any free housing and changes the prices so that it is all zeros.</summary>
    /// <returns>What the chain costs, or null if there is none.</returns>
    private long? Reprice(CancellationToken cancellation)
    {
        cancellation.ThrowIfCancellationRequested();
        var (valves, housings) = (_housingOf.Length, _valveOf.Length);
        var (valveAt, housingAt) = (new long[valves], new long[housings]);
        Array.Fill(valveAt, long.MaxValue);
        Array.Fill(housingAt, long.MaxValue);
        var queue = new PriorityQueue<int, long>();
        for (var valve = 0; valve < valves; valve++)
            if (_housingOf[valve] < 0) Leave(valve, 0);
        var end = -1L;
        while (queue.TryDequeue(out var housing, out var distance))
        {
            if (distance > housingAt[housing]) continue;
            if (_valveOf[housing] < 0)
            {
                end = distance;
                break;
            }
            // Back along a pair costs nothing: its reduced cost is zero.
            if (valveAt[_valveOf[housing]] == long.MaxValue) Leave(_valveOf[housing], distance);
        }
        if (end < 0) return null;
        for (var valve = 0; valve < valves; valve++) _valvePrice[valve] += Math.Min(valveAt[valve], end);
        for (var housing = 0; housing < housings; housing++) _housingPrice[housing] += Math.Min(housingAt[housing], end);
        // Free valves have price zero throughout and free housings all have the same: its price is what a chain costs.
        return _housingPrice[Array.IndexOf(_valveOf, -1)];

        void Leave(int valve, long distance)
        {
            valveAt[valve] = distance;
            for (var arc = _start[valve]; arc < _start[valve + 1]; arc++)
            {
                var housing = _housings[arc];
                var there = distance + Reduced(valve, arc);
                if (there >= housingAt[housing]) continue;
                housingAt[housing] = there;
                queue.Enqueue(housing, there);
            }
        }
    }

    private long Reduced(int valve, int arc) => _costs[arc] + _valvePrice[valve] - _housingPrice[_housings[arc]];

    /// <summary>Takes a chain of reduced cost zero from a free valve, if there is one left this round.</summary>
    private bool Take(int first)
    {
        var chain = new List<int> { first };
        while (chain.Count > 0)
        {
            var valve = chain[^1];
            if (_arc[valve] == _start[valve + 1])
            {
                chain.RemoveAt(chain.Count - 1);
                if (chain.Count > 0) _arc[chain[^1]]++;
                continue;
            }
            var housing = _housings[_arc[valve]];
            if (Reduced(valve, _arc[valve]) != 0 || _triedIn[housing] == _round)
            {
                _arc[valve]++;
                continue;
            }
            _triedIn[housing] = _round;
            if (_valveOf[housing] >= 0)
            {
                chain.Add(_valveOf[housing]);
                continue;
            }
            foreach (var link in chain)
            {
                var taken = _housings[_arc[link]];
                (_housingOf[link], _valveOf[taken]) = (taken, link);
                _arc[link]++;
            }
            return true;
        }
        return false;
    }
}
