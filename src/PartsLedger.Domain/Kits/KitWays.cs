using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Domain.Kits;

/// <summary>What a list must keep to besides the rules.</summary>
/// <param name="Without">A kind of part that is not used.</param>
/// <param name="With">One of this is in the list whatever it costs, if it serves anything at all.</param>
internal sealed record KitTerms(PartKind? Without, PartNumber? With)
{
    public static KitTerms None { get; } = new(null, null);
}

/// <summary>The ways in which a customer can be helped: the pump repaired with kits, repaired with an assembly, or another unit for it.</summary>
public enum JobWay { Kit, Assembly, Exchange }

/// <summary>The best list for each way a customer can be helped, to be set side by side.</summary>
public static class KitWays
{
    /// <summary>The pump repaired with kits and loose parts: the best list in which nothing is an assembly.</summary>
    public static Outcome<KitAnswer> WithKit(KitCatalogue catalogue, KitQuestion question, CancellationToken cancellation = default) =>
        KitAnswering.Answer(catalogue, question, new KitTerms(PartKind.Assembly, null), cancellation);

    /// <summary>The pump repaired with an assembly: of the best lists with one of each assembly that serves, the best; or why there is none.</summary>
    public static Outcome<KitAnswer> WithAssembly(KitCatalogue catalogue, KitQuestion question, CancellationToken cancellation = default)
    {
        KitAnswer? best = null;
        foreach (var assembly in catalogue.Parts.Values.Where(part => part.Kind == PartKind.Assembly).OrderBy(part => part.Number))
        {
            var answer = KitAnswering.Answer(catalogue, question, new KitTerms(null, assembly.Number), cancellation);
            if (!answer.Succeeded) return answer;
            if (answer.Result.Lines.Any(line => line.Part == assembly.Number.Text) && (best is null || IsBetter(answer.Result, best))) best = answer.Result;
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
