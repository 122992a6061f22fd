using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Kits;

/// <summary>
/// What may be offered for a variant's needs: parts and packs sold by themselves, old numbers used up from the shelf, matched pairs.
/// Here stand the rules of service, pressure class and selective fit.
/// </summary>
internal sealed class KitOffers
{
    private readonly KitCatalogue _catalogue;
    private readonly KitDemand _demand;
    private readonly KitSuccession _succession;
    private readonly Dictionary<PartNumber, PackContent[]> _inside;
    private readonly HashSet<PartNumber> _housings;
    private readonly Dictionary<PartNumber, bool> _otherClass = [];

    /// <param name="without">A kind that is not offered at all; null offers every kind.</param>
    public KitOffers(KitCatalogue catalogue, KitDemand demand, KitSuccession succession, PartKind? without = null)
    {
        (_catalogue, _demand, _succession) = (catalogue, demand, succession);
        _inside = catalogue.Contents.GroupBy(content => content.Pack).ToDictionary(
            contents => contents.Key, contents => contents.OrderBy(content => content.Part).ThenBy(content => content.Quantity).ToArray());
        _housings = [.. catalogue.Variant.Positions.Where(position => catalogue.Parts[position.Part].Kind == PartKind.Housing)
            .SelectMany(position => succession.Chain(position.Part))];
        var useful = Sold().Concat(UsedUp()).Concat(Paired()).Where(offer => offer.Ways.Any(way => way.Covers.Count > 0))
            .Where(offer => without is null || offer.Part?.Kind != without)
            .OrderBy(offer => offer.Number).ThenBy(offer => offer.Origin).ToList();
        Usable = [.. useful.Where(offer => !offer.OfOtherClass)];
        OfOtherClass = [.. useful.Where(offer => offer.OfOtherClass)];
    }

    /// <summary>What may be used, in the order that breaks ties; some of it may be limited to none.</summary>
    public IReadOnlyList<KitOffer> Usable { get; }

    /// <summary>What would serve a need but is of another pressure class.</summary>
    public IReadOnlyList<KitOffer> OfOtherClass { get; }

    /// <summary>Whether the parts list names a housing at all: without one, no selectively fitted valve can be matched to it.</summary>
    public bool KnowsHousing => _housings.Count > 0;

    public bool IsFittedBySelection(KitPart part) => _catalogue.Variant.ValveFit == ValveFit.Selective && part.Kind == PartKind.Valve;

    public bool IsPack(PartNumber part) => _inside.ContainsKey(part);

    /// <summary>Packs that may be sold by themselves, list an old number of the item inside and would be offered otherwise, in order.</summary>
    public IEnumerable<(KitPart Pack, KitPart Old)> PacksWithOldNumberOf(int item) =>
        from pack in _catalogue.Parts.Values
        where pack.Service == PartService.Separate && !_succession.IsOld(pack.Number) && IsPack(pack.Number) && !IsOfOtherClass(pack.Number)
        let old = Out([(pack.Number, Quantity.FromWhole(1))], inAssembly: false, keepWhole: false).Pieces.Select(piece => piece.Part).Order()
            .FirstOrDefault(part => _succession.IsOld(part)
                && _succession.Today(part, Quantity.FromWhole(1)).Any(today => today.Part == _demand.Items[item].Number))
        where !old.IsEmpty
        orderby pack.Number
        select (pack, _catalogue.Parts[old]);

    private IEnumerable<KitOffer> Sold() =>
        from part in _catalogue.Parts.Values
        where part.Service == PartService.Separate && !_succession.IsOld(part.Number)
        where _demand.ItemOf(part.Number) is not null || IsPack(part.Number)
        select new KitOffer(part.Number, part, KitOrigin.Sold, part.Name, Words.Of(part.Kind), part.Cost, part.Available,
            part.Supplied ? null : part.Available.WholeFloor, IsPack(part.Number),
            Ways([(part.Number, Quantity.FromWhole(1))], inAssembly: false), IsOfOtherClass(part.Number));

    private IEnumerable<KitOffer> UsedUp() =>
        from part in _catalogue.Parts.Values
        where _succession.IsUsedUp(part.Number)
        let standsFor = _succession.Today(part.Number, Quantity.FromWhole(1))
        select new KitOffer(part.Number, part, KitOrigin.UsedUp, part.Name, Words.Of(part.Kind), part.Cost, part.Available,
            part.Available.WholeFloor, false, Ways(standsFor, inAssembly: false),
            IsOfOtherClass(part.Number) || standsFor.Any(today => IsOfOtherClass(today.Part)));

    private IEnumerable<KitOffer> Paired() =>
        from pair in _catalogue.Pairs
        where pair.Family == _catalogue.Variant.Family
        let housing = _catalogue.Parts[pair.Housing]
        let valve = _catalogue.Parts[pair.Valve]
        select new KitOffer(new PartNumber(pair.Tag), null, KitOrigin.Paired, $"Matched pair: {housing.Name} with {valve.Name}", "pair",
            pair.Cost, Quantity.FromWhole(1), 1, true,
            Ways([(pair.Housing, Quantity.FromWhole(1)), (pair.Valve, Quantity.FromWhole(1))], inAssembly: true),
            pair.PressureClass != _catalogue.Variant.PressureClass || IsOfOtherClass(pair.Housing) || IsOfOtherClass(pair.Valve));

