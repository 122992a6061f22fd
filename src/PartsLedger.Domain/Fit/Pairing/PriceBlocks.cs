using System.Numerics;

namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>
/// Prices of housings, and for blocks of neighbours a price that none of them is above: what a whole block has to offer can be told without
/// looking at its housings. Prices only fall, so a block's greatest price stays a bound until it is worked out again.
/// </summary>
internal sealed class PriceBlocks<T> where T : struct, IBinaryInteger<T>
{
    /// <summary>A block holds two to this power of neighbours.</summary>
    public const int Bits = 5;

    private readonly T[] _prices;
    private readonly T[] _greatest;
    private readonly bool[] _stale;

    public PriceBlocks(int housings)
    {
        _prices = new T[housings];
        _greatest = new T[(housings >> Bits) + 1];
        _stale = new bool[_greatest.Length];
    }

    public ReadOnlySpan<T> Prices => _prices;

    public T this[int housing]
    {
        get => _prices[housing];
        set
        {
            _prices[housing] = value;
            _stale[housing >> Bits] = true;
        }
    }

    public T Greatest(int block)
    {
        if (!_stale[block]) return _greatest[block];
        _stale[block] = false;
        var from = block << Bits;
        var greatest = _prices[from];
        foreach (var price in _prices.AsSpan(from, Math.Min(1 << Bits, _prices.Length - from))) greatest = T.Max(greatest, price);
        return _greatest[block] = greatest;
    }
}
