using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Access;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Access;

/// <summary>The first person, by the link that was printed when the program started. From then on the door is closed to everybody else.</summary>
public static class SetUpShop
{
    [AllowedToAnybody("the one-time code is what lets them")]
    [WrittenDown]
    public sealed record Command(string RequestId, Secret Code, string Name, Secret Password) : IAct<PersonActed>, IConcerns;

    /// <param name="shopHasPeople">Somebody was added since the link was made.</param>
    public static Refusal? Decide(Command act, string name, bool shopHasPeople) => shopHasPeople
        ? new("ALREADY_SET_UP", "The shop has people already.", "Sign in, or ask an administrator to add you.")
        : AccessRules.WhyNoPassword(act.Password.Reveal(), name);

    public sealed class Handler(LedgerContext db, PeopleDesk desk, IPasswordHasher<PersonRow> hasher) : IActHandler<Command, PersonActed>
    {
        public async Task<Outcome<PersonActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var name = AccessRules.Name(act.Name);
            if (!name.Succeeded) return name.Refusal;
            if (Decide(act, name.Result, await db.People.AnyAsync(cancellation)) is { } refusal) return refusal;
            var link = await desk.UseLink(act.Code, toSetUp: true, context, cancellation);
            if (!link.Succeeded) return link.Refusal;

            // All other set-up links too: whoever holds one of them meets these rows here, comes second and finds the shop set up.
            await db.OneTimeLinks.Where(row => row.PersonId == null && row.UsedAt == null)
                .ExecuteUpdateAsync(set => set.SetProperty(row => row.UsedAt, context.Now), cancellation);
            var made = await desk.New(name.Result, [Role.Administrator, Role.Supervisor],
                context with { Caller = context.Caller with { Name = "set-up link" } }, cancellation);
            if (!made.Succeeded) return made.Refusal;
            made.Result.PasswordHash = hasher.HashPassword(made.Result, act.Password.Reveal());
            return new PersonActed(made.Result.Name, $"{made.Result.Name} looks after the program from now on.");
        }
    }
}
