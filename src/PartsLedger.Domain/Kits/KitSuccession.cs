using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Kits;

/// <summary>What became of a number: every supersession followed to the current part or set of parts.</summary>
internal sealed class KitSuccession(IEnumerable<Supersession> supersessions)
{
    private readonly Dictionary<PartNumber, Supersession[]> _steps = supersessions.GroupBy(step => step.Old)
        .ToDictionary(steps => steps.Key, steps => steps.OrderBy(step => step.New).ThenBy(step => step.Quantity).ToArray());

    public bool IsOld(PartNumber part) => _steps.ContainsKey(part);

    /// <summary>Whether pieces of the old number that are on the shelf still count as what replaces it.</summary>
    public bool IsUsedUp(PartNumber part) => StepsOf(part).Any(step => step.Rule == SupersessionRule.UseUp);

    /// <summary>The current parts that so many pieces of a number stand for today, each once; the number itself if it is current.</summary>
    public IReadOnlyList<(PartNumber Part, Quantity Quantity)> Today(PartNumber part, Quantity quantity)
    {
        if (!IsOld(part)) return [(part, quantity)];
        var today = new SortedDictionary<PartNumber, Quantity>();
        Follow(part, quantity);
        return [.. today.Select(entry => (entry.Key, entry.Value))];

        void Follow(PartNumber number, Quantity pieces)
        {
            var steps = StepsOf(number);
            if (steps.Length == 0) today[number] = today.GetValueOrDefault(number) + pieces;
            foreach (var step in steps) Follow(step.New, pieces * step.Quantity);
        }
    }

    /// <summary>The number and every later one on its way to today.</summary>
    public IReadOnlySet<PartNumber> Chain(PartNumber part)
    {
        var chain = new HashSet<PartNumber>();
        Walk(part);
        return chain;

        void Walk(PartNumber number)
        {
            if (!chain.Add(number)) return;
            foreach (var step in StepsOf(number)) Walk(step.New);
        }
    }

    private Supersession[] StepsOf(PartNumber part) => _steps.GetValueOrDefault(part, []);
}
