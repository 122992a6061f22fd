using System.Numerics;

namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>
/// The least sum of squared deviations by shortest chains of exchanges: valves are placed one after the other, each by the cheapest chain
/// there is, which keeps the whole optimal for the valves placed so far. A valve may also be laid on a shelf, which has room for so
/// many; what it costs to lie there decides how hard the search tries to pair it.
/// </summary>
/// <remarks>
/// <para>
/// The prices of housings and shelves are the duals of the assignment problem: no price is above <see cref="_idle"/>, which is the price
/// of whatever is left idle (free housings, shelves with room), and every placed valve is where its cost less the price is least. When all
/// valves are placed and every housing is used or idle, the prices prove the optimum; at any time they prove a bound.
/// </para>
/// <para>
/// The search may begin with prices from elsewhere (<see cref="LinePrices"/>). Placements that these prices do not prove are given
/// up; a housing given up that way is vacant: neither used nor idle, because its price says that it is wanted. Valves are placed in vacant
/// housings like in idle ones; what is still vacant at the end is made idle along cheapest chains too.
/// </para>
/// <para>
/// Shelves make a greatest number of pairs (laying down costs more than any exchange gains), an exact number of pairs (lying is the best
/// there is, but with just so much room), and least numbers per class (a shelf per class with less room).
/// </para>
/// </remarks>
/// <typeparam name="T">Wide enough for the sum of all squares and shelf costs; a narrower one throws <see cref="OverflowException"/>.</typeparam>
internal sealed partial class LeastDeviation<T> where T : struct, IBinaryInteger<T>
{
    private const int Idle = -1;
    private const int Vacant = -2;

    private readonly PairingPool _pool;
    private readonly BandOfValves _band;
    private readonly Shelves _shelves;
    private readonly T _layDown;
    private readonly int _housings;

    private readonly PriceBlocks<T> _price;
    private readonly T[] _shelfPrice;
    private T _idle;
    private readonly int[] _placeOf;
    private readonly int[] _valveIn;
    private readonly List<int>[] _lying;

    private readonly T[] _distance;
    private readonly int[] _reachedBy;
    private readonly int[] _reachedIn;
    private readonly NearestFirst<T> _open = new();
    private readonly List<int> _settled = [];
    private int _turn;
    private T? _end;
    private long _looks;

    /// <param name="layDown">What a valve on a shelf costs.</param>
    public LeastDeviation(PairingPool pool, Shelves shelves, T layDown)
    {
        (_pool, _band, _shelves, _layDown) = (pool, BandOfValves.Of(pool), shelves, layDown);
        _housings = pool.Housings.Count;
        var places = _housings + shelves.Room.Length;
        (_price, _shelfPrice, _distance) = (new(_housings), new T[shelves.Room.Length], new T[places]);
        (_reachedBy, _reachedIn) = (new int[places], new int[places]);
        _placeOf = new int[pool.Valves.Count];
        Array.Fill(_placeOf, -1);
        _valveIn = new int[_housings];
        Array.Fill(_valveIn, Idle);
        _lying = [.. shelves.Room.Select(_ => new List<int>())];
    }

    /// <summary>For each valve its housing, or −1 if it lies on a shelf or is not placed.</summary>
    public int[] HousingOf => Array.ConvertAll(_placeOf, place => place < _housings ? place : -1);

    /// <returns>Whether the optimum was reached before the search had looked at so many places.</returns>
    public bool Complete(long mostLooks, CancellationToken cancellation)
    {
        for (var valve = 0; valve < _placeOf.Length; valve++)
        {
            if (_placeOf[valve] >= 0) continue;
            cancellation.ThrowIfCancellationRequested();
            if (_looks > mostLooks) return false;
            Begin();
            Look(valve, T.Zero, vacantOnly: false);
            Search(vacantOnly: false);
        }
        for (var vacant = _valveIn.Count(valve => valve == Vacant); vacant > 0; vacant--)
        {
            cancellation.ThrowIfCancellationRequested();
            if (_looks > mostLooks) return false;
            LeaveOneIdle();
        }
        return true;
    }

    private void Begin()
    {
        _turn++;
        _end = null;
        _open.Clear();
        _settled.Clear();
    }

    /// <summary>
    /// One more idle housing: what is idle presses on all that is used or vacant, by as much as its price is above theirs, until a vacant
    /// housing gives way. The price of idleness falls to where that happens.
    /// </summary>
    private void LeaveOneIdle()
    {
        Begin();
        // Vacant ones first: they are the ends, and what is no nearer than the nearest of them need not be looked at.
        for (var housing = 0; housing < _housings; housing++)
            if (_valveIn[housing] == Vacant) Offer(-1, housing, _idle - _price[housing], isEnd: true);
        for (var housing = 0; housing < _housings; housing++)
            if (_valveIn[housing] >= 0) Offer(-1, housing, _idle - _price[housing], isEnd: false);
        for (var shelf = 0; shelf < _lying.Length; shelf++)
            if (_lying[shelf].Count > 0) Offer(-1, _housings + shelf, _idle - Price(_housings + shelf), isEnd: false);
        _looks += _housings;
        _idle -= Search(vacantOnly: true);
        for (var housing = 0; housing < _housings; housing++)
            if (_valveIn[housing] == Idle) _price[housing] = _idle;
    }

    /// <returns>The length of the chain that was taken.</returns>
    private T Search(bool vacantOnly)
    {
        while (true)
        {
            var (distance, place) = _open.Take();
            if (distance > _distance[place]) continue;
            if (IsEnd(place, vacantOnly))
            {
                Finish(place, distance);
                return distance;
            }
            _settled.Add(place);
            if (place < _housings) LookOn(_valveIn[place], place, distance, vacantOnly);
            else
                foreach (var lying in _lying[place - _housings]) LookOn(lying, place, distance, vacantOnly);
        }
    }

    private bool HasRoom(int shelf) => _lying[shelf].Count < _shelves.Room[shelf];

    private bool IsEnd(int place, bool vacantOnly) => place < _housings
        ? _valveIn[place] == Vacant || (_valveIn[place] == Idle && !vacantOnly)
        : !vacantOnly && HasRoom(place - _housings);

    private T Price(int place) => place < _housings ? _price[place] : HasRoom(place - _housings) ? _idle : _shelfPrice[place - _housings];

    private void SetPrice(int place, T price)
    {
        if (place < _housings) _price[place] = price;
        else _shelfPrice[place - _housings] = price;
    }

    private T Cost(int valve, int place) => place < _housings ? Squared(_pool.Deviation(place, valve)) : _layDown;

    private static T Squared(long deviation)
    {
        var wide = T.CreateTruncating(deviation);
        return wide * wide;
    }

    /// <summary>Changes the prices so that the chain costs nothing, and takes it. Where it ends the price stays.</summary>
    private void Finish(int place, T distance)
    {
        var price = Price(place);
        foreach (var settled in _settled) SetPrice(settled, Price(settled) - (distance - _distance[settled]));
        SetPrice(place, price);
        while (true)
        {
            var valve = _reachedBy[place];
            if (valve < 0)
            {
                if (place < _housings) _valveIn[place] = Idle;
                return;
            }
            var left = _placeOf[valve];
            if (left >= _housings) _lying[left - _housings].Remove(valve);
            Put(valve, place);
            if (left < 0) return;
            place = left;
        }
    }

    private void Put(int valve, int place)
    {
        _placeOf[valve] = place;
        if (place >= _housings) _lying[place - _housings].Add(valve);
        else _valveIn[place] = valve;
    }
}
