using PartsLedger.Data;
using PartsLedger.Data.Catalog;
using PartsLedger.Data.Identification;
using PartsLedger.Data.Kits;
using PartsLedger.Data.Stock;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Stock;
using PartsLedger.Identification;

namespace PartsLedger.Integration.Tests.Api;

/// <summary>
/// A shop small enough to know by heart: one pump with kits, supersessions and aliases (variant <c>KR-1A</c>), and fifty-five plain ones
/// (<c>KR-2-001</c> …) that make lists long.
/// </summary>
internal static class SmallShop
{
    public const int PlainVariants = 55;

    public static async Task Fill(LedgerContext db)
    {
        var low = new PressureClassRow
        {
            Code = "P80", CodeKey = "P80", Name = "80 bar", Relief = Pressure.FromPascals(8_000_000),
            Minus = Pressure.FromPascals(200_000), Plus = Pressure.FromPascals(300_000),
        };
        var high = new PressureClassRow { Code = "P100", CodeKey = "P100", Name = "100 bar", Relief = Pressure.FromPascals(10_000_000) };
        var selective = new FamilyRow { Code = "KR-1", CodeKey = "KR-1", Name = "Kestrel ring", ValveFit = ValveFit.Selective, HousingMaterial = "cast iron" };
        var plain = new FamilyRow { Code = "KR-2", CodeKey = "KR-2", Name = "Kestrel twin", ValveFit = ValveFit.Interchangeable };

        // The seal's numbers: 10-0007 was replaced by two of 10-0008, that by 10-0009, that by today's 10-0001.
        var seal = Part("10-0001", "Shaft seal", PartKind.Seal, 4.8m);
        var oldSeal = Part("10-0009", "Shaft seal", PartKind.Seal, 3.9m);
        var olderSeal = Part("10-0008", "Shaft seal half", PartKind.Seal, 3.9m);
        var oldestSeal = Part("10-0007", "Shaft seal", PartKind.Seal, 3.9m);
        var ring = Part("10-0002", "O-ring", PartKind.Seal, 0.35m);
        var roller = Part("020-0001", "Roller", PartKind.Rotating, 2m, PartService.KitOnly);
        var rotor = Part("20-0002", "Rotor", PartKind.Rotating, 21.5m, PartService.KitOnly);
        var oldElement = Part("20-0009", "Rotating element, loose", PartKind.Rotating, 40m);
        var element = Part("80-0001", "Rotating element kit", PartKind.Kit, 58.25m);
        var reseal = Part("80-0002", "Reseal kit", PartKind.Kit, 9.5m);
        var assembly = Part("90-0001", "Pump without reservoir", PartKind.Assembly, 140m);
        assembly.PressureClass = low;
        assembly.Price = Money.FromTenThousandths(2_199_900);
        assembly.LeadDays = 12;
        db.AddRange(low, high, selective, plain, seal, oldSeal, olderSeal, oldestSeal, ring, roller, rotor, oldElement, element, reseal, assembly);

        db.AddRange(
            Inside(element, roller, 12), Inside(element, rotor, 1), Inside(reseal, seal, 1), Inside(reseal, ring, 4),
            Inside(assembly, element, 1), Inside(assembly, reseal, 1), Inside(assembly, ring, 2));
        db.AddRange(
            Replaced(oldestSeal, olderSeal, 2, SupersessionRule.Replace), Replaced(olderSeal, oldSeal, 1, SupersessionRule.UseUp),
            Replaced(oldSeal, seal, 1, SupersessionRule.Replace),
            Replaced(oldElement, roller, 12, SupersessionRule.Replace), Replaced(oldElement, rotor, 1, SupersessionRule.Replace));
        db.AddRange(
            Alias("CAST 77/1", roller, "casting"), Alias("SHARED-5", seal, "a customer"), Alias("SHARED-5", ring, "a supplier"), Alias("80.0002.X", element, null));

        var pump = Variant("KR-1A", selective, low);
        pump.BuiltFrom = new DateOnly(1971, 3, 1);
        pump.Note = "Outlet at the top";
        db.Add(pump);
        db.AddRange(
            At(pump, 1, "Shaft seal", oldSeal, 1, PartGroup.Seal), At(pump, 2, "Cover ring", ring, 2, PartGroup.Seal),
            At(pump, 7, "Rollers", roller, 12, PartGroup.Rotating, RenewRule.IfWorn), At(pump, 8, "Element", element, 1, PartGroup.Rotating, RenewRule.IfWorn));
        db.AddRange(Application("Brackwater", "Trawler 9", 1970, 1978, pump), Application("Brackwater", "Trawler 9", 1979, null, pump, "deck crane"));

        var question = new FeatureRow { Code = "PLATE", CodeKey = "PLATE", Question = "What is the plate's outline?", Seconds = 15 };
        db.Add(new VariantFeatureRow { Variant = pump, Feature = question, Value = "round" });
        db.Add(new CautionRow { AppliesTo = "*", AppliesToKey = "*", Text = "The maker's service information comes first.", TextHash = "1", Severity = Severity.Caution });
        db.Add(new CheckRow { Family = selective, Sequence = 1, Text = "Measure how far the dowel stands proud.", Expected = "4.76 mm", Unit = "mm", LowMillionths = 4_700_000, HighMillionths = 4_800_000 });
        db.Add(new ToolRow { Family = selective, Name = "Pulley puller", NameKey = "PULLEY PULLER" });

        var shelf = new LocationRow { Code = "A-01", CodeKey = "A-01", Name = "Shelf", Kind = LocationKind.Bin };
        var hold = new LocationRow { Code = "HOLD", CodeKey = "HOLD", Name = "Quarantine", Kind = LocationKind.Quarantine };
        db.AddRange(
            new StockBalanceRow { Part = ring, Location = shelf, Condition = StockCondition.New, OnHand = Quantity.FromWhole(9), Reserved = Quantity.FromWhole(2) },
            new StockBalanceRow { Part = ring, Location = hold, Condition = StockCondition.New, OnHand = Quantity.FromWhole(100) });

        // Each plain pump has the old seal, a ring and four parts of its own with two aliases each.
        for (var n = 1; n <= PlainVariants; n++)
        {
            var variant = Variant($"KR-2-{n:D3}", plain, n % 2 == 0 ? low : high);
            db.AddRange(variant, At(variant, 1, "Seal", oldSeal, 1, PartGroup.Seal), At(variant, 2, "Ring", ring, 1, PartGroup.Seal));
            for (var p = 3; p <= 6; p++)
            {
                var own = Part($"30-{n:D3}{p}", "Plate", PartKind.Plate, 1m);
                db.AddRange(At(variant, p, "Plate", own, 1, PartGroup.Body), Alias($"PL {n:D3}/{p}", own, "drawing"), Alias($"PX {n:D3}/{p}", own, null), Inside(reseal, own, 1));
            }
            db.Add(Application("Moorland", $"Lift {n}", 1980, 1990, variant));
        }
        await db.SaveChangesAsync();
        await SearchKeys.IndexMachines(db, after: 0, CancellationToken.None);
        db.ChangeTracker.Clear();
    }

