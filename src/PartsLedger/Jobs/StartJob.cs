using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Catalog;
using PartsLedger.Cores;
using PartsLedger.Data;
using PartsLedger.Data.Catalog;
using PartsLedger.Data.Cores;
using PartsLedger.Data.Jobs;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Cores;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Jobs;

/// <summary>A job comes in: whose, for which machine, which pump, how far it goes, until when and for how much.</summary>
public static class StartJob
{
    /// <param name="Number">The job's own number, used once; stock already reserved or pulled under it is the job's.</param>
    /// <param name="Core">The core that is rebuilt; of an exchange the customer's core, when it is here already.</param>
    /// <param name="Exchange">A unit out of the shop's own parts goes out.</param>
    /// <param name="Variants">None while nothing is known, one when it is settled, several while they are all possible.</param>
    [Allowed(Role.Counter, Role.Rebuilder)]
    public sealed record Command(
        string RequestId, string Number, JobScope Scope, string? Core = null, bool Exchange = false, IReadOnlyList<string>? Variants = null,
        string? CustomerReference = null, string? Machine = null, DateOnly? DueOn = null, JobPriority Priority = JobPriority.Ordinary,
        Money? PromisedPrice = null, KitPreference Prefer = KitPreference.Cost) : IAct<JobActed>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Number).Named("job");
            RuleFor(c => c.CustomerReference).MaximumLength(200).WithErrorCode("TEXT_TOO_LONG")
                .WithMessage("The customer's reference is longer than 200 characters.").WithState(_ => "Say it shorter.");
            RuleFor(c => c.Machine).MaximumLength(200).WithErrorCode("TEXT_TOO_LONG")
                .WithMessage("The machine is longer than 200 characters.").WithState(_ => "Say it shorter.");
            RuleFor(c => c.PromisedPrice).NotNegative();
            RuleFor(c => c.Variants).Must(variants => variants is not { Count: > 50 }).WithErrorCode("TOO_MANY_LINES")
                .WithMessage("More than 50 variants are named.")
                .WithState(_ => "Leave the variant open instead.");
        }
    }

    /// <param name="taken">The job that has the number already.</param>
    /// <param name="rebuiltIn">The number of the job that the core belongs to.</param>
    public static Refusal? Decide(Command act, JobRow? taken, CoreRow? core, string? rebuiltIn, IReadOnlyList<VariantRow> variants,
        DateOnly today)
    {
        if (taken is not null) return WorkRefusals.JobExists(taken.Number, taken.State);
        if (core is null && !act.Exchange) return WorkRefusals.UnitMissing();
        if (core is not null && rebuiltIn is not null) return WorkRefusals.CoreInJob(core.Tag, rebuiltIn);
        if (core is { State: CoreState.SentBack or CoreState.Scrapped }) return WorkRefusals.CoreGone(core.Tag,
            CoreCourse.Words(core.State));
        if (act.DueOn < today) return new Refusal("DATE_PAST", $"{act.DueOn:yyyy-MM-dd} has passed.", "Give a day to come.");
        return variants.Count == 1 && !act.Exchange ? SettleVariant.Mismatch(core, variants[0]) : null;
    }

    public sealed class Handler(LedgerContext db, JobDesk desk, CoreDesk cores) : IActHandler<Command, JobActed>
    {
        public async Task<Outcome<JobActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var key = Code.KeyOf(act.Number);
            var taken = await db.Jobs.AsNoTracking().SingleOrDefaultAsync(row => row.NumberKey == key, cancellation);
            CoreRow? core = null;
            if (!string.IsNullOrWhiteSpace(act.Core))
            {
                var found = await cores.Core(act.Core, cancellation);
                if (!found.Succeeded) return found.Refusal;
                core = found.Result;
            }
            var rebuiltIn = core is null ? null : await JobOf(db, core.Id, cancellation);
            var variants = new List<VariantRow>();
            foreach (var code in (act.Variants ?? []).DistinctBy(Code.KeyOf))
            {
                var variant = await Variant(db, code, cancellation);
                if (!variant.Succeeded) return variant.Refusal;
                variants.Add(variant.Result);
            }
            if (variants.Count == 0 && core?.VariantId is { } known) variants.Add(await db.Variants.SingleAsync(row => row.Id == known,
                cancellation));
            if (Decide(act, taken, core, rebuiltIn, variants,
                DateOnly.FromDateTime(context.Now.UtcDateTime)) is { } refusal) return refusal;

            var job = new JobRow
            {
                Number = act.Number.Trim(), NumberKey = key, CustomerReference = Trimmed(act.CustomerReference),
                Machine = Trimmed(act.Machine), CoreId = core?.Id,
                IsExchange = act.Exchange, VariantId = variants is [var only] ? only.Id : null, JobScope = act.Scope, Prefer = act.Prefer,
                DueOn = act.DueOn,
                Priority = act.Priority, PromisedPrice = act.PromisedPrice, State = variants.Count == 1 ? JobState.Identified
                : JobState.TakenIn,
                StartedAt = context.Now, StartedBy = context.Caller.Name,
            };
            if (variants.Count > 1) job.Candidates.AddRange(variants.Select(variant => new JobCandidateRow { VariantId = variant.Id }));
            db.Jobs.Add(job);
            var which = variants.Count switch { 0 => "variant open", 1 => $"variant {variants[0].Code}", _ =>
                $"one of {string.Join(", ", variants.Select(row => row.Code))}" };
            desk.Write(context, act.RequestId, job, "taken in",
                $"{(core is null ? "exchange unit" : $"core {core.Tag}")}, {which}, {Words.Of(act.Scope)}");
            return new JobActed(job.Number, job.State, $"Job {job.Number} is taken in: {which}.");
        }

        private static string? Trimmed(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();
    }

    /// <summary>The number of the job that has the core, unless it was called off.</summary>
    internal static Task<string?> JobOf(LedgerContext db, int coreId, CancellationToken cancellation) => db.Jobs.AsNoTracking()
        .Where(row => row.CoreId == coreId && row.State != JobState.CalledOff).Select(row => row.Number).FirstOrDefaultAsync(cancellation);

    internal static async Task<Outcome<VariantRow>> Variant(LedgerContext db, string code, CancellationToken cancellation)
    {
        var key = Code.KeyOf(code);
        var variant = await db.Variants.Include(row => row.Positions).Include(row => row.PressureClass)
            .SingleOrDefaultAsync(row => row.CodeKey == key, cancellation);
        return variant is null ? Unknown.Variant(code, await db.Variants.AsNoTracking().Select(row => row.Code).ToListAsync(cancellation))
            : variant;
    }
}
