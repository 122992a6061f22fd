namespace PartsLedger.Domain.Identification.Planning;

/// <summary>What is left to find out about a set, in bits, and what finding it out costs at least.</summary>
internal sealed class PlanInformation(PlanProblem problem)
{
    private readonly long[] _weightOfKit = new long[problem.Groups.Length];
    private readonly List<int> _kits = [];

    /// <summary>Groups looked at so far: the measure of the work done.</summary>
    public long Visited { get; private set; }

    /// <summary>The entropy of the kits by weight; 0 when the set is done.</summary>
    public double Bits(CandidateSet set)
    {
        var total = Gather(set);
        var bits = 0.0;
        foreach (var kit in _kits)
        {
            var share = _weightOfKit[kit] / (double)total;
            bits -= share * Math.Log2(share);
        }
        return _kits.Count == 1 ? 0 : bits;
    }

    /// <summary>
    /// Seconds that no plan for the set goes below; 0 where some value is missing, because then nothing is proved. The better of two
    /// bounds: all bits bought where they are cheapest, and a Huffman code's number of questions at the cheapest question's price.
    /// </summary>
    /// <remarks>
    /// Bits: the kits' entropy is at most what the answers tell. Asked with chance x, a question with k values tells at most x log2 k bits
    /// and costs x of its seconds; and since nobody is asked the same twice, it tells in all at most the entropy of its own answers. A kit
    /// that is reached on several ways counts, for the code, where it is reached first, which only lowers the bound.
    /// </remarks>
    public double LeastSeconds(CandidateSet set)
    {
        if (problem.HasMissing || problem.IsDone(set)) return 0;
        var offers = new List<(double SecondsPerBit, double Bits)>();
        var (most, cheapest) = (0, int.MaxValue);
        foreach (var feature in problem.Features)
        {
            if (problem.Split(set, feature) is not { } branches) continue;
            most = Math.Max(most, branches.Length);
            cheapest = Math.Min(cheapest, feature.Feature.Seconds);
            offers.Add((feature.Feature.Seconds / Math.Log2(branches.Length), -branches.Sum(branch => branch.Share * Math.Log2(branch.Share))));
        }
        if (offers.Count == 0) return 0;

        var (left, seconds) = (Bits(set), 0.0);
        foreach (var (secondsPerBit, bits) in offers.OrderBy(offer => offer.SecondsPerBit))
        {
            var bought = Math.Min(left, bits);
            seconds += bought * secondsPerBit;
            left -= bought;
        }
        return Math.Max(seconds, cheapest * HuffmanLength(most));
    }

    /// <summary>The average length of a Huffman code with so many symbols over the kits gathered last.</summary>
    private double HuffmanLength(int symbols)
    {
        var waiting = new PriorityQueue<long, long>();
        long total = 0;
        foreach (var kit in _kits)
        {
            waiting.Enqueue(_weightOfKit[kit], _weightOfKit[kit]);
            total += _weightOfKit[kit];
        }
        while ((waiting.Count - 1) % (symbols - 1) != 0) waiting.Enqueue(0, 0);
        var length = 0.0;
        while (waiting.Count > 1)
        {
            long sum = 0;
            for (var taken = 0; taken < symbols; taken++) sum += waiting.Dequeue();
            length += sum / (double)total;
            waiting.Enqueue(sum, sum);
        }
        return length;
    }

    private long Gather(CandidateSet set)
    {
        foreach (var kit in _kits) _weightOfKit[kit] = 0;
        _kits.Clear();
        long total = 0;
        foreach (var at in set)
        {
            Visited++;
            var kit = problem.Kits[at];
            if (_weightOfKit[kit] == 0) _kits.Add(kit);
            _weightOfKit[kit] += problem.Weights[at];
            total += problem.Weights[at];
        }
        return total;
    }
}
