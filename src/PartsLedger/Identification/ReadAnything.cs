using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Identification;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Fit;
using PartsLedger.Hosting;

namespace PartsLedger.Identification;

/// <summary>What something typed at the counter may be: a number, a machine, a serial, or the tag of a thing in the shop. Likeliest first.</summary>
public static class ReadAnything
{
    [AllowedToEveryone]
    public sealed record Query(string Text) : IQuery<Answer>;

    /// <param name="Kind"><c>number</c>, <c>machine</c> or <c>serial</c>.</param>
    /// <param name="Exact">It is known just so; anything else was read forgivingly.</param>
    public sealed record Reading(string Kind, bool Exact);

    /// <param name="Readings">What it may be to identify a pump by, each kind at most once.</param>
    /// <param name="Thing">The thing of the shop that has it as its code, other than a part.</param>
    /// <param name="Advice">What to do when it is nothing; null otherwise.</param>
    public sealed record Answer(IReadOnlyList<Reading> Readings, Scan.Answer? Thing, string? Advice);

    public sealed class Handler(LedgerContext db, NumberHits numbers, MachineHits machines, IQueryHandler<Scan.Query, Scan.Answer> scan, TimeProvider clock)
        : IQueryHandler<Query, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            var text = query.Text.Trim();
            var found = new List<(int Rank, Reading Reading)>();
            var number = NumberQuery.Read(text);
            var key = Code.KeyOf(text);
            var isNumber = number.Succeeded && (await db.Variants.AnyAsync(row => row.CodeKey == key, cancellation) || await numbers.Has(number.Result, cancellation));
            if (isNumber) found.Add((0, new("number", true)));

            // What is known just so as the one is not read with slips as the other as well.
            var machine = MachineText.Read(text, clock.GetUtcNow().Year);
            var best = machine.Succeeded && (await machines.Find(machine.Result, cancellation, forgiving: !isNumber)).Hits is [var first, ..] ? first.Match : null;
            if (best is not null) found.Add((best.IsExact ? 1 : best.Penalty < 100 ? 2 : 5, new("machine", best.IsExact)));
            if (number.Succeeded && !isNumber && best is not { IsExact: true } && (await numbers.Find(number.Result, alsoSimilar: false, cancellation)).Count > 0)
                found.Add((3, new("number", false)));
            if (text.Any(char.IsAsciiDigit) && text.Length <= Code.MaxLength && !text.Contains(' ', StringComparison.Ordinal) && await IsSerial(text, cancellation))
                found.Add((2, new("serial", true)));

            var thing = await scan.Handle(new(query.Text), cancellation);
            var shown = thing.Succeeded && thing.Result.Kind != "part" ? thing.Result : null;
            return new Answer([.. found.OrderBy(entry => entry.Rank).Select(entry => entry.Reading)], shown,
                found.Count > 0 || shown is not null ? null : number.Refusal?.ToString() ?? machine.Refusal?.ToString()
                    ?? $"'{text}' is no number, machine, serial or tag that is known here. Leave out a part of it, or look at the pump instead.");
        }

        private async Task<bool> IsSerial(string text, CancellationToken cancellation)
        {
            var ranges = await db.Variants.Where(row => row.SerialFrom != null || row.SerialTo != null)
                .Select(row => new { row.SerialFrom, row.SerialTo }).ToListAsync(cancellation);
            return ranges.Exists(row => new ProductionRange(null, null, row.SerialFrom, row.SerialTo).HoldsSerial(text) is true);
        }
    }
}
