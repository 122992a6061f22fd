using System.Numerics;

namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>
/// The least sum of squared deviations by shortest chains of exchanges: valves are placed one after the other, each by the cheapest chain
/// there is, which keeps the whole optimal for the valves placed so far. A valve may also be laid on a shelf, which has room for so
/// many; what it costs to lie there decides how hard the search tries to pair it.
/// </summary>
/// <remarks>
/// The prices of housings and shelves are the duals of the assignment problem; every step keeps each valve where price plus cost is
/// least for it. So the last prices prove the optimum. Shelves make a greatest number of pairs (laying down costs more than any exchange
/// gains), an exact number of pairs (free, but with just so much room), and least numbers per class (a shelf per class with less room).
/// </remarks>
/// <typeparam name="T">Wide enough for the sum of all squares and shelf costs; a narrower one throws <see cref="OverflowException"/>.</typeparam>
internal sealed class LeastDeviation<T> where T : struct, IBinaryInteger<T>
{
    private readonly PairingPool _pool;
    private readonly FitGraph _graph;
    private readonly Shelves _shelves;
    private readonly T _layDown;
    private readonly int _housings;
    private readonly int _places;

    private readonly T[] _price;
    private readonly int[] _placeOf;
    private readonly int[] _valveIn;
    private readonly List<int>[] _lying;

    private readonly T[] _distance;
    private readonly int[] _reachedBy;
    private readonly int[] _reachedIn;
    private readonly int[] _open;
    private readonly int[] _settled;
    private int _opened;
    private int _settledCount;
    private int _turn;
    private T? _end;

    private LeastDeviation(PairingPool pool, FitGraph graph, Shelves shelves, T layDown)
    {
        (_pool, _graph, _shelves, _layDown) = (pool, graph, shelves, layDown);
        _housings = pool.Housings.Count;
        _places = _housings + shelves.Room.Length;
        (_price, _distance) = (new T[_places], new T[_places]);
        (_reachedBy, _reachedIn, _open, _settled) = (new int[_places], new int[_places], new int[_places], new int[_places]);
        _placeOf = new int[pool.Valves.Count];
        Array.Fill(_placeOf, -1);
        _valveIn = new int[_housings];
        Array.Fill(_valveIn, -1);
        _lying = [.. shelves.Room.Select(_ => new List<int>())];
    }

    /// <returns>For each valve its housing, or −1 if it lies on a shelf.</returns>
    /// <param name="layDown">What a valve on a shelf costs.</param>
    public static int[] Find(PairingPool pool, FitGraph graph, Shelves shelves, T layDown, CancellationToken cancellation)
    {
        var search = new LeastDeviation<T>(pool, graph, shelves, layDown);
        for (var valve = 0; valve < pool.Valves.Count; valve++)
        {
            cancellation.ThrowIfCancellationRequested();
            search.Place(valve);
        }
        return [.. search._placeOf.Select(place => place < search._housings ? place : -1)];
    }

    private void Place(int valve)
    {
        _turn++;
        _end = null;
        (_opened, _settledCount) = (0, 0);
        Look(valve, T.Zero);
        while (true)
        {
            var (place, distance) = Nearest();
            if (place < _housings)
            {
                if (_valveIn[place] < 0)
                {
                    Finish(place, distance);
                    return;
                }
                LookOn(_valveIn[place], place, distance);
            }
            else
            {
                var shelf = place - _housings;
                if (_lying[shelf].Count < _shelves.Room[shelf])
                {
                    Finish(place, distance);
                    return;
                }
                foreach (var lying in _lying[shelf]) LookOn(lying, place, distance);
            }
        }
    }

    /// <summary>A valve that must leave its place looks on: what it costs elsewhere counts beyond what it costs here.</summary>
    private void LookOn(int valve, int place, T distance) => Look(valve, distance - (Cost(valve, place) - _price[place]));

    private void Look(int valve, T sofar)
    {
        var shelf = _shelves.Of[valve];
        Offer(valve, _housings + shelf, sofar + (_layDown - _price[_housings + shelf]), _lying[shelf].Count < _shelves.Room[shelf]);
        for (var arc = _graph.Start[valve]; arc < _graph.Start[valve + 1]; arc++)
        {
            // Prices are never above zero and the arcs go from near to far: beyond the nearest end known there is nothing to find.
            var housing = _graph.Housings[arc];
            var squared = Squared(valve, housing);
            if (_end is { } end && sofar + squared >= end) return;
            Offer(valve, housing, sofar + (squared - _price[housing]), _valveIn[housing] < 0);
        }
    }

    private void Offer(int valve, int place, T distance, bool isEnd)
    {
        if (_end is { } end && distance >= end) return;
        if (_reachedIn[place] != _turn)
        {
            _reachedIn[place] = _turn;
            _open[_opened++] = place;
        }
        else if (distance >= _distance[place]) return;
        (_distance[place], _reachedBy[place]) = (distance, valve);
        if (isEnd) _end = distance;
    }

    /// <summary>Takes the nearest place out of the open ones.</summary>
    private (int Place, T Distance) Nearest()
    {
        var at = 0;
        for (var other = 1; other < _opened; other++)
            if (_distance[_open[other]] < _distance[_open[at]]) at = other;
        var place = _open[at];
        _open[at] = _open[--_opened];
        _settled[_settledCount++] = place;
        return (place, _distance[place]);
    }

    private void Finish(int place, T distance)
    {
        // The last one settled is where the chain ends: its price stays.
        for (var at = 0; at < _settledCount - 1; at++) _price[_settled[at]] -= distance - _distance[_settled[at]];
        while (place >= 0)
        {
            var valve = _reachedBy[place];
            var left = _placeOf[valve];
            if (left >= _housings) _lying[left - _housings].Remove(valve);
            _placeOf[valve] = place;
            if (place >= _housings) _lying[place - _housings].Add(valve);
            else _valveIn[place] = valve;
            place = left;
        }
    }

    private T Cost(int valve, int place) => place < _housings ? Squared(valve, place) : _layDown;

    private T Squared(int valve, int housing)
    {
        var deviation = T.CreateTruncating(_pool.Deviation(housing, valve));
        return deviation * deviation;
    }
}
