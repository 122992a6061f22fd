using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Domain.Kits;

/// <summary>One line of a list that serves whichever of several variants the pump turns out to be.</summary>
/// <param name="Serves">The variants for which some of it is needed.</param>
public sealed record CoveringLine(
    string Part, string Name, string Kind, long Quantity, Money UnitCost, Money Cost, Quantity Available, long Short, IReadOnlyList<string> Serves);

/// <summary>What the list means if the pump turns out to be this variant.</summary>
/// <param name="OwnCost">What its own kit alone would cost.</param>
/// <param name="Carried">What the list costs beyond that.</param>
/// <param name="Returns">Whole pieces of the list that go back to stock unopened.</param>
/// <param name="Returned">What these are worth.</param>
/// <param name="Loose">Pieces left over out of the packs that were opened.</param>
/// <param name="Complete">The list covers everything the variant needs.</param>
public sealed record CoveringOutcome(
    string Variant, bool Complete, Money OwnCost, Money Carried, IReadOnlyList<KitSurplus> Returns, Money Returned, IReadOnlyList<KitSurplus> Loose);

/// <summary>The cheapest list that holds everything any one of several variants needs.</summary>
public sealed record CoveringKit(IReadOnlyList<CoveringLine> Lines, Money TotalCost, long PiecesShort, IReadOnlyList<CoveringOutcome> Outcomes)
{
    public const int Fewest = 2, Most = 16;

    // Ways of use that a supply may have over all variants together; beyond them the exact answer would take too long.
    private const int MostWays = 16;

    /// <summary>
    /// Finds the list: fewest pieces left uncovered, then least cost, then fewest pieces short, then fewest lines; equals by part number. Exact.
    /// </summary>
    /// <remarks>
    /// One piece may serve each variant, since the pump is only one of them. A mode of a supply is therefore one way of use for every variant
    /// at once. A need of two variants that the same supplies meet in the same way is one need, the larger of the two: whatever covers it
    /// covers the smaller. So variants that differ in little make a problem hardly larger than one variant's.
    /// </remarks>
    /// <param name="catalogues">One for each variant, all of the same moment.</param>
    /// <returns>The list, or <c>TOO_FEW_VARIANTS</c>, <c>TOO_MANY_VARIANTS</c> or <c>TOO_MANY_WAYS</c>.</returns>
    /// <exception cref="OperationCanceledException">Cancelled before the best list was proved.</exception>
    public static Outcome<CoveringKit> Find(IReadOnlyList<KitCatalogue> catalogues, JobScope scope, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(catalogues);
        if (catalogues.Count < Fewest) return new Refusal("TOO_FEW_VARIANTS", $"It takes at least {Fewest} variants.", "Ask for the variant's own kit.");
        if (catalogues.Count > Most)
            return new Refusal("TOO_MANY_VARIANTS", $"More than {Most} variants are left.", "Ask one more question first: a list for all of them would be most of the shelf.");

        var sides = catalogues.Select(catalogue => new Side(catalogue, new(catalogue.Variant.Code, scope, []))).ToList();
        var keys = sides.SelectMany(side => side.Offers.Keys).Distinct().OrderBy(key => key.Number).ThenBy(key => key.Origin).ToList();
        if (keys.Exists(key => sides.Aggregate(1L, (ways, side) => Math.Min(MostWays + 1, ways * side.WaysOf(key).Count)) > MostWays))
            return new Refusal("TOO_MANY_WAYS", "The variants' needs are too different for one list.", "Ask one more question first.");

        var (demand, itemOf) = Merge(sides, keys);
        var solution = KitSolver.Solve(new CoverProblem(demand, [.. keys.Select(key => Supply(sides, key, itemOf))]), cancellation);
        var quantities = solution.Quantities.Select(ways => ways.Sum()).ToList();

        var outcomes = new List<CoveringOutcome>();
        var usedBy = keys.ConvertAll(_ => new List<string>());
        foreach (var side in sides)
        {
            var own = KitAnswering.Answer(side.Catalogue, side.Question, cancellation).Result;
            var outOf = KitAnswering.Answer(OnlyFrom(side.Catalogue, keys, quantities), side.Question, cancellation).Result;
            var used = outOf.Lines.ToDictionary(line => new PartNumber(line.Part), line => line.Quantity);
            var returns = new List<(KitOffer Offer, long Pieces)>();
            for (var at = 0; at < keys.Count; at++)
            {
                var taken = side.Offers.ContainsKey(keys[at]) ? used.GetValueOrDefault(keys[at].Number) : 0;
                if (taken > 0) usedBy[at].Add(side.Question.Variant);
                if (quantities[at] > taken) returns.Add((OfferOf(sides, keys[at]), quantities[at] - taken));
            }
            outcomes.Add(new(side.Question.Variant, outOf.Complete, own.TotalCost, Money.FromTenThousandths(solution.Objective.Cost) - own.TotalCost,
                [.. returns.Select(entry => new KitSurplus(TextOf(entry.Offer), Quantity.FromWhole(entry.Pieces)))],
                returns.Aggregate(Money.FromTenThousandths(0), (sum, entry) => sum + entry.Offer.Cost * entry.Pieces), outOf.Surplus));
        }
        return new CoveringKit(
            [.. keys.Select((key, at) => (Offer: OfferOf(sides, key), Pieces: quantities[at], Serves: usedBy[at])).Where(line => line.Pieces > 0)
                .Select(line => new CoveringLine(TextOf(line.Offer), line.Offer.Name, line.Offer.Kind, line.Pieces, line.Offer.Cost, line.Offer.Cost * line.Pieces,
                    line.Offer.Available, Math.Max(0, line.Pieces - line.Offer.Available.WholeFloor), line.Serves))],
            Money.FromTenThousandths(solution.Objective.Cost), solution.Objective.Short, outcomes);
    }

