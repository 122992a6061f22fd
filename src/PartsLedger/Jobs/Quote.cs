using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Cores;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Kits;

namespace PartsLedger.Jobs;

/// <summary>
/// What a job's parts cost the customer and when they are there, for each way of helping: repaired with kits, repaired with an assembly, an
/// exchange unit. The core's deposit stands apart. Changes nothing: what is promised is the job's own price.
/// </summary>
public static class Quote
{
    /// <param name="Job">A job, with its findings and what it has already; or null for the question that follows.</param>
    [AllowedToEveryone]
    [Heavy]
    public sealed record Query(string? Job, string? Variant = null, JobScope? Scope = null, IReadOnlyList<int>? Worn = null, KitPreference Prefer = KitPreference.Cost)
        : IQuery<Answer>;

    /// <param name="Kit">The best list of all, whatever it consists of.</param>
    /// <param name="Deposit">What was left for the job's core; null where no core is known.</param>
    public sealed record Answer(string? Job, string Variant, string PressureClass, JobScope Scope, KitAnswer Kit, IReadOnlyList<Alternative> Alternatives,
        string? Core, Money? Deposit);

    /// <param name="WhyNot">Why it cannot be done; empty where it can.</param>
    /// <param name="Price">What all lines are sold for; null where it cannot be done or a line has no price.</param>
    /// <param name="AvailableOn">The first day on which everything is there; null where it cannot be done or nobody knows.</param>
    public sealed record Alternative(
        JobWay Way, IReadOnlyList<string> WhyNot, IReadOnlyList<Line> Lines, Money? Price, DateOnly? AvailableOn, string WhyThen)
    {
        public bool Possible => WhyNot.Count == 0;
    }

    /// <param name="UnitPrice">Null where the catalogue has none.</param>
    public sealed record Line(string Part, string Name, long Quantity, Money? UnitPrice, Money? Price, long Short, DateOnly? AvailableOn);

    /// <summary>What the catalogue says of a part that is sold, and whether a kit of the house could be built instead of ordered.</summary>
    /// <param name="Build">Kits that can be built now out of pieces that the rest of the list does not ask for.</param>
    public sealed record Sold(Money? Price, int? LeadDays, long Build = 0);

    public sealed class Validator : AbstractValidator<Query>
    {
        public Validator()
        {
            RuleFor(q => q).Must(q => string.IsNullOrWhiteSpace(q.Job) != (string.IsNullOrWhiteSpace(q.Variant) || q.Scope is null))
                .WithErrorCode("QUESTION_MISSING").WithMessage("It is not said what is quoted for.").WithState(_ => "Give a job, or a variant and a scope.");
            RuleFor(q => q.Worn).Must(worn => worn is not { Count: > KitFor.MaxWorn }).WithErrorCode("TOO_MANY_POSITIONS")
                .WithMessage($"More than {KitFor.MaxWorn} worn positions are named.").WithState(_ => "Name each worn position once.");
        }
    }

    /// <summary>
    /// A line is there today where nothing of it is short, or a kit of the house can be built; else after its lead days. A list is there when
    /// its last line is.
    /// </summary>
    /// <param name="sold">By part number, or a pair's code.</param>
    public static Alternative Decide(JobWay way, Outcome<KitAnswer> list, IReadOnlyDictionary<string, Sold> sold, DateOnly today)
    {
        if (!list.Succeeded) return new(way, [list.Refusal.ToString()], [], null, null, "");
        var lines = list.Result.Lines.Select(line => Priced(line, sold[line.Part], today)).ToList();
        if (list.Result.Uncovered.Count > 0)
            return new(way, [.. list.Result.Uncovered.Select(left => FormattableString.Invariant($"Position {left.Position}: {left.Quantity} of {left.Part}. {left.Why}"))],
                lines, null, null, "");
        Money? price = lines.Exists(line => line.Price is null) ? null : lines.Aggregate(Money.Zero, (sum, line) => sum + line.Price!.Value);
        if (lines.Find(line => line.AvailableOn is null) is { } unknown)
            return new(way, [], lines, price, null, $"Nobody knows how long {unknown.Part} takes: it is short and has no lead days.");
        var last = lines.MaxBy(line => line.AvailableOn);
        return last is null || last.AvailableOn == today ? new(way, [], lines, price, today, "Everything is there or can be built today.")
            : new(way, [], lines, price, last.AvailableOn, $"{last.Part} is short and takes longest.");
    }