    private KitWay[] Ways(IReadOnlyList<(PartNumber Part, Quantity Quantity)> roots, bool inAssembly)
    {
        var opened = Out(roots, inAssembly, keepWhole: false);
        var open = Way(opened, opened.WithHousing);
        if (!opened.WithNeededPack) return [open];
        var kept = Way(Out(roots, inAssembly, keepWhole: true), opened.WithHousing);
        // Opening adds nothing where no item gets more pieces than out of what was left whole.
        var adds = open.Covers.Any(cover => kept.Covers.FirstOrDefault(other => other.Item == cover.Item).Pieces < cover.Pieces);
        return adds ? [kept, open] : [kept];
    }

    private Contents Out(IReadOnlyList<(PartNumber Part, Quantity Quantity)> roots, bool inAssembly, bool keepWhole)
    {
        var contents = new Contents();
        foreach (var (part, quantity) in roots) Open(part, quantity, inAssembly, inAssembly, keepWhole, contents);
        return contents;
    }

    private void Open(PartNumber part, Quantity quantity, bool inKit, bool inAssembly, bool keepWhole, Contents contents)
    {
        contents.WithHousing |= _housings.Count > 0 && _housings.Contains(part);
        if (!_inside.TryGetValue(part, out var inside))
        {
            contents.Pieces.Add(new(part, quantity, inKit, inAssembly));
            return;
        }
        if (_demand.ItemOf(part) is not null)
        {
            contents.WithNeededPack = true;
            if (keepWhole)
            {
                contents.Pieces.Add(new(part, quantity, inKit, inAssembly));
                return;
            }
        }
        var kind = _catalogue.Parts[part].Kind;
        inAssembly |= kind == PartKind.Assembly;
        inKit |= inAssembly || kind == PartKind.Kit;
        foreach (var content in inside) Open(content.Part, quantity * content.Quantity, inKit, inAssembly, keepWhole, contents);
    }

    private KitWay Way(Contents contents, bool withHousing)
    {
        // One pack's contents stand in order already; the sort keeps equal numbers as they come, and they are added up.
        var all = new List<(PartNumber Part, Quantity Quantity)>(contents.Pieces.Count);
        var covers = new List<ItemPieces>();
        foreach (var piece in Ordered(contents.Pieces))
        {
            if (all.Count > 0 && all[^1].Part == piece.Part) all[^1] = (piece.Part, all[^1].Quantity + piece.Quantity);
            else all.Add((piece.Part, piece.Quantity));
            if (piece.Quantity <= Quantity.Zero || _demand.ItemOf(piece.Part) is not { } item || !MayServe(piece, withHousing)) continue;
            if (covers.Count > 0 && covers[^1].Item == item) covers[^1] = new(item, checked(covers[^1].Pieces + piece.Quantity.Thousandths));
            else covers.Add(new(item, piece.Quantity.Thousandths));
        }
        return new(all, covers);
    }

    private static List<Piece> Ordered(List<Piece> pieces)
    {
        for (var at = 1; at < pieces.Count; at++)
            if (pieces[at - 1].Part > pieces[at].Part) return [.. pieces.OrderBy(piece => piece.Part)];
        return pieces;
    }

    private bool MayServe(Piece piece, bool withHousing)
    {
        var part = _catalogue.Parts[piece.Part];
        if (IsFittedBySelection(part) && !withHousing) return false;
        return part.Service switch
        {
            PartService.Separate => true,
            PartService.KitOnly => piece.InKit,
            PartService.AssemblyOnly => piece.InAssembly,
            PartService.None => false,
            _ => throw new ArgumentOutOfRangeException(nameof(piece), part.Service, "No such service."),
        };
    }

    private bool IsOfOtherClass(PartNumber part)
    {
        if (_otherClass.TryGetValue(part, out var known)) return known;
        var own = _catalogue.Parts[part].PressureClass;
        return _otherClass[part] = (own is not null && own != _catalogue.Variant.PressureClass)
            || (_inside.TryGetValue(part, out var contents) && contents.Any(content => IsOfOtherClass(content.Part)));
    }

    /// <summary>What comes out when something is opened.</summary>
    private sealed class Contents
    {
        public List<Piece> Pieces { get; } = [];

        /// <summary>The variant's own housing is among it, at whatever level.</summary>
        public bool WithHousing { get; set; }

        /// <summary>A pack that is itself needed is among it.</summary>
        public bool WithNeededPack { get; set; }
    }

    /// <param name="InKit">It comes out of a pack of kind kit or assembly.</param>
    /// <param name="InAssembly">It comes out of a pack of kind assembly.</param>
    private readonly record struct Piece(PartNumber Part, Quantity Quantity, bool InKit, bool InAssembly);
}