    private static PartRow Part(string number, string name, PartKind kind, decimal cost, PartService service = PartService.Separate) => new()
    {
        Number = number, NumberKey = PartNumber.Canonical(number), Name = name, Kind = kind, Service = service, Unit = "pc", Supplied = true,
        Cost = Money.FromTenThousandths((long)(cost * Money.PerUnit)),
    };

    private static PackContentRow Inside(PartRow pack, PartRow part, long pieces) => new() { Pack = pack, Part = part, Quantity = Quantity.FromWhole(pieces) };

    private static SupersessionRow Replaced(PartRow old, PartRow by, long pieces, SupersessionRule rule) =>
        new() { Old = old, New = by, Quantity = Quantity.FromWhole(pieces), SupersessionRule = rule };

    private static AliasRow Alias(string number, PartRow part, string? source) =>
        new() { Number = number, NumberKey = PartNumber.Canonical(number), Part = part, Source = source };

    private static VariantRow Variant(string code, FamilyRow family, PressureClassRow pressureClass) =>
        new() { Code = code, CodeKey = Code.KeyOf(code), Family = family, PressureClass = pressureClass };

    private static PositionRow At(
        VariantRow variant, int position, string name, PartRow part, long pieces, PartGroup group, RenewRule renew = RenewRule.Always) => new()
        {
            Variant = variant, Position = position, Name = name, Part = part, Quantity = Quantity.FromWhole(pieces), PartGroup = group, Renew = renew,
        };

    private static ApplicationRow Application(string make, string model, int from, int? to, VariantRow variant, string option = "") => new()
    {
        Make = make, MakeKey = Code.KeyOf(make), Model = model, ModelKey = Code.KeyOf(model), YearFrom = from, YearTo = to,
        Option = option, OptionKey = Code.KeyOf(option), Variant = variant,
    };
}
