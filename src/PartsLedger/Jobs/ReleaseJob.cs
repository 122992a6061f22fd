using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Jobs;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Fit;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Jobs;

/// <summary>
/// The pump goes out. From then on the job has used what it has in hand, its pair is gone with it, and nothing about it can be changed.
/// </summary>
public static class ReleaseJob
{
    [Allowed(Role.Rebuilder)]
    public sealed record Command(string RequestId, string Job, string? Note = null) : IAct<JobActed>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Job).Named("job");
            RuleFor(c => c.Note).ShortText("note");
        }
    }

    public static Refusal? Decide(JobStanding standing) => JobCourse.Refuse(standing, JobStep.Release);

    public sealed class Handler(LedgerContext db, JobDesk desk, JobStandings standings, Ledger ledger, UnitDesk units)
        : IActHandler<Command, JobActed>
    {
        public async Task<Outcome<JobActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            await JobBooks.Turn(db, act.Job, cancellation);
            var found = await desk.Job(act.Job, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var job = found.Result;
            await ledger.Begin((await Reservations.OfJob(db, job.NumberKey, cancellation)).Select(line => line.PartId), context.Now,
                cancellation);
            if (Decide(await standings.Of(job, context.Now, cancellation)) is { } refusal) return refusal;

            // What is still reserved is not needed any more.
            foreach (var line in await Reservations.OfJob(db, job.NumberKey, cancellation)) await Reservations.Close(db, line, line.Open,
                cancellation);
            await LetGo(act, job, context, cancellation);
            job.State = JobState.Released;
            job.ReleasedAt = context.Now;
            job.Version++;
            var used = string.Join(", ", (await desk.InHand(job.NumberKey, cancellation)).Where(pieces => pieces.Quantity > Quantity.Zero)
                .Select(pieces => $"{pieces.Quantity} × {pieces.Part}{(pieces.Lot is null ? "" : $" (lot {pieces.Lot})")}"));
            desk.Write(context, act.RequestId, job, "released",
                $"variant {job.Variant!.Code}, class {job.Variant.PressureClass.Code}; used: {used}", act.Note);
            return new JobActed(job.Number, job.State,
                $"Job {job.Number} is released: {job.Variant.Code}, class {job.Variant.PressureClass.Code}.");
        }

        /// <summary>The fitted pair goes out with the pump; any other that was kept for the job is free again.</summary>
        private async Task LetGo(Command act, JobRow job, ActContext context, CancellationToken cancellation)
        {
            foreach (var pair in await db.Pairs.Include(row => row.Halves).Where(row => row.Id == job.PairId || row.Job == job.Number)
                .ToListAsync(cancellation))
            {
                (pair.Job, pair.JobUntil) = (null, null);
                pair.Version++;
                if (pair.Id != job.PairId)
                {
                    units.Write(context, act.RequestId, "let go", $"job {job.Number}", pairId: pair.Id);
                    continue;
                }
                pair.State = PairState.Gone;
                pair.LocationId = null;
                foreach (var half in pair.Halves)
                {
                    half.State = UnitState.Gone;
                    half.Version++;
                }
                units.Write(context, act.RequestId, "gone out", $"job {job.Number}", pairId: pair.Id);
            }
        }
    }
}
