using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Fit;
using PartsLedger.Hosting;

namespace PartsLedger.Exchange.Labels;

/// <summary>
/// What to print for a list of codes: cores, halves, pairs, places, parts, kits and lots. A pair, or either of its halves, gives two labels that
/// both carry the pair's code, so that each half says where it belongs. A lot's code gives a label for each part that has such a lot; of kits
/// of the house it says by which recipe they were built.
/// </summary>
public static class LabelsFor
{
    public const int MaxCodes = 1000;

    [AllowedToEveryone]
    [Heavy]
    public sealed record Query(IReadOnlyList<string> Codes) : IQuery<IReadOnlyList<Label>>;

    public sealed class Handler(LedgerContext db, UnitDesk desk) : IQueryHandler<Query, IReadOnlyList<Label>>
    {
        public async Task<Outcome<IReadOnlyList<Label>>> Handle(Query query, CancellationToken cancellation)
        {
            if (query.Codes.Count is 0 or > MaxCodes)
                return new Refusal("LABELS_COUNT", $"{query.Codes.Count} codes were given.", $"Give 1 to {MaxCodes} codes.");
            var labels = new List<Label>();
            foreach (var code in query.Codes)
            {
                var made = await Of(code.Trim(), cancellation);
                if (made.Count == 0)
                    return new Refusal("UNKNOWN_CODE", $"Nothing here has the code '{(code.Length > 60 ? code[..60] + "…" : code)}'.", "Check the code; no label was made.");
                labels.AddRange(made);
            }
            return labels;
        }

        private async Task<IReadOnlyList<Label>> Of(string code, CancellationToken cancellation)
        {
            if (await desk.Pair(code, cancellation) is { Succeeded: true, Result: { State: PairState.Together } pair })
                return [.. pair.Halves.OrderBy(half => half.Role).Select(half => new Label(pair.Code, $"{(half.Role == UnitRole.Housing ? "Housing" : "Valve")} {half.Tag}",
                    [$"belongs to {pair.Halves.Single(other => other.Id != half.Id).Tag}", $"{pair.Family.Code}  class {pair.PressureClass.Code}"], "KEEP TOGETHER"))];
            if (await desk.Unit(code, cancellation) is { Succeeded: true, Result: var unit })
                return [new Label(unit.Tag, $"{(unit.Role == UnitRole.Housing ? "Housing" : "Valve")}, loose", [$"{unit.Family.Code}{(unit.PressureClass is { } known ? $"  class {known.Code}" : "")}"],
                    unit.State == UnitState.Serviceable ? null : "DO NOT USE")];
            var key = Code.KeyOf(code);
            if (await db.Cores.AsNoTracking().Include(row => row.Family).SingleOrDefaultAsync(row => row.TagKey == key, cancellation) is { } core)
                return [new Label(core.Tag, $"Core {core.Family?.Code ?? "family open"}", [core.ReceivedFrom ?? "", $"{core.ReceivedOn:yyyy-MM-dd}"])];
            if (await db.Locations.AsNoTracking().SingleOrDefaultAsync(row => row.CodeKey == key, cancellation) is { } place)
                return [new Label(place.Code, place.Name, [Words.Of(place.Kind)], place.Kind == Domain.Stock.LocationKind.Quarantine ? "QUARANTINE" : null)];
            var number = PartNumber.Canonical(code);
            if (await db.Parts.AsNoTracking().Include(row => row.PressureClass).SingleOrDefaultAsync(row => row.NumberKey == number, cancellation) is { } part)
                return [new Label(part.Number, part.Name, [part.PressureClass is { } known ? $"class {known.Code}" : Words.Of(part.Kind)])];
            return await OfLots(key, cancellation);
        }

        private async Task<IReadOnlyList<Label>> OfLots(string key, CancellationToken cancellation)
        {
            var lots = await db.Lots.AsNoTracking().Where(row => row.CodeKey == key).OrderBy(row => row.Part.NumberKey).Take(MaxCodes)
                .Select(row => new
                {
                    row.Code, row.Part.Number, row.Part.Name, row.ExpiresOn,
                    Build = db.KitBuilds.Where(build => build.LotId == row.Id)
                        .Select(build => new { build.Recipe.Revision, build.Transaction.At }).FirstOrDefault(),
                }).ToListAsync(cancellation);
            return [.. lots.Select(lot => new Label(lot.Code, $"{lot.Number}  {lot.Name}",
            [
                .. lot.ExpiresOn is { } on ? (string[])[$"use by {on:yyyy-MM-dd}"] : [],
                .. lot.Build is { } build ? (string[])[FormattableString.Invariant($"recipe {build.Revision}, built {build.At.UtcDateTime:yyyy-MM-dd}")] : [],
            ]))];
        }
    }
}
