namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>How a valve looks at the places where it could be.</summary>
internal sealed partial class LeastDeviation<T>
{
    private const int Bits = PriceBlocks<long>.Bits;

    /// <summary>A valve that must leave its place looks on: what it costs elsewhere counts beyond what it costs here.</summary>
    private void LookOn(int valve, int place, T distance, bool vacantOnly) =>
        Look(valve, distance - (Cost(valve, place) - Price(place)), vacantOnly);

    /// <summary>
    /// Offers every place, the nearest to the target first, block by block. A block whose nearest housing at the block's greatest price is no
    /// nearer than the nearest end known has nothing to offer.
    /// </summary>
    private void Look(int valve, T sofar, bool vacantOnly)
    {
        var shelf = _housings + _shelves.Of[valve];
        Offer(valve, shelf, sofar + (_layDown - Price(shelf)), IsEnd(shelf, vacantOnly));
        var (first, end) = (_band.First[valve], _band.End[valve]);
        if (first >= end) return;
        var middle = Math.Clamp(_band.Nearest[valve], first, end - 1) >> Bits;
        for (var block = middle; block << Bits < end; block++) LookInto(block, valve, sofar, first, end, vacantOnly);
        for (var block = middle - 1; block >= 0 && (block + 1) << Bits > first; block--) LookInto(block, valve, sofar, first, end, vacantOnly);
    }

    private void LookInto(int block, int valve, T sofar, int first, int end, bool vacantOnly)
    {
        var from = Math.Max(first, block << Bits);
        var to = Math.Min(end, (block + 1) << Bits);
        _looks++;
        if (_end is { } known && sofar + (Nearest(valve, from, to) - _price.Greatest(block)) >= known) return;
        _looks += to - from;
        var best = _pool.Valves.Size[valve] + _pool.Target;
        var sizes = _pool.Housings.Size;
        var prices = _price.Prices;
        for (var housing = from; housing < to; housing++)
        {
            var distance = sofar + (Squared(sizes[housing] - best) - prices[housing]);
            if (_end is { } nearest && distance >= nearest) continue;
            if (_reachedIn[housing] == _turn && distance >= _distance[housing]) continue;
            if (vacantOnly && _valveIn[housing] == Idle) continue;
            if (_pool.Fits(housing, valve)) Offer(valve, housing, distance, IsEnd(housing, vacantOnly));
        }
    }

    /// <summary>The least square that a housing between two others can have.</summary>
    private T Nearest(int valve, int from, int to)
    {
        var nearest = _band.Nearest[valve];
        if (from >= nearest) return Squared(_pool.Deviation(from, valve));
        return to <= nearest ? Squared(_pool.Deviation(to - 1, valve)) : T.Zero;
    }

    private void Offer(int valve, int place, T distance, bool isEnd)
    {
        if (_end is { } end && distance >= end) return;
        if (_reachedIn[place] == _turn && distance >= _distance[place]) return;
        _reachedIn[place] = _turn;
        (_distance[place], _reachedBy[place]) = (distance, valve);
        _open.Add(place, distance);
        if (isEnd) _end = distance;
    }

    /// <summary>A valve's least cost less price over all places.</summary>
    private T Least(int valve)
    {
        var least = _layDown - Price(_housings + _shelves.Of[valve]);
        var (first, end) = (_band.First[valve], _band.End[valve]);
        if (first >= end) return least;
        for (var block = first >> Bits; block << Bits < end; block++)
        {
            var from = Math.Max(first, block << Bits);
            var to = Math.Min(end, (block + 1) << Bits);
            if (Nearest(valve, from, to) - _price.Greatest(block) >= least) continue;
            for (var housing = from; housing < to; housing++)
                if (Cost(valve, housing) - _price[housing] is var here && here < least && _pool.Fits(housing, valve)) least = here;
        }
        return least;
    }
}
