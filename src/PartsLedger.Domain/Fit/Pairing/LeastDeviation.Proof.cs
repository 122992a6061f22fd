using System.Numerics;

namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>Beginning with prices from elsewhere, and what the prices prove.</summary>
internal sealed partial class LeastDeviation<T>
{
    /// <summary>Takes over prices and those places that they prove.</summary>
    /// <param name="prices">Of the housings, at most zero; zero for housings without a valve.</param>
    public void BeginWith(T[] prices, int[] housingOf)
    {
        for (var housing = 0; housing < _housings; housing++)
        {
            _price[housing] = prices[housing];
            _valveIn[housing] = T.IsZero(prices[housing]) ? Idle : Vacant;
        }
        for (var valve = 0; valve < _placeOf.Length; valve++)
        {
            var shelf = _shelves.Of[valve];
            if (housingOf[valve] is >= 0 and var housing)
            {
                if (_pool.Fits(housing, valve) && Cost(valve, housing) - prices[housing] <= Least(valve)) Put(valve, housing);
            }
            else if (HasRoom(shelf) && _layDown <= Least(valve)) Put(valve, _housings + shelf);
        }
    }

    /// <summary>
    /// No placement of all valves costs less: each valve costs at least its least cost less price, and each place can be paid for
    /// only as often as it has room.
    /// </summary>
    public BigInteger Bound()
    {
        var bound = BigInteger.Zero;
        for (var valve = 0; valve < _placeOf.Length; valve++) bound += BigInteger.CreateChecked(Least(valve) + _idle);
        for (var place = 0; place < _distance.Length; place++)
            bound += BigInteger.CreateChecked(Price(place) - _idle) * (place < _housings ? 1 : _shelves.Room[place - _housings]);
        return bound;
    }
}
