using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data.Cores;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Cores;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Fit;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Cores;

/// <summary>What an act on a core did, in words.</summary>
public sealed record CoreActed(string Tag, string State, string Done);

/// <summary>A used pump comes in: tagged, described, and its deposit written down as owed.</summary>
public static class TakeInCore
{
    /// <param name="Family">Null while it is not known.</param>
    /// <param name="Variant">Null while it is not known.</param>
    [Allowed(Role.Counter, Role.Warehouse)]
    public sealed record Command(
        string RequestId, string Tag, string? Family, string? Variant, string? Serial, string? Condition, DateOnly? ReceivedOn, string? ReceivedFrom,
        Money Deposit) : IAct<CoreActed>;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Deposit).Must(deposit => deposit >= Money.Zero).WithErrorCode("DEPOSIT_BELOW_ZERO").WithMessage((_, deposit) => $"A deposit of {deposit} is below zero.")
                .WithState(_ => "Give what was left as a deposit, or zero.");
            RuleFor(c => c.Serial).MaximumLength(100).WithErrorCode("TEXT_TOO_LONG").WithMessage("The serial number is longer than 100 characters.").WithState(_ => "Read it again.");
            RuleFor(c => c.Condition).ShortText("condition");
            RuleFor(c => c.ReceivedFrom).MaximumLength(200).WithErrorCode("TEXT_TOO_LONG").WithMessage("The sender is longer than 200 characters.").WithState(_ => "Say it shorter.");
        }
    }

    public static Refusal? Decide(Command act, DateOnly today) => act.ReceivedOn > today
        ? new Refusal("DATE_IN_FUTURE", $"{act.ReceivedOn:yyyy-MM-dd} has not come yet.", "Give the day it came in.") : null;

    public sealed class Handler(UnitDesk tags) : IActHandler<Command, CoreActed>
    {
        public async Task<Outcome<CoreActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var tag = await tags.NewTag(act.Tag, cancellation);
            if (!tag.Succeeded) return tag.Refusal;
            var variant = await Find(context.Db.Variants.Select(row => new Found(row.Id, row.Code, row.CodeKey, row.FamilyId)), act.Variant, "variant", cancellation);
            if (!variant.Succeeded) return variant.Refusal;
            var family = await Find(context.Db.Families.Select(row => new Found(row.Id, row.Code, row.CodeKey, row.Id)), act.Family, "family", cancellation);
            if (!family.Succeeded) return family.Refusal;
            if (variant.Result.Row is { } v && family.Result.Row is { } f && v.FamilyId != f.Id)
                return new Refusal("OTHER_FAMILY", $"Variant {v.Code} is not of family {f.Code}.", "Leave one of them open if it is not certain.");
            var today = DateOnly.FromDateTime(context.Now.UtcDateTime);
            if (Decide(act, today) is { } refusal) return refusal;

            var core = new CoreRow
            {
                Tag = tag.Result, TagKey = Tag.KeyOf(tag.Result), FamilyId = family.Result.Row?.Id ?? variant.Result.Row?.FamilyId, VariantId = variant.Result.Row?.Id,
                Serial = act.Serial?.Trim(), ConditionOnArrival = act.Condition?.Trim(), ReceivedOn = act.ReceivedOn ?? today,
                ReceivedFrom = act.ReceivedFrom?.Trim(), State = CoreState.Arrived, Deposit = act.Deposit,
            };
            context.Db.Cores.Add(core);
            await context.Db.SaveChangesAsync(cancellation);
            if (act.Deposit > Money.Zero)
                context.Db.DepositEntries.Add(new DepositEntryRow
                {
                    CoreId = core.Id, Entry = DepositEntry.Owed, Amount = act.Deposit, At = context.Now, Who = context.Caller.Name, RequestId = act.RequestId,
                });
            tags.Write(context, act.RequestId, "arrived", core.ConditionOnArrival, coreId: core.Id);
            return new CoreActed(core.Tag, CoreCourse.Words(core.State), $"Core {core.Tag} is taken in{(act.Deposit > Money.Zero ? $"; {act.Deposit} is owed for it" : "")}. Hang the tag on it now.");
        }

        private sealed record Found(int Id, string Code, string CodeKey, int FamilyId);

        private sealed record Maybe(Found? Row);

        private static async Task<Outcome<Maybe>> Find(IQueryable<Found> rows, string? code, string what, CancellationToken cancellation)
        {
            if (string.IsNullOrWhiteSpace(code)) return new Maybe(null);
            var key = Code.KeyOf(code);
            var all = await rows.ToListAsync(cancellation);
            if (all.Find(row => row.CodeKey == key) is { } found) return new Maybe(found);
            return new Refusal($"UNKNOWN_{what.ToUpperInvariant()}", $"There is no {what} '{code}'.",
                $"The nearest known ones are {string.Join(", ", Nearest.To(code, all.Select(row => row.Code)))}; or leave it open.");
        }
    }
}
