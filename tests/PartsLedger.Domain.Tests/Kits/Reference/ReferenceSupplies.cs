using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Tests.Kits.Reference;

/// <summary>The reference's own reading of what may be pulled or ordered for a variant, and what each piece is good for.</summary>
internal sealed class ReferenceSupplies
{
    private readonly KitCatalogue _catalogue;
    private readonly IReadOnlyDictionary<PartNumber, Quantity> _demand;
    private readonly ILookup<PartNumber, PackContent> _inside;
    private readonly ILookup<PartNumber, Supersession> _successors;
    private readonly HashSet<PartNumber> _housings;

    private ReferenceSupplies(KitCatalogue catalogue, IReadOnlyDictionary<PartNumber, Quantity> demand)
    {
        _catalogue = catalogue;
        _demand = demand;
        _inside = catalogue.Contents.ToLookup(content => content.Pack);
        _successors = catalogue.Supersessions.ToLookup(supersession => supersession.Old);
        _housings = [.. catalogue.Variant.Positions.Where(position => Part(position.Part).Kind == PartKind.Housing)
            .SelectMany(position => Chain(position.Part))];
    }

    public static IEnumerable<ReferenceSupply> Of(KitCatalogue catalogue, IReadOnlyDictionary<PartNumber, Quantity> demand)
    {
        var supplies = new ReferenceSupplies(catalogue, demand);
        return supplies.Bought().Concat(supplies.UsedUp()).Concat(supplies.Paired())
            .Where(supply => supply.Ways.Any(way => way.Covers.Count > 0));
    }

    private IEnumerable<ReferenceSupply> Bought() =>
        from part in _catalogue.Parts.Values
        where part.Service == PartService.Separate && !_successors.Contains(part.Number) && IsOfClass(part.Number)
        select new ReferenceSupply(
            part.Number.Text, part.Cost.TenThousandths, part.Available.WholeFloor, part.Supplied ? null : part.Available.WholeFloor,
            _inside.Contains(part.Number), Ways([(part.Number, Quantity.FromWhole(1))], isAssembly: false));

    private IEnumerable<ReferenceSupply> UsedUp() =>
        from part in _catalogue.Parts.Values
        where _successors[part.Number].Any(supersession => supersession.Rule == SupersessionRule.UseUp)
        let standsFor = ReferenceDemand.Current(_catalogue, part.Number, Quantity.FromWhole(1)).ToArray()
        where IsOfClass(part.Number) && standsFor.All(root => IsOfClass(root.Part))
        select new ReferenceSupply(
            part.Number.Text, part.Cost.TenThousandths, part.Available.WholeFloor, part.Available.WholeFloor, CountsSurplus: false,
            Ways(standsFor, isAssembly: false));

    private IEnumerable<ReferenceSupply> Paired() =>
        from pair in _catalogue.Pairs
        where pair.Family == _catalogue.Variant.Family && pair.PressureClass == _catalogue.Variant.PressureClass
        where IsOfClass(pair.Housing) && IsOfClass(pair.Valve)
        select new ReferenceSupply(
            pair.Tag, pair.Cost.TenThousandths, 1, 1, CountsSurplus: true,
            Ways([(pair.Housing, Quantity.FromWhole(1)), (pair.Valve, Quantity.FromWhole(1))], isAssembly: true));

    private List<ReferenceWay> Ways(IReadOnlyList<(PartNumber Part, Quantity Quantity)> roots, bool isAssembly)
    {
        List<Piece> opened = [], kept = [];
        foreach (var (part, quantity) in roots)
        {
            Open(part, quantity, keepWhole: false, inKit: isAssembly, inAssembly: isAssembly, opened);
            Open(part, quantity, keepWhole: true, inKit: isAssembly, inAssembly: isAssembly, kept);
        }
        var withHousing = opened.Any(piece => _housings.Contains(piece.Part));
        List<ReferenceWay> ways = [Way(opened, withHousing)];
        if (kept.Any(piece => _inside.Contains(piece.Part))) ways.Add(Way(kept, withHousing));
        return ways;
    }

    private void Open(PartNumber part, Quantity quantity, bool keepWhole, bool inKit, bool inAssembly, List<Piece> pieces)
    {
        if (!_inside.Contains(part) || (keepWhole && _demand.ContainsKey(part)))
        {
            pieces.Add(new(part, quantity, inKit, inAssembly));
            return;
        }
        var isAssembly = Part(part).Kind == PartKind.Assembly;
        var isKit = isAssembly || Part(part).Kind == PartKind.Kit;
        foreach (var content in _inside[part])
            Open(content.Part, quantity * content.Quantity, keepWhole, inKit || isKit, inAssembly || isAssembly, pieces);
    }

    private ReferenceWay Way(List<Piece> pieces, bool withHousing) =>
        new(Sum(pieces), Sum(pieces.Where(piece => _demand.ContainsKey(piece.Part) && MayCover(piece, withHousing))));

    private bool MayCover(Piece piece, bool withHousing)
    {
        var part = Part(piece.Part);
        if (_catalogue.Variant.ValveFit == ValveFit.Selective && part.Kind == PartKind.Valve && !withHousing) return false;
        return part.Service switch
        {
            PartService.Separate => true,
            PartService.KitOnly => piece.InKit,
            PartService.AssemblyOnly => piece.InAssembly,
            _ => false,
        };
    }

    private bool IsOfClass(PartNumber part) =>
        (Part(part).PressureClass is not { } known || known == _catalogue.Variant.PressureClass)
        && _inside[part].All(content => IsOfClass(content.Part));

    private IEnumerable<PartNumber> Chain(PartNumber part) => _successors[part].SelectMany(next => Chain(next.New)).Prepend(part);

    private KitPart Part(PartNumber number) => _catalogue.Parts[number];

    private static Dictionary<PartNumber, long> Sum(IEnumerable<Piece> pieces) =>
        pieces.GroupBy(piece => piece.Part).ToDictionary(group => group.Key, group => group.Sum(piece => piece.Quantity.Thousandths));

    private readonly record struct Piece(PartNumber Part, Quantity Quantity, bool InKit, bool InAssembly);
}
