using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Domain.Kits;

/// <summary>
/// Answers what kit a job needs, provably best: least left uncovered; then cost, pieces short, surplus and lines, or pieces short before
/// cost; ties by part number. The same catalogue and question give the same answer, in whatever order the catalogue lists things.
/// </summary>
public static class KitAnswering
{
    /// <returns>The answer, or <c>UNKNOWN_POSITION</c> when a worn position is none of the variant's.</returns>
    /// <exception cref="OperationCanceledException">Cancelled before the best list was proved.</exception>
    public static Outcome<KitAnswer> Answer(KitCatalogue catalogue, KitQuestion question, CancellationToken cancellation = default) =>
        Case(catalogue, question).Then<KitAnswer>(one => Answer(one, null, cancellation));

    /// <summary>What a question comes to before anything is chosen.</summary>
    /// <param name="without">A kind of part that is not used; null uses every kind.</param>
    internal static Outcome<KitCase> Case(KitCatalogue catalogue, KitQuestion question, PartKind? without = null)
    {
        ArgumentNullException.ThrowIfNull(catalogue);
        ArgumentNullException.ThrowIfNull(question);
        if (UnknownPosition(catalogue.Variant, question.Worn) is { } refusal) return refusal;
        var succession = new KitSuccession(catalogue.Supersessions);
        var demand = new KitDemand(catalogue, question, succession);
        return new KitCase(catalogue, question, succession, demand, new KitOffers(catalogue, demand, succession, without));
    }

    /// <summary>The best list.</summary>
    /// <param name="with">One of this is in the list whatever it costs, if it serves anything at all.</param>
    internal static KitAnswer Answer(KitCase one, PartNumber? with, CancellationToken cancellation) =>
        Describe(one, KitSolver.Solve(Problem(one.Demand, one.Offers.Usable, one.Question.Prefer, with), cancellation));

    private static Refusal? UnknownPosition(KitVariant variant, IReadOnlyList<int> worn)
    {
        var known = variant.Positions.Select(position => position.Number).ToHashSet();
        var unknown = worn.Where(number => !known.Contains(number)).Order().Select(number => (int?)number).FirstOrDefault();
        if (unknown is not { } position) return null;
        var nearest = Nearest.To(KitWords.Whole(position), known.Select(number => KitWords.Whole(number)));
        return new("UNKNOWN_POSITION", $"Variant {variant.Code} has no position {KitWords.Whole(position)}.",
            nearest.Count == 0 ? "Its parts list has no positions yet." : $"The nearest known ones are {KitWords.Listed(nearest)}.");
    }

    private static CoverProblem Problem(KitDemand demand, IReadOnlyList<KitOffer> offers, KitPreference prefer, PartNumber? with) => new(
        demand.Wanted,

        // One of what is taken in any case is paid for already: the best list is the one that does best with what it brings.
        [.. offers.Select(offer => (Offer: offer, IsTaken: with is { } taken && offer.Part?.Number == taken))
            .Select(one => new CoverSupply(one.IsTaken ? 0 : one.Offer.Cost.TenThousandths, [.. one.Offer.Ways.Select(way => Mode(demand, one.Offer, way))],
                one.Offer.Available.WholeFloor, one.IsTaken ? Math.Min(one.Offer.Limit ?? 1, 1) : one.Offer.Limit, one.Offer.IsPack))],
        prefer == KitPreference.Stock);

    private static CoverMode Mode(KitDemand demand, KitOffer offer, KitWay way)
    {
        if (!offer.IsPack) return new(way.Covers, [], 0);
        var brings = new List<ItemPieces>();
        long unneeded = 0;
        foreach (var (part, quantity) in way.Pieces)
        {
            if (demand.ItemOf(part) is { } item) brings.Add(new(item, quantity.Thousandths));
            else unneeded = checked(unneeded + quantity.Thousandths);
        }
        return new(way.Covers, [.. brings.Where(pieces => pieces.Pieces > 0)], unneeded);
    }

