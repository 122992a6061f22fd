using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Jobs;
using PartsLedger.Data.Kits;
using PartsLedger.Data.Stock;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Kits;

/// <summary>All the kits that were asked for or none, or as many of them as the components are enough for.</summary>
public enum BuildRule { AllOrNothing, AsManyAsPossible }

/// <summary>
/// Kits are put together by the recipe in force: free components, first to expire first, become a lot of kits that is as old as the oldest
/// of them and worth exactly what they were worth.
/// </summary>
public static class BuildKit
{
    /// <param name="To">The place that the kits are put in.</param>
    /// <param name="Version">The recipe as it was read; null for whichever is in force.</param>
    /// <param name="Lot">A code that no lot of the kit has yet; null gives it one of the kit, the day and a number.</param>
    /// <param name="FromJobs">Where too few are free, also what jobs have reserved, last reserved first.</param>
    [Allowed(Role.Warehouse, Role.Rebuilder)]
    public sealed record Command(
        string RequestId, string Kit, int Count, string To, BuildRule Rule = BuildRule.AllOrNothing, int? Version = null, string? Lot = null,
        bool FromJobs = false, string? Note = null) : IAct<Answer>;

    /// <param name="LimitedBy">The components that were enough for no more; empty where everything asked for was built.</param>
    public sealed record Answer(
        long Transaction, DateTimeOffset At, string Kit, int Version, string Lot, int Count, string Place, DateOnly? CuredOn, DateOnly? ExpiresOn, Money Value,
        IReadOnlyList<PiecesAt> Used, IReadOnlyList<TakenFromJob> FromJobs, IReadOnlyList<string> LimitedBy);

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Kit).Named("kit");
            RuleFor(c => c.Count).KitCount();
            RuleFor(c => c.To).Named("place they are put in");
            RuleFor(c => c.Lot).CodeIfGiven("lot");
            RuleFor(c => c.Note).ShortText("note");
        }
    }

    public sealed record Plan(int Count, IReadOnlyList<BuildPick> Picks, IReadOnlyList<string> LimitedBy);

    public static Outcome<Plan> Decide(Command act, string kit, KitRecipeRow recipe, StockPlace to, bool lotExists, IReadOnlyList<BuildComponent> components)
    {
        if (act.Version is { } version && version != recipe.Revision) return RecipeRefusals.VersionReplaced(kit, version, recipe.Revision);
        if (to.Kind == LocationKind.Quarantine) return RecipeRefusals.QuarantinePlace(to.Code, "the kits");
        if (lotExists) return ShelfRefusals.LotExists(kit, act.Lot!.Trim());
        var byNumber = components.ToDictionary(component => new PartNumber(component.Part.Number));
        var can = new RecipeBook([new KitRecipe(new PartNumber(kit), [.. components.Select(one => new RecipeLine(new PartNumber(one.Part.Number), one.PerKit))])])
            .CanBuild(new PartNumber(kit), part => byNumber[part].Available(act.FromJobs));
        var limits = can.Limiting.Select(part => byNumber[part]).ToList();
        var count = (int)Math.Min(can.Count, act.Count);
        if (count == 0 || (count < act.Count && act.Rule == BuildRule.AllOrNothing))
            return RecipeRefusals.ComponentShort(kit, act.Count, can.Count,
                string.Join(' ', limits.Take(3).Select(one => $"{one.Part.Number} limits: {one.Available(act.FromJobs)} {(act.FromJobs ? "there" : "free")}, {one.PerKit} for a kit.")),
                act.FromJobs ? "" : HeldPieces.Sentence(HeldPieces.In(limits[0].Open)));

        // From here the build must succeed; anything else is a lost race or a bug.
        return new Plan(count, [.. components.SelectMany(one => one.Pick(one.PerKit * count, act.FromJobs))],
            count < act.Count ? [.. limits.Select(one => one.Part.Number)] : []);
    }

    public sealed class Handler(LedgerContext db, RecipeDesk desk, StockDesk stock, Ledger ledger) : IActHandler<Command, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Kit(act.Kit, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var kit = found.Result.Part;
            var read = await desk.Recipe(found.Result, null, cancellation);
            if (!read.Succeeded) return read.Refusal;
            var recipe = read.Result;
            var to = await stock.Place(act.To, cancellation);
            if (!to.Succeeded) return to.Refusal;

            // Whoever defines a recipe takes the turn on the kit too: what is in force now stays so until the commit.
            var hand = await ledger.Begin(recipe.Lines.Select(line => line.PartId).Append(kit.Id), context.Now, cancellation);
            if ((await desk.InForce(kit.Id, cancellation))!.Id != recipe.Id) throw new RaceLost();
            var code = string.IsNullOrWhiteSpace(act.Lot) ? await NewCode(kit, context.Now, cancellation) : act.Lot.Trim();
            var key = Code.KeyOf(code);
            var exists = await db.Lots.AnyAsync(row => row.PartId == kit.Id && row.CodeKey == key, cancellation);
            var decided = Decide(act, kit.Number, recipe, to.Result, exists, [.. recipe.Lines.OrderBy(line => line.Line).Select(line => BuildComponent.Of(
                new StockPart(line.PartId, line.Part.Number, line.Part.Tracking, PieceUnit.IsWhole(line.Part.Unit)), line.Quantity, hand[line.PartId].Balances,
                hand[line.PartId].Open, context.Now))]);
            if (!decided.Succeeded) return decided.Refusal;

            // The reservations give way first: pieces that are still reserved cannot leave their place.
            var plan = decided.Result;
            foreach (var pick in plan.Picks)
                if (pick.Of is { } line) await Reservations.Close(db, line, pick.Quantity, cancellation);
            var fromJobs = TakenFromJob.In(plan.Picks);
            await TellJobs(act, kit, plan, context, cancellation);
            var (curedOn, expiresOn) = await Oldest(plan.Picks, cancellation);
            var lot = await stock.LotOrNew(kit, code, curedOn, expiresOn, cancellation);
            var taken = plan.Picks.GroupBy(pick => (pick.Part, pick.Balance))
                .Select(group => (group.Key.Part, group.Key.Balance, Quantity: group.Total(pick => pick.Quantity))).ToList();
            var kits = Quantity.FromWhole(plan.Count);
            var posted = await ledger.Post(KitWork.Posting(KitWork.Build, act.RequestId, act.Note, kit.Number),
                [.. taken.Select(from => new Movement(from.Part.Id, from.Quantity, from.Balance.Slot, KitWork.Bench(from.Balance.LotId))),
                    new Movement(kit.Id, kits, KitWork.Bench(lot.Id), Slot.In(to.Result.Id, lot.Id, StockCondition.New))], context, cancellation);
            db.KitBuilds.Add(new KitBuildRow { RecipeId = recipe.Id, LotId = lot.Id, TransactionId = posted.Id, Quantity = kits });
            return new Answer(posted.Id, posted.At, kit.Number, recipe.Revision, lot.Code, plan.Count, to.Result.Code, curedOn, expiresOn,
                await KitWork.Worth(db, posted.Id, kit.Id, cancellation),
                [.. taken.Select(from => PiecesAt.Of(from.Part.Number, from.Balance, from.Quantity))], fromJobs, plan.LimitedBy);
        }

        /// <summary>The kit, the day, and the first number of that day: short enough to be scanned, and it says which kit it is.</summary>
        private async Task<string> NewCode(StockPart kit, DateTimeOffset now, CancellationToken cancellation)
        {
            var stem = FormattableString.Invariant($"{kit.Number} {now.UtcDateTime:yyMMdd}-");
            var key = Code.KeyOf(stem);
            var taken = await db.Lots.AsNoTracking().Where(row => row.PartId == kit.Id && row.CodeKey.StartsWith(key)).Select(row => row.CodeKey)
                .ToListAsync(cancellation);
            var number = 1;
            while (taken.Contains(Code.KeyOf(stem + RecipeRefusals.Whole(number)))) number++;
            return stem + RecipeRefusals.Whole(number);
        }

        /// <summary>The earliest of the dates that are known: a kit is as old as the oldest piece in it.</summary>
        private async Task<(DateOnly? CuredOn, DateOnly? ExpiresOn)> Oldest(IReadOnlyList<BuildPick> picks, CancellationToken cancellation)
        {
            var ids = picks.Select(pick => pick.Balance.LotId).OfType<int>().Distinct().ToArray();
            var lots = new List<LotRow>();
            foreach (var some in ids.Chunk(900)) lots.AddRange(await db.Lots.AsNoTracking().Where(row => some.Contains(row.Id)).ToListAsync(cancellation));
            return (lots.Min(lot => lot.CuredOn), lots.Min(lot => lot.ExpiresOn));
        }

        /// <summary>A job that loses reserved pieces finds that in its history.</summary>
        private async Task TellJobs(Command act, StockPart kit, Plan plan, ActContext context, CancellationToken cancellation)
        {
            var lost = plan.Picks.Where(pick => pick.Of is not null).GroupBy(pick => pick.Of!.JobKey).ToList();
            if (lost.Count == 0) return;
            var keys = lost.ConvertAll(group => group.Key);
            var jobs = await db.Jobs.AsNoTracking().Where(row => keys.Contains(row.NumberKey)).ToDictionaryAsync(row => row.NumberKey, row => row.Id, cancellation);
            foreach (var group in lost.Where(group => jobs.ContainsKey(group.Key)))
                db.JobEvents.Add(new JobEventRow
                {
                    JobId = jobs[group.Key], What = "reservation taken", At = context.Now, Who = context.Caller.Name, RequestId = act.RequestId,
                    Detail = string.Join(", ", group.GroupBy(pick => pick.Part.Number).Select(part => $"{part.Total(pick => pick.Quantity)} of {part.Key}")),
                    Why = $"for kits {kit.Number}",
                });
        }
    }
}
