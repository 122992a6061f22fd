using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Cores;
using PartsLedger.Data.Fit;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Cores;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Fit;

/// <summary>
/// One question for the scanner: what is this, where is it, what belongs with it, what may be done with it now and what must not.
/// Takes any tag, pair code, part number, place or job.
/// </summary>
public static class Scan
{
    /// <param name="ForClass">The class of the job at hand, if there is one: a thing of another class is then called out.</param>
    [AllowedToEveryone]
    public sealed record Query(string Code, string? ForClass = null) : IQuery<Answer>;

    /// <param name="Kind"><c>housing</c>, <c>valve</c>, <c>pair</c>, <c>core</c>, <c>part</c>, <c>place</c> or <c>job</c>.</param>
    /// <param name="Alert">One line that must not be overlooked, or null.</param>
    /// <param name="With">What belongs with it, with its place.</param>
    public sealed record Answer(
        string Kind, string Code, string What, string? Where, string? With, string? Alert, IReadOnlyList<string> MayDo, IReadOnlyList<string> MustNot);

    public sealed class Handler(LedgerContext db, UnitDesk desk, StockDesk stock, TimeProvider clock) : IQueryHandler<Query, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            if (query.Code.Any(char.IsControl))
                return new Refusal("SCAN_UNREADABLE", "The scan has characters in it that no code of ours has.", "Scan it again.");
            var code = query.Code.Trim();
            if (code.Length == 0) return new Refusal("SCAN_EMPTY", "Nothing was scanned.", "Scan a tag, a part, a place or a job.");
            if (code.Length > 100) return new Refusal("SCAN_UNREADABLE", "That is too long for one code.", "Scan one code at a time: several ran together.");