    private static KitAnswer Describe(KitCase one, CoverSolution solution)
    {
        var (catalogue, question, succession, demand, offers) = one;
        var used = new List<KitUse>();
        for (var at = 0; at < offers.Usable.Count; at++)
            if (solution.Quantities[at].Sum() > 0) used.Add(new(offers.Usable[at], solution.Quantities[at]));
        var left = KitUse.Allocate(demand, used);

        var words = new KitWords(catalogue, question, succession, demand, offers);
        var uncovered = new List<KitUncovered>();
        for (var at = 0; at < left.Length; at++)
        {
            if (left[at] == 0) continue;
            var share = demand.Shares[at];
            uncovered.Add(new(share.Position.Number, demand.Items[share.Item].Number.Text, Quantity.FromThousandths(left[at]),
                words.WhyUncovered(share.Item, used)));
        }
        var surplus = Surplus(catalogue, demand, used);
        var lines = used.Select(use => Line(use, words.WhyLine(use))).ToList();
        return new(catalogue.Variant.Code, catalogue.Variant.Family, catalogue.Variant.PressureClass, question.Scope, question.Prefer,
            uncovered.Count == 0,
            [.. demand.Positions.Select(position => new KitNeed(
                position.Number, position.Name, catalogue.Parts[position.Part].Number.Text, position.Quantity, words.WhyNeeded(position)))],
            lines, surplus, uncovered,
            lines.Aggregate(Money.Zero, (sum, line) => sum + line.Cost), solution.Objective.Short, Quantity.FromThousandths(solution.Objective.Surplus),
            [.. catalogue.Cautions.OrderByDescending(caution => caution.Severity).ThenBy(caution => caution.Text, StringComparer.Ordinal)],
            [.. catalogue.Checks.OrderBy(check => check.Sequence).ThenBy(check => check.Text, StringComparer.Ordinal)],
            [.. catalogue.Tools.OrderBy(tool => tool.Name, StringComparer.Ordinal).ThenBy(tool => tool.Note, StringComparer.Ordinal)]);
    }

    private static KitLine Line(KitUse use, string why)
    {
        var offer = use.Offer;
        return new(offer.Part?.Number.Text ?? offer.Number.Text, offer.Name, offer.Kind, use.Quantity,
            [.. use.Covered.Select(covered => covered.Position).Distinct().Order()], offer.Cost, offer.Cost * use.Quantity,
            offer.Available, Math.Max(0, use.Quantity - offer.Available.WholeFloor), why);
    }

    private static List<KitSurplus> Surplus(KitCatalogue catalogue, KitDemand demand, List<KitUse> used)
    {
        var comesOut = new SortedDictionary<PartNumber, Quantity>();
        foreach (var use in used.Where(use => use.Offer.IsPack))
            for (var way = 0; way < use.Offer.Ways.Count; way++)
                foreach (var (part, quantity) in use.Offer.Ways[way].Pieces)
                    comesOut[part] = comesOut.GetValueOrDefault(part) + quantity * use.Quantities[way];
        var surplus = new List<KitSurplus>();
        foreach (var (part, quantity) in comesOut)
        {
            var wanted = demand.ItemOf(part) is { } item ? Quantity.FromThousandths(demand.Wanted[item]) : Quantity.Zero;
            if (quantity > wanted) surplus.Add(new(catalogue.Parts[part].Number.Text, quantity - wanted, ComesWithValve(part)));
        }
        return surplus;

        bool ComesWithValve(PartNumber part) => catalogue.Variant.ValveFit == ValveFit.Selective && catalogue.Parts[part].Kind == PartKind.Housing
            && used.Exists(use => use.Offer.Ways.Any(way => way.Pieces.Any(piece => piece.Part == part) && way.Pieces.Any(piece => catalogue.Parts[piece.Part].Kind == PartKind.Valve)));
    }
}
