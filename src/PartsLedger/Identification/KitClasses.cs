using System.Globalization;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Catalog;
using PartsLedger.Data;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Kits;

namespace PartsLedger.Identification;

/// <summary>
/// Which of several variants need the same kit: the same lines in the same quantities, and the same left uncovered. Variants of one family
/// and class that renew the same pieces and have the same housing are answered once: nothing else of a variant decides its kit.
/// </summary>
public sealed class KitClasses(LedgerContext db, IQueryHandler<KitFor.Query, KitAnswer> kits)
{
    /// <summary>Different questions that are answered to compare variants; each takes some milliseconds.</summary>
    public const int MostQuestions = 60;

    /// <returns>The class of each variant's kit, by variant id; empty when there are more than <see cref="MostQuestions"/> questions.</returns>
    public async Task<Outcome<IReadOnlyDictionary<int, int>>> Of(IReadOnlyList<Pump> pumps, JobScope scope, CancellationToken cancellation)
    {
        var needs = await Needs(pumps, scope, cancellation);
        var questions = pumps.GroupBy(pump => needs[pump.Id], StringComparer.Ordinal).ToList();
        var classes = new Dictionary<int, int>();
        if (questions.Count > MostQuestions) return classes;
        // Nothing to compare: whoever wants the kit asks for it.
        if (questions.Count == 1) return pumps.ToDictionary(pump => pump.Id, _ => 0);
        var known = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var alike in questions)
        {
            var answer = await kits.Handle(new(alike.First().Variant, scope, [], KitPreference.Cost), cancellation);
            if (!answer.Succeeded) return answer.Refusal;
            var list = ListOf(answer.Result);
            if (!known.TryGetValue(list, out var kit)) known.Add(list, kit = known.Count);
            foreach (var pump in alike) classes.Add(pump.Id, kit);
        }
        return classes;
    }

    /// <summary>All of a variant that has a bearing on its kit, as text.</summary>
    private async Task<Dictionary<int, string>> Needs(IReadOnlyList<Pump> pumps, JobScope scope, CancellationToken cancellation)
    {
        var rows = (await CatalogLoaders.InChunks(pumps.Select(pump => pump.Id), some => db.Positions.AsNoTracking().Where(row => some.Contains(row.VariantId))
            .Select(row => new { row.VariantId, row.PartId, row.Quantity, row.PartGroup, row.Renew, row.Part.Kind }), cancellation)).ToLookup(row => row.VariantId);
        return pumps.ToDictionary(pump => pump.Id, pump => string.Join('\n',
            rows[pump.Id].Where(row => scope.Renews(row.Renew, row.PartGroup)).GroupBy(row => row.PartId).OrderBy(part => part.Key)
                .Select(part => string.Create(CultureInfo.InvariantCulture, $"{part.Key} x {part.Sum(row => row.Quantity.Thousandths)}"))
                .Concat(rows[pump.Id].Where(row => row.Kind == PartKind.Housing).Select(row => row.PartId).Distinct().Order()
                    .Select(housing => string.Create(CultureInfo.InvariantCulture, $"housing {housing}")))
                .Append($"family {pump.Family}").Append($"class {pump.PressureClass}")));
    }

    private static string ListOf(KitAnswer answer) => string.Join('\n',
        answer.Lines.Select(line => $"{PartNumber.Canonical(line.Part)} {line.Quantity}").Order(StringComparer.Ordinal)
            .Append("without")
            .Concat(answer.Uncovered.GroupBy(need => PartNumber.Canonical(need.Part), StringComparer.Ordinal)
                .Select(part => $"{part.Key} {part.Sum(need => need.Quantity.Thousandths)}").Order(StringComparer.Ordinal)));
}