            if (await desk.Unit(code, cancellation) is { Succeeded: true, Result: var unit }) return OfUnit(unit, query.ForClass);
            if (await desk.Pair(code, cancellation) is { Succeeded: true, Result: var pair }) return OfPair(pair, query.ForClass);
            var key = Code.KeyOf(code);
            if (await db.Cores.AsNoTracking().Include(row => row.Family).SingleOrDefaultAsync(row => row.TagKey == key, cancellation) is { } core) return OfCore(core);
            if (await stock.Place(code, cancellation) is { Succeeded: true, Result: var place }) return await OfPlace(place, cancellation);
            if (await stock.Part(code, cancellation) is { Succeeded: true, Result: var part }) return await OfPart(part, cancellation);
            if (await Aliased(code, cancellation) is { } aliased) return await OfPart(aliased, cancellation);
            if (await db.Reservations.AsNoTracking().AnyAsync(row => row.JobKey == key, cancellation)
                || await db.Pairs.AsNoTracking().AnyAsync(row => row.Job == code, cancellation))
                return new Answer("job", code, $"Job {code} has pieces kept for it.", null, null, null, ["pull what is kept", "let it go"], []);
            if (await db.Jobs.AsNoTracking().Where(row => row.NumberKey == key).Select(row => row.Number).SingleOrDefaultAsync(cancellation) is { } job)
                return new Answer("job", job, $"Job {job} has no pieces kept for it.", null, null, null, ["pull for it"], []);
            return await Unknown(code, cancellation);
        }

        /// <summary>The part that a supplier's or an old number on a bag means, where it means one alone.</summary>
        private async Task<StockPart?> Aliased(string code, CancellationToken cancellation)
        {
            var key = PartNumber.Canonical(code);
            var numbers = key.Length == 0 ? [] : await db.Aliases.AsNoTracking().Where(row => row.NumberKey == key).Select(row => row.Part.Number).Distinct().Take(2).ToListAsync(cancellation);
            return numbers is [var only] ? (await stock.Part(only, cancellation)).Result : null;
        }

        private static Answer OfUnit(UnitRow unit, string? forClass)
        {
            var role = Words.Of(unit.Role);
            var ofClass = unit.PressureClass is { } known ? $", class {known.Code}" : "";
            if (unit.Pair is { State: PairState.Together } pair)
            {
                var other = pair.Halves.Single(half => half.Id != unit.Id);
                return new Answer(role, unit.Tag, $"{Capital(role)} {unit.Tag}, family {unit.Family.Code}{ofClass}: half of pair {pair.Code}.", pair.Place(),
                    $"{other.Tag} ({Words.Of(other.Role)}), in {pair.Place()}. KEEP TOGETHER.", WrongClass(unit.Tag, unit.PressureClass?.Code, forClass)
                        ?? $"HALF OF A PAIR: keep with {other.Tag}.",
                    ["move the pair", "keep the pair for a job", "confirm its shims"], [$"Never fit {unit.Tag} without {other.Tag}.", "Never part the two."]);
            }
            IReadOnlyList<string> may = unit.State switch
            {
                UnitState.Serviceable => ["measure it", "pair it by selection", "move it", "condemn it"],
                UnitState.Quarantine => ["measure it again", "release it after measuring", "condemn it"],
                _ => [],
            };
            IReadOnlyList<string> mustNot = unit.State == UnitState.Serviceable
                ? [$"Never fit it to a {Words.Of(unit.Role == UnitRole.Valve ? UnitRole.Housing : UnitRole.Valve)} it was not paired with."]
                : [$"Do not fit it: it is {UnitRefusals.StateWords(unit.State)}."];
            return new Answer(role, unit.Tag, $"{Capital(role)} {unit.Tag}, family {unit.Family.Code}{ofClass}, {UnitRefusals.StateWords(unit.State)}.",
                unit.Location?.Code, null, WrongClass(unit.Tag, unit.PressureClass?.Code, forClass)
                    ?? (unit.State == UnitState.Serviceable ? null : $"DO NOT USE: {UnitRefusals.StateWords(unit.State)}."), may, mustNot);
        }

        private static Answer OfPair(PairRow pair, string? forClass)
        {
            var together = pair.State == PairState.Together;
            return new Answer("pair", pair.Code, $"Pair {pair.Code}, family {pair.Family.Code}, class {pair.PressureClass.Code}{(together ? "" : ": " + UnitRefusals.StateWords(pair.State))}.",
                together ? pair.Place() : null, together ? $"{pair.Tags()}. KEEP TOGETHER." : null,
                WrongClass($"pair {pair.Code}", pair.PressureClass.Code, forClass) ?? (together ? null : "NO LONGER A PAIR."),
                !together ? [] : pair.Released ? ["keep it for a job", "move it"] : ["measure both halves", "release it", "move it"],
                together ? ["Never part the two."] : ["Do not use its halves as a pair."]);
        }

        private static Answer OfCore(CoreRow core) => new("core", core.Tag,
            $"Core {core.Tag}, {(core.Family is { } family ? $"family {family.Code}" : "family not known yet")}: {Words.Of(core.State).Replace('-', ' ')}.", null, null, null,
            core.State switch
            {
                CoreState.Arrived => ["grade it", "send it back", "scrap it"],
                CoreState.Graded => ["tear it down", "settle its deposit", "send it back", "scrap it"],
                CoreState.TornDown => ["settle its deposit", "scrap the rest"],
                _ => [],
            },
            core.State is CoreState.SentBack or CoreState.Scrapped ? ["It has left: nothing can be booked on it."] : []);

        private async Task<Answer> OfPlace(StockPlace place, CancellationToken cancellation)
        {
            var parts = await db.StockBalances.AsNoTracking().Where(row => row.LocationId == place.Id && row.OnHand != Domain.Measures.Quantity.Zero)
                .Select(row => row.PartId).Distinct().CountAsync(cancellation);
            var pairs = await db.Pairs.AsNoTracking().CountAsync(row => row.LocationId == place.Id, cancellation);
            var units = await db.Units.AsNoTracking().CountAsync(row => row.LocationId == place.Id, cancellation);
            return new Answer("place", place.Code, $"{Capital(Words.Of(place.Kind))} {place.Code}: {parts} parts, {pairs} pairs, {units} loose halves.", place.Code, null,
                place.Kind == Domain.Stock.LocationKind.Quarantine ? "QUARANTINE: nothing in here may be used." : null, ["count it", "move something here"], []);
        }

        private async Task<Answer> OfPart(StockPart part, CancellationToken cancellation)
        {
            var free = (await Availability.Of(db, [part.Id], clock.GetUtcNow(), cancellation)).GetValueOrDefault(part.Id);
            var where = await db.StockBalances.AsNoTracking()
                .Where(row => row.PartId == part.Id && row.OnHand != Domain.Measures.Quantity.Zero)
                .Select(row => row.Location.Code).Distinct().OrderBy(code => code).Take(5).ToListAsync(cancellation);
            var name = await db.Parts.AsNoTracking().Where(row => row.Id == part.Id).Select(row => row.Name).SingleAsync(cancellation);
            return new Answer("part", part.Number, $"Part {part.Number}, {name}: {free} available.", string.Join(", ", where), null, null,
                ["pull it", "move it", "count it", "receive it"], []);
        }

        private async Task<Refusal> Unknown(string code, CancellationToken cancellation)
        {
            // Half a code, or two run together: say so when that is what it looks like.
            var key = Code.KeyOf(code);
            var tags = await db.Units.AsNoTracking().Select(row => row.TagKey)
                .Concat(db.Pairs.AsNoTracking().Select(row => row.CodeKey)).Concat(db.Cores.AsNoTracking().Select(row => row.TagKey))
                .Where(tag => tag.StartsWith(key) || key.StartsWith(tag)).OrderBy(tag => tag).Take(20).ToListAsync(cancellation);
            if (tags.Find(tag => key.StartsWith(tag, StringComparison.Ordinal)) is { } first && key.Length > first.Length + 1)
                return new Refusal("SCAN_RUN_TOGETHER", $"'{code}' begins with {first} and goes on: two codes seem to have run together.", "Scan one code at a time.");
            if (key.Length >= 2 && tags.Find(tag => tag.StartsWith(key, StringComparison.Ordinal)) is { } whole)
                return new Refusal("SCAN_HALF", $"'{code}' looks like the beginning of {whole}: half a code.", "Scan it again, slowly.");
            return new Refusal("SCAN_UNKNOWN", $"Nothing here has the code '{code}'.", "Scan it again, or look the part up by its number.");
        }

        private static string? WrongClass(string thing, string? itsClass, string? forClass) =>
            forClass is null || itsClass is null || Code.KeyOf(itsClass) == Code.KeyOf(forClass) ? null
                : $"WRONG PRESSURE CLASS: {thing} is {itsClass}, the job is {forClass}. Do not use it.";

        private static string Capital(string word) => char.ToUpperInvariant(word[0]) + word[1..];
    }
}
