using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Access;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Access;

/// <summary>Somebody who was given a one-time link chooses a password. Ends their sessions and their locks.</summary>
public static class ChoosePassword
{
    [AllowedToAnybody("the one-time code is what lets them")]
    [WrittenDown]
    public sealed record Command(string RequestId, Secret Code, Secret Password) : IAct<PersonActed>;

    public sealed class Handler(LedgerContext db, PeopleDesk desk, IPasswordHasher<PersonRow> hasher) : IActHandler<Command, PersonActed>
    {
        public async Task<Outcome<PersonActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            // A password that will not do must leave the link good: it is used up only with the rest.
            var hash = Secret.HashOfCode(act.Code.Reveal());
            var person = await db.OneTimeLinks.Where(row => row.CodeHash == hash).Select(row => row.Person).SingleOrDefaultAsync(cancellation);
            if (person is not { IsActive: true }) return PeopleDesk.BadLink;
            if (AccessRules.WhyNoPassword(act.Password.Reveal(), person.Name) is { } refusal) return refusal;
            var link = await desk.UseLink(act.Code, toSetUp: false, context, cancellation);
            if (!link.Succeeded) return link.Refusal;
            person.PasswordHash = hasher.HashPassword(person, act.Password.Reveal());
            PeopleDesk.EndSessions(person);
            await db.SignInTries.Where(row => row.PersonId == person.Id).ExecuteUpdateAsync(set => set
                .SetProperty(row => row.Wrong, 0).SetProperty(row => row.Locks, 0).SetProperty(row => row.LockedUntil, (DateTimeOffset?)null), cancellation);
            return new PersonActed(person.Name, "The password is changed; sign in with it.");
        }
    }
}