    private readonly record struct OfferKey(PartNumber Number, KitOrigin Origin);

    /// <summary>One variant: what it needs, and what may be offered to it.</summary>
    private sealed class Side
    {
        private static readonly IReadOnlyList<KitWay> None = [new([], [])];

        public Side(KitCatalogue catalogue, KitQuestion question)
        {
            (Catalogue, Question) = (catalogue, question);
            var succession = new KitSuccession(catalogue.Supersessions);
            Demand = new KitDemand(catalogue, question, succession);
            Offers = new KitOffers(catalogue, Demand, succession).Usable.ToDictionary(offer => new OfferKey(offer.Number, offer.Origin));
        }

        public KitCatalogue Catalogue { get; }
        public KitQuestion Question { get; }
        public KitDemand Demand { get; }
        public IReadOnlyDictionary<OfferKey, KitOffer> Offers { get; }

        /// <summary>How one piece can serve this variant; one way that serves nothing where it may not be offered.</summary>
        public IReadOnlyList<KitWay> WaysOf(OfferKey key) => Offers.TryGetValue(key, out var offer) ? offer.Ways : None;
    }

    /// <summary>Needs of all sides that the same supplies meet in the same ways become one, as large as the largest.</summary>
    private static (long[] Demand, Dictionary<(int Side, int Item), int> ItemOf) Merge(List<Side> sides, List<OfferKey> keys)
    {
        var bySignature = new Dictionary<string, int>(StringComparer.Ordinal);
        var itemOf = new Dictionary<(int, int), int>();
        var demand = new List<long>();
        for (var at = 0; at < sides.Count; at++)
            for (var item = 0; item < sides[at].Demand.Items.Count; item++)
            {
                // Several ways are this side's own choice: only needs met in a single way by each supply are shared between sides.
                var met = keys.Select((key, place) => (place, Pieces: sides[at].WaysOf(key).Select(way => PiecesOf(way, item)).ToList()))
                    .Where(entry => entry.Pieces.Exists(pieces => pieces > 0)).ToList();
                var isShared = met.TrueForAll(entry => entry.Pieces.Count == 1);
                var signature = (isShared ? "" : $"{at}:{item}:") + sides[at].Demand.Items[item].Number.Key + string.Concat(met.Select(entry => $" {entry.place}x{entry.Pieces[0]}"));
                if (!bySignature.TryGetValue(signature, out var merged))
                {
                    bySignature.Add(signature, merged = demand.Count);
                    demand.Add(0);
                }
                itemOf.Add((at, item), merged);
                demand[merged] = Math.Max(demand[merged], sides[at].Demand.Wanted[item]);
            }
        return ([.. demand], itemOf);
    }

    private static long PiecesOf(KitWay way, int item) => way.Covers.Where(cover => cover.Item == item).Sum(cover => cover.Pieces);

    private static CoverSupply Supply(List<Side> sides, OfferKey key, Dictionary<(int Side, int Item), int> itemOf)
    {
        // One way for every side: all combinations, of which there is mostly one.
        List<Dictionary<int, long>> modes = [[]];
        for (var at = 0; at < sides.Count; at++)
        {
            var side = at;
            modes = [.. modes.SelectMany(_ => sides[side].WaysOf(key), (mode, way) =>
            {
                var with = new Dictionary<int, long>(mode);
                foreach (var cover in way.Covers) with[itemOf[(side, cover.Item)]] = Math.Max(with.GetValueOrDefault(itemOf[(side, cover.Item)]), cover.Pieces);
                return with;
            })];
        }
        var offer = OfferOf(sides, key);
        return new(offer.Cost.TenThousandths,
            [.. modes.Select(mode => CoverMode.Covering([.. mode.OrderBy(cover => cover.Key).Select(cover => new ItemPieces(cover.Key, cover.Value))]))],
            offer.Available.WholeFloor, offer.Limit, offer.IsPack);
    }

    private static KitOffer OfferOf(List<Side> sides, OfferKey key) => sides.First(side => side.Offers.ContainsKey(key)).Offers[key];

    private static string TextOf(KitOffer offer) => offer.Part?.Number.Text ?? offer.Number.Text;

    /// <summary>The same catalogue with nothing to be had but what is on the list.</summary>
    private static KitCatalogue OnlyFrom(KitCatalogue catalogue, List<OfferKey> keys, List<long> quantities)
    {
        var parts = new Dictionary<PartNumber, long>();
        var pairs = new HashSet<PartNumber>();
        for (var at = 0; at < keys.Count; at++)
        {
            if (keys[at].Origin == KitOrigin.Paired && quantities[at] > 0) pairs.Add(keys[at].Number);
            else if (keys[at].Origin != KitOrigin.Paired) parts[keys[at].Number] = quantities[at];
        }
        return catalogue with
        {
            Parts = catalogue.Parts.ToDictionary(part => part.Key,
                part => part.Value with { Supplied = false, Available = Quantity.FromWhole(parts.GetValueOrDefault(part.Key)) }),
            Pairs = [.. catalogue.Pairs.Where(pair => pairs.Contains(new PartNumber(pair.Tag)))],
        };
    }
}
