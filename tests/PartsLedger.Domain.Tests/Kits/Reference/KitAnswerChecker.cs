using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Tests.Kits.Reference;

/// <summary>
/// Reads a kit answer as a careful person would and names every rule it breaks: wrong needs, a line that may not be offered or does not
/// cover what it claims, sums that do not add up. It does not judge whether the answer is the best one. Shares no code with any solver.
/// </summary>
internal sealed partial class KitAnswerChecker
{
    private readonly KitCatalogue _catalogue;
    private readonly KitQuestion _question;
    private readonly KitAnswer _answer;
    private readonly List<string> _breaches = [];
    private readonly SortedDictionary<int, KitPosition> _renewed = [];
    private readonly Dictionary<(int Position, PartNumber Item), long> _wanted = [];

    private KitAnswerChecker(KitCatalogue catalogue, KitQuestion question, KitAnswer answer)
    {
        (_catalogue, _question, _answer) = (catalogue, question, answer);
        foreach (var position in catalogue.Variant.Positions)
            if (Renews(position)) _renewed.Add(position.Number, position);
        foreach (var position in _renewed.Values)
            foreach (var (item, thousandths) in Today(position.Part, position.Quantity.Thousandths))
                _wanted.Add((position.Number, item), thousandths);
    }

    /// <summary>One sentence for every breach found; empty for a sound answer.</summary>
    public static IReadOnlyList<string> Breaches(KitCatalogue catalogue, KitQuestion question, KitAnswer answer)
    {
        var checker = new KitAnswerChecker(catalogue, question, answer);
        checker.CheckHeading();
        checker.CheckNeeds();
        var lines = answer.Lines.Select(checker.CheckLine).ToArray();
        checker.CheckSums();
        // What a line brings is only known for lines that may be offered at all.
        if (checker._breaches.Count == 0) checker._breaches.AddRange(checker.BreachesOfCover(lines));
        return checker._breaches;
    }

    private void CheckHeading()
    {
        var variant = _catalogue.Variant;
        Require(_answer.Variant == variant.Code && _answer.Family == variant.Family && _answer.PressureClass == variant.PressureClass,
            "the answer is about another variant");
        Require(_answer.Scope == _question.Scope && _answer.Prefer == _question.Prefer, "the answer is to another question");
        Require(_answer.Complete == (_answer.Uncovered.Count == 0), "complete and uncovered contradict each other");
    }

    private void CheckNeeds()
    {
        Require(_answer.Needs.Select(need => need.Position).SequenceEqual(_renewed.Keys),
            "the needs are not the renewed positions in order");
        foreach (var need in _answer.Needs)
        {
            if (!_renewed.TryGetValue(need.Position, out var position)) continue;
            Require(need.Name == position.Name && need.Part == position.Part.Text && need.Quantity == position.Quantity,
                $"need {need.Position} is not as the parts list has it");
            Require(!string.IsNullOrWhiteSpace(need.Why), $"need {need.Position} does not say why");
        }
    }

    private void CheckSums()
    {
        Require(_answer.TotalCost.TenThousandths == _answer.Lines.Sum(line => line.Cost.TenThousandths),
            "the total cost is not the lines' sum");
        Require(_answer.PiecesShort == _answer.Lines.Sum(line => line.Short), "the pieces short are not the lines' sum");
        Require(_answer.SurplusPieces.Thousandths == _answer.Surplus.Sum(surplus => surplus.Quantity.Thousandths),
            "the surplus pieces are not the surplus list's sum");
        Require(IsAscending(_answer.Surplus.Select(surplus => new PartNumber(surplus.Part))),
            "the surplus is not in order of part numbers");
        Require(IsAscending(_answer.Uncovered.Select(uncovered => (uncovered.Position, new PartNumber(uncovered.Part)))),
            "the uncovered needs are not in order of positions");
        Require(_answer.Uncovered.All(uncovered => _wanted.ContainsKey((uncovered.Position, new(uncovered.Part)))),
            "something is uncovered that is not needed there");
        Require(_answer.Surplus.All(surplus => surplus.Quantity > Quantity.Zero), "a surplus is not above zero");
        Require(IsAscending(_answer.Lines.Select(line => new PartNumber(line.Part))),
            "the lines are not in order of part numbers, each once");
    }

    private bool Renews(KitPosition position)
    {
        if (position.Renew == RenewRule.Always || _question.Worn.Contains(position.Number)) return true;
        PartGroup[] groups = _question.Scope switch
        {
            JobScope.Rotating => [PartGroup.Rotating],
            JobScope.Valve => [PartGroup.Valve],
            JobScope.Full => [PartGroup.Rotating, PartGroup.Valve, PartGroup.Hardware],
            _ => [],
        };
        return groups.Contains(position.Group);
    }

    /// <summary>Thousandths of today's numbers that stand for so many thousandths of a number.</summary>
    private Dictionary<PartNumber, long> Today(PartNumber number, long thousandths)
    {
        var today = new Dictionary<PartNumber, long>();
        var open = new Queue<(PartNumber Number, long Thousandths)>([(number, thousandths)]);
        while (open.TryDequeue(out var entry))
        {
            var replaced = false;
            foreach (var step in _catalogue.Supersessions)
            {
                if (step.Old != entry.Number) continue;
                replaced = true;
                open.Enqueue((step.New, Times(entry.Thousandths, step.Quantity)));
            }
            if (!replaced) today[entry.Number] = today.GetValueOrDefault(entry.Number) + entry.Thousandths;
        }
        return today;
    }

    private static long Times(long thousandths, Quantity quantity)
    {
        var (whole, rest) = Math.DivRem(checked(thousandths * quantity.Thousandths), 1000);
        return rest >= 500 ? whole + 1 : whole;
    }

    private static bool IsAscending<T>(IEnumerable<T> values)
    {
        var list = values.ToArray();
        return list.Zip(list.Skip(1)).All(pair => Comparer<T>.Default.Compare(pair.First, pair.Second) < 0);
    }

    private void Require(bool holds, string breach)
    {
        if (!holds) _breaches.Add(breach);
    }
}
