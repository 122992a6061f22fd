using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Access;
using Microsoft.AspNetCore.Identity;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Access;

/// <summary>Somebody at the benches or in the warehouse gets a badge, and a PIN that they type themselves; or gives the badge back.</summary>
public static class GiveBadge
{
    /// <param name="Badge">What scanning the badge gives; null takes the badge away.</param>
    [Allowed(Role.Supervisor, Role.Administrator)]
    [WrittenDown]
    public sealed record Command(string RequestId, string Name, Secret? Badge, Secret? Pin) : IAct<PersonActed>, IConcerns;

    /// <param name="takenBy">Who else has a badge with this code.</param>
    public static Refusal? Decide(Command act, PersonRow person, string? takenBy)
    {
        if (act.Badge is null) return null;
        if (Code.KeyOf(act.Badge.Reveal()).Length is < 6 or > Code.MaxLength)
            return new("BAD_BADGE", "A badge's code has 6 to 100 characters.", "Scan the badge again.");
        if (takenBy is not null) return new("BADGE_TAKEN", $"This is {takenBy}'s badge.", "Take it from them first.");
        return !AccessRules.MayUseBadge([.. person.Roles.Select(row => row.Role)])
            ? new("BADGE_FOR_BENCH_ONLY", $"{person.Name} has more than the warehouse's and the bench's roles.", "Sign in by name and password.")
            : AccessRules.WhyNoPin(act.Pin?.Reveal());
    }

    public sealed class Handler(LedgerContext db, PeopleDesk desk, IPasswordHasher<PersonRow> hasher) : IActHandler<Command, PersonActed>
    {
        public async Task<Outcome<PersonActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Person(act.Name, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var person = found.Result;
            var hash = act.Badge is null ? null : Secret.HashOfCode(Code.KeyOf(act.Badge.Reveal()));
            var takenBy = await db.People.Where(row => row.BadgeHash == hash && hash != null && row.Id != person.Id)
                .Select(row => row.Name).SingleOrDefaultAsync(cancellation);
            if (Decide(act, person, takenBy) is { } refusal) return refusal;
            person.BadgeHash = hash;
            person.PinHash = hash is null ? null : hasher.HashPassword(person, act.Pin!.Reveal());
            PeopleDesk.EndSessions(person);
            return new PersonActed(person.Name, hash is null ? $"{person.Name} has no badge any more." : $"{person.Name} signs in at a bench by badge and PIN.");
        }
    }
}
