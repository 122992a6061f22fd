using System.Numerics;

namespace PartsLedger.Domain.Identification.Planning;

/// <summary>A set of candidates by their places. Sets of one problem have the same number of words.</summary>
internal readonly struct CandidateSet : IEquatable<CandidateSet>
{
    private const int WordBits = 64;

    private readonly ulong[] _words;

    private CandidateSet(ulong[] words) => _words = words;

    public static CandidateSet Of(IEnumerable<int> places, int size)
    {
        var words = new ulong[(size + WordBits - 1) / WordBits];
        foreach (var place in places) words[place / WordBits] |= 1UL << (place % WordBits);
        return new(words);
    }

    public bool IsEmpty => !_words.AsSpan().ContainsAnyExcept(0UL);

    public int Count
    {
        get
        {
            var count = 0;
            foreach (var word in _words) count += BitOperations.PopCount(word);
            return count;
        }
    }

    /// <summary>The lowest place. Not for an empty set.</summary>
    public int First
    {
        get
        {
            var at = 0;
            while (_words[at] == 0) at++;
            return at * WordBits + BitOperations.TrailingZeroCount(_words[at]);
        }
    }

    public bool Intersects(CandidateSet other)
    {
        for (var at = 0; at < _words.Length; at++)
            if ((_words[at] & other._words[at]) != 0) return true;
        return false;
    }

    public bool IsSubsetOf(CandidateSet other)
    {
        for (var at = 0; at < _words.Length; at++)
            if ((_words[at] & ~other._words[at]) != 0) return false;
        return true;
    }

    public static CandidateSet operator &(CandidateSet left, CandidateSet right)
    {
        var words = new ulong[left._words.Length];
        for (var at = 0; at < words.Length; at++) words[at] = left._words[at] & right._words[at];
        return new(words);
    }

    public static CandidateSet operator |(CandidateSet left, CandidateSet right)
    {
        var words = new ulong[left._words.Length];
        for (var at = 0; at < words.Length; at++) words[at] = left._words[at] | right._words[at];
        return new(words);
    }

    public Enumerator GetEnumerator() => new(_words);

    public bool Equals(CandidateSet other) => _words.AsSpan().SequenceEqual(other._words);
    public override bool Equals(object? obj) => obj is CandidateSet other && Equals(other);

    public override int GetHashCode()
    {
        var hash = 0UL;
        foreach (var word in _words) hash = unchecked((hash ^ word) * 0x9E37_79B9_7F4A_7C15UL);
        return (int)(hash >> 33);
    }

    /// <summary>Places in ascending order.</summary>
    public struct Enumerator(ulong[] words)
    {
        private int _at = -1;
        private ulong _rest;

        public int Current { get; private set; }

        public bool MoveNext()
        {
            while (_rest == 0)
            {
                if (++_at == words.Length) return false;
                _rest = words[_at];
            }
            Current = _at * WordBits + BitOperations.TrailingZeroCount(_rest);
            _rest &= _rest - 1;
            return true;
        }
    }
}