    private static Line Priced(KitLine line, Sold sold, DateOnly today) => new(line.Part, line.Name, line.Quantity, sold.Price,
        sold.Price is { } price ? price * line.Quantity : null, line.Short,
        line.Short == 0 || sold.Build >= line.Short ? today : sold.LeadDays is { } days ? today.AddDays(days) : null);

    public sealed class Handler(
        LedgerContext db, JobDesk desk, KitCatalogueReader reader, TimeProvider clock, IQueryHandler<CanBuild.Query, CanBuild.Answer> canBuild)
        : IQueryHandler<Query, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            var now = clock.GetUtcNow();
            OwnPieces? own = null;
            var (question, core, deposit) = (new KitQuestion(query.Variant ?? "", query.Scope ?? JobScope.Reseal, query.Worn ?? [], query.Prefer), (string?)null, (Money?)null);
            string? number = null;
            if (query.Job is { } wanted)
            {
                var found = await desk.Job(wanted, cancellation);
                if (!found.Succeeded) return found.Refusal;
                var job = found.Result;
                if (job.Variant is null) return new Refusal("VARIANT_OPEN", $"The variant of job {job.Number} is not settled.", "Settle it first: the price depends on it.");
                var pieces = await desk.Pieces(job, now, cancellation);
                own = new OwnPieces(job.Number, job.IsExchange ? null : job.CoreId, pieces.ById);
                var worn = (await desk.Findings(job.Id, cancellation)).Where(row => row.Finding != Finding.Good).Select(row => row.Position).ToList();
                (question, number, core, deposit) = (new KitQuestion(job.Variant.Code, job.JobScope, worn, job.Prefer), job.Number, job.Core?.Tag, job.Core?.Deposit);
            }
            var read = await reader.Read(question.Variant, cancellation, own);
            if (!read.Succeeded) return read.Refusal;
            var catalogue = read.Result;
            var best = KitAnswering.Answer(catalogue, question, cancellation);
            if (!best.Succeeded) return best.Refusal;
            var alternatives = new List<Alternative>();
            foreach (var (way, list) in new[] { (JobWay.Kit, KitWays.WithKit(catalogue, question, cancellation)), (JobWay.Assembly, KitWays.WithAssembly(catalogue, question, cancellation)),
                (JobWay.Exchange, KitWays.Exchange(catalogue, question, cancellation)) })
                alternatives.Add(Decide(way, list, await Known(catalogue, list, cancellation), DateOnly.FromDateTime(now.UtcDateTime)));
            return new Answer(number, catalogue.Variant.Code, catalogue.Variant.PressureClass, question.Scope, best.Result, alternatives, core, deposit);
        }

        private async Task<IReadOnlyDictionary<string, Sold>> Known(KitCatalogue catalogue, Outcome<KitAnswer> list, CancellationToken cancellation)
        {
            if (!list.Succeeded) return new Dictionary<string, Sold>();
            var pairs = catalogue.Pairs.ToDictionary(pair => pair.Tag);
            var numbers = list.Result.Lines.SelectMany(line => pairs.TryGetValue(line.Part, out var pair) ? [pair.Housing.Text, pair.Valve.Text] : new[] { line.Part }).ToList();
            var parts = (await db.Parts.AsNoTracking().Where(row => numbers.Contains(row.Number)).ToListAsync(cancellation)).ToDictionary(row => row.Number);
            var sold = new Dictionary<string, Sold>();
            foreach (var line in list.Result.Lines)
            {
                // A pair is sold as its two halves and is there, or it would not be offered.
                if (pairs.TryGetValue(line.Part, out var pair)) sold[line.Part] = new(parts[pair.Housing.Text].Price is { } housing
                    && parts[pair.Valve.Text].Price is { } valve ? housing + valve : null, null);
                else sold[line.Part] = new(parts[line.Part].Price, parts[line.Part].LeadDays,
                    line.Short > 0 && parts[line.Part].Kind == PartKind.Kit ? await CanBeBuilt(line.Part, list.Result, cancellation) : 0);
            }
            return sold;
        }

        private async Task<long> CanBeBuilt(string kit, KitAnswer list, CancellationToken cancellation)
        {
            var can = await canBuild.Handle(new(kit), cancellation);
            return !can.Succeeded || can.Result.Now.Components.Any(component => list.Lines.Any(line => line.Part == component.Part.Text)) ? 0 : can.Result.Now.Count;
        }
    }
}
