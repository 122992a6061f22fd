using System.Numerics;

namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>Open places by distance: a heap in which a place may stand more than once; the nearest entry counts.</summary>
internal sealed class NearestFirst<T> where T : struct, IBinaryInteger<T>
{
    private (T Distance, int Place)[] _heap = new (T, int)[64];
    private int _count;

    public void Clear() => _count = 0;

    public void Add(int place, T distance)
    {
        if (_count == _heap.Length) Array.Resize(ref _heap, 2 * _count);
        var at = _count++;
        while (at > 0 && IsBefore((distance, place), _heap[(at - 1) / 2]))
        {
            _heap[at] = _heap[(at - 1) / 2];
            at = (at - 1) / 2;
        }
        _heap[at] = (distance, place);
    }

    public (T Distance, int Place) Take()
    {
        var nearest = _heap[0];
        var last = _heap[--_count];
        var at = 0;
        while (2 * at + 1 < _count)
        {
            var child = 2 * at + 1;
            if (child + 1 < _count && IsBefore(_heap[child + 1], _heap[child])) child++;
            if (!IsBefore(_heap[child], last)) break;
            _heap[at] = _heap[child];
            at = child;
        }
        _heap[at] = last;
        return nearest;
    }

    private static bool IsBefore((T Distance, int Place) one, (T Distance, int Place) other) =>
        one.Distance < other.Distance || (one.Distance == other.Distance && one.Place < other.Place);
}
