using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Domain.Kits;

/// <summary>The ways in which a customer can be helped: the pump repaired with kits, repaired with an assembly, or another unit for it.</summary>
public enum JobWay { Kit, Assembly, Exchange }

/// <summary>The best list for each way a customer can be helped, to be set side by side.</summary>
public static class KitWays
{
    /// <summary>The pump repaired with kits and loose parts: the best list in which nothing is an assembly.</summary>
    public static Outcome<KitAnswer> WithKit(KitCatalogue catalogue, KitQuestion question, CancellationToken cancellation = default) =>
        KitAnswering.Case(catalogue, question, without: PartKind.Assembly).Then<KitAnswer>(one => KitAnswering.Answer(one, null, cancellation));

    /// <summary>The pump repaired with an assembly: of the best lists with one of each assembly that serves, the best; or why there is none.</summary>
    public static Outcome<KitAnswer> WithAssembly(KitCatalogue catalogue, KitQuestion question, CancellationToken cancellation = default)
    {
        var asked = KitAnswering.Case(catalogue, question);
        if (!asked.Succeeded) return asked.Refusal;
        KitAnswer? best = null;
        foreach (var assembly in asked.Result.Offers.Usable.Where(offer => offer.Part?.Kind == PartKind.Assembly))
        {
            var answer = KitAnswering.Answer(asked.Result, assembly.Number, cancellation);
            if (answer.Lines.Any(line => line.Part == assembly.Number.Text) && (best is null || IsBetter(answer, best))) best = answer;
        }
        return best is not null ? best
            : new Refusal("NO_ASSEMBLY", "No assembly that can be had brings anything this job needs.", "Repair with kits, or offer an exchange unit.");
    }

    /// <summary>A unit built of the shop's own parts: every position of the variant.</summary>
    public static Outcome<KitAnswer> Exchange(KitCatalogue catalogue, KitQuestion question, CancellationToken cancellation = default) =>
        KitAnswering.Answer(catalogue, question with { Scope = JobScope.Full, Worn = [.. catalogue.Variant.Positions.Select(position => position.Number)] },
            cancellation);

    /// <summary>By the kit answer's own order; what is equal stays with the earlier number.</summary>
    private static bool IsBetter(KitAnswer answer, KitAnswer than) => Rank(answer).CompareTo(Rank(than)) < 0;

    private static (long, long, long, long, int) Rank(KitAnswer answer)
    {
        var left = answer.Uncovered.Sum(one => one.Quantity.Thousandths);
        var (cost, pieces) = (answer.TotalCost.TenThousandths, answer.PiecesShort);
        return answer.Prefer == KitPreference.Stock ? (left, pieces, cost, answer.SurplusPieces.Thousandths, answer.Lines.Count)
            : (left, cost, pieces, answer.SurplusPieces.Thousandths, answer.Lines.Count);
    }
}
