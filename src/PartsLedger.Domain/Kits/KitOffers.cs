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

    public KitOffers(KitCatalogue catalogue, KitDemand demand, KitSuccession succession)
    {
        (_catalogue, _demand, _succession) = (catalogue, demand, succession);
        _inside = catalogue.Contents.GroupBy(content => content.Pack).ToDictionary(
            contents => contents.Key, contents => contents.OrderBy(content => content.Part).ThenBy(content => content.Quantity).ToArray());
        _housings = [.. catalogue.Variant.Positions.Where(position => catalogue.Parts[position.Part].Kind == PartKind.Housing)
            .SelectMany(position => succession.Chain(position.Part))];
        var useful = Sold().Concat(UsedUp()).Concat(Paired()).Where(offer => offer.Ways.Any(way => way.Covers.Count > 0))
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
        let old = Pieces([(pack.Number, Quantity.FromWhole(1))], false, false).Opened.Select(piece => piece.Part).Order()
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

    private List<KitWay> Ways(IReadOnlyList<(PartNumber Part, Quantity Quantity)> roots, bool inAssembly)
    {
        var (opened, numbers) = Pieces(roots, inAssembly, keepWhole: false);
        var withHousing = numbers.Overlaps(_housings);
        if (!numbers.Any(number => IsPack(number) && _demand.ItemOf(number) is not null)) return [Way(opened, withHousing)];

        var kept = Way(Pieces(roots, inAssembly, keepWhole: true).Opened, withHousing);
        var open = Way(opened, withHousing);
        // Opening adds nothing where no item gets more pieces than out of what was left whole.
        var adds = open.Covers.Any(cover => kept.Covers.FirstOrDefault(other => other.Item == cover.Item).Pieces < cover.Pieces);
        return adds ? [kept, open] : [kept];
    }

    private (List<Piece> Opened, HashSet<PartNumber> Numbers) Pieces(
        IReadOnlyList<(PartNumber Part, Quantity Quantity)> roots, bool inAssembly, bool keepWhole)
    {
        var pieces = new List<Piece>();
        var numbers = new HashSet<PartNumber>();
        foreach (var (part, quantity) in roots) Open(part, quantity, inAssembly, inAssembly);
        return (pieces, numbers);

        void Open(PartNumber part, Quantity quantity, bool inKit, bool inAssembly)
        {
            numbers.Add(part);
            if (!_inside.TryGetValue(part, out var contents) || (keepWhole && _demand.ItemOf(part) is not null))
            {
                pieces.Add(new(part, quantity, inKit, inAssembly));
                return;
            }
            var kind = _catalogue.Parts[part].Kind;
            foreach (var content in contents)
                Open(content.Part, quantity * content.Quantity, inKit || kind is PartKind.Kit or PartKind.Assembly, inAssembly || kind == PartKind.Assembly);
        }
    }

    private KitWay Way(List<Piece> pieces, bool withHousing)
    {
        var all = new SortedDictionary<PartNumber, Quantity>();
        var covers = new SortedDictionary<int, long>();
        foreach (var piece in pieces)
        {
            all[piece.Part] = all.GetValueOrDefault(piece.Part) + piece.Quantity;
            if (_demand.ItemOf(piece.Part) is { } item && MayServe(piece, withHousing))
                covers[item] = checked(covers.GetValueOrDefault(item) + piece.Quantity.Thousandths);
        }
        return new([.. all.Select(entry => (entry.Key, entry.Value))], [.. covers.Where(entry => entry.Value > 0).Select(entry => new ItemPieces(entry.Key, entry.Value))]);
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

    /// <param name="InKit">It comes out of a pack of kind kit or assembly.</param>
    /// <param name="InAssembly">It comes out of a pack of kind assembly.</param>
    private readonly record struct Piece(PartNumber Part, Quantity Quantity, bool InKit, bool InAssembly);
}
