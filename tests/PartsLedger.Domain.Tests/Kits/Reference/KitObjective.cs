using PartsLedger.Domain.Kits;

namespace PartsLedger.Domain.Tests.Kits.Reference;

/// <summary>What a kit answer is judged by, in whole thousandths of a piece, ten-thousandths of the currency, pieces and lines.</summary>
internal sealed record KitObjective(long UncoveredThousandths, long CostTenThousandths, long Short, long SurplusThousandths, long Lines)
{
    public static KitObjective Of(KitAnswer answer) => new(
        answer.Uncovered.Sum(uncovered => uncovered.Quantity.Thousandths), answer.TotalCost.TenThousandths, answer.PiecesShort,
        answer.SurplusPieces.Thousandths, answer.Lines.Count);
}
