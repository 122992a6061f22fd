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
        .Part("CA-1", 118.00m, PartKind.Assembly).Holds("CA-1", "RK-1").Holds("CA-1", "P-30").Holds("CA-1", "S-21")
        .Part("CA-2", 99.00m, PartKind.Assembly, pressureClass: "B").Holds("CA-2", "RK-1").Holds("CA-2", "P-30")
        .Needs("S-10", 2)
        .Needs("S-19", 2)
        .Needs("S-21")
        .Needs("R-01", 1, PartGroup.Rotating, RenewRule.IfWorn)
        .Needs("R-12", 12, PartGroup.Rotating, RenewRule.IfWorn)
        .Needs("P-30", 1, PartGroup.Rotating, RenewRule.IfWorn);

    public const string Printed = """
        1 × RK-1 for 4 5 at 96.00
        """;

    public static string Print(KitAnswer answer) => string.Join('\n', answer.Lines
        .Select(line => $"{line.Quantity} × {line.Part} for {string.Join(' ', line.Covers)} at {line.Cost}: {line.Why}")
        .Append($"total {answer.TotalCost}, short {answer.PiecesShort}, surplus {answer.SurplusPieces}"));
}
