using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Benchmarks.Kits;

/// <summary>
/// An invented catalogue of the size a shop meets: 60 positions and 300 things that could be pulled or ordered for them. Loose parts, old
/// numbers on the shelf, bags of a few parts, kits of a group, assemblies of most of the pump. The same every time.
/// </summary>
internal sealed class OrdinaryCatalogue
{
    private readonly Random _random;
    private readonly Dictionary<PartNumber, KitPart> _parts = [];
    private readonly List<PackContent> _contents = [];
    private readonly List<Supersession> _supersessions = [];
    private readonly List<KitPosition> _positions = [];

    private OrdinaryCatalogue(int seed) => _random = new(seed);

    public static KitCatalogue Of(int seed) => new OrdinaryCatalogue(seed).Made();

    public static KitQuestion Question(KitPreference prefer) => new("V-60", JobScope.Full, [], prefer);

    private KitCatalogue Made()
    {
        var loose = Enumerable.Range(1, 60).Select(at => new PartNumber($"P-{at:000}")).ToArray();
        foreach (var part in loose)
        {
            var service = _random.Next(100) switch { < 8 => PartService.KitOnly, < 12 => PartService.AssemblyOnly, _ => PartService.Separate };
            Add(part, PartKind.Seal, service, _random.Next(20, 2500), _random.Next(0, 6));
            var quantity = _random.Next(10) switch { 0 => 12, 1 => 4, 2 => 2, _ => 1 };
            _positions.Add(new(_positions.Count + 1, $"Position {_positions.Count + 1}", part, Quantity.FromWhole(quantity),
                PartGroup.Seal, RenewRule.Always));
        }
        for (var at = 0; at < 35; at++)
        {
            var old = new PartNumber($"OLD-{at:000}");
            Add(old, PartKind.Seal, PartService.Separate, _random.Next(20, 2500), _random.Next(0, 4));
            _supersessions.Add(new(old, loose[_random.Next(60)], Quantity.FromWhole(1), SupersessionRule.UseUp));
        }
        for (var at = 0; at < 160; at++) Pack($"BAG-{at:000}", PartKind.Hardware, Neighbours(loose, _random.Next(2, 6)), 80, 115);
        for (var at = 0; at < 38; at++) Pack($"KIT-{at:000}", PartKind.Kit, Neighbours(loose, _random.Next(8, 26)), 60, 100);
        for (var at = 0; at < 14; at++) Pack($"ASSY-{at:000}", PartKind.Assembly, Neighbours(loose, _random.Next(30, 56)), 75, 120);
        return new(new("V-60", "F-60", "C-1", ValveFit.Interchangeable, _positions), _parts, _contents, _supersessions, [], [], [], []);
    }

    private PartNumber[] Neighbours(PartNumber[] loose, int count)
    {
        var from = _random.Next(60);
        return [.. Enumerable.Range(0, count).Select(step => loose[(from + step) % 60])];
    }

    /// <summary>A pack at so many hundredths of what its parts would cost one by one.</summary>
    private void Pack(string number, PartKind kind, PartNumber[] inside, int least, int most)
    {
        var cents = 0L;
        foreach (var part in inside)
        {
            var needed = _positions.Single(position => position.Part == part).Quantity;
            var quantity = kind == PartKind.Hardware && _random.Next(2) == 0 ? Quantity.FromWhole(1) : needed;
            _contents.Add(new(new(number), part, quantity));
            cents += _parts[part].Cost.TenThousandths / 100 * quantity.WholeFloor;
        }
        Add(new(number), kind, PartService.Separate, cents * _random.Next(least, most) / 100, _random.Next(0, 3));
    }

    private void Add(PartNumber number, PartKind kind, PartService service, long cents, int available) => _parts.Add(number,
        new(number, $"Part {number}", kind, service, null, Money.FromTenThousandths(cents * 100), true, Quantity.FromWhole(available)));
}
