using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Tests.Kits.Reference;

namespace PartsLedger.Domain.Tests.Kits;

/// <summary>The worked example of docs/kits.md: the shop, and the answer as it is printed there.</summary>
internal static class WorkedExample
{
    public static CatalogueDraft Shop() => new CatalogueDraft()
        .Part("S-10", 2.40m, available: 3)
        .Part("S-20", 1.10m)
        .Part("S-21", 1.30m)
        .Part("S-19", 0.90m, available: 1)
        .Follows("S-19", "S-20", SupersessionRule.UseUp)
        .Part("R-12", 3.00m, PartKind.Rotating, PartService.KitOnly)
        .Part("R-01", 41.00m, PartKind.Rotating, PartService.KitOnly)
        .Part("P-30", 18.50m, PartKind.Plate, available: 1)
        .Part("RK-1", 96.00m, PartKind.Kit).Holds("RK-1", "R-01").Holds("RK-1", "R-12", 12)
        .Part("CA-1", 112.00m, PartKind.Assembly).Holds("CA-1", "RK-1").Holds("CA-1", "P-30").Holds("CA-1", "S-21")
        .Part("CA-2", 99.00m, PartKind.Assembly, pressureClass: "B").Holds("CA-2", "RK-1").Holds("CA-2", "P-30")
        .Needs("S-10", 2)
        .Needs("S-19", 2)
        .Needs("S-21")
        .Needs("R-01", 1, PartGroup.Rotating, RenewRule.IfWorn)
        .Needs("R-12", 12, PartGroup.Rotating, RenewRule.IfWorn)
        .Needs("P-30", 1, PartGroup.Rotating, RenewRule.IfWorn);

    public const string Printed = """
        1 × CA-1 for 3 4 5 6 at 112.00. Assembly of 15; covers 4 positions and brings R-01 and R-12, which cannot be had loose (or not enough of them). None on the shelf: 1 to order.
        2 × S-10 for 1 at 4.80. Sold by itself. On the shelf: 3.
        1 × S-19 for 2 at 0.90. Old number, 1 on the shelf: 1 × S-19 counts as 1 × S-20.
        1 × S-20 for 2 at 1.10. Sold by itself. None on the shelf: 1 to order.
        Total 118.80, short 2, surplus 0.
        """;

    public static string Print(KitAnswer answer) => string.Join('\n', answer.Lines
        .Select(line => $"{line.Quantity} × {line.Part} for {string.Join(' ', line.Covers)} at {line.Cost}. {line.Why}")
        .Append($"Total {answer.TotalCost}, short {answer.PiecesShort}, surplus {answer.SurplusPieces}."));

    public static string Page()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder.FullName, "PartsLedger.sln"))) folder = folder.Parent!;
        return Path.Combine(folder.FullName, "docs", "kits.md");
    }
}
