using Microsoft.AspNetCore.Identity;
using PartsLedger.Data.Access;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Access;

/// <summary>Whoever is signed in takes another password, and is signed out everywhere.</summary>
public static class ChangeMyPassword
{
    [AllowedToEveryone]
    [WrittenDown]
    [Heavy]
    public sealed record Command(string RequestId, Secret Current, Secret Next) : IAct<PersonActed>;

    public static Refusal WrongPassword { get; } = new("WRONG_PASSWORD", "That is not your password, or there were too many wrong tries.",
        "Type it again; after several wrong tries wait some minutes.");

    public static Refusal? Decide(Command act, PersonRow person, bool currentIsRight) => !currentIsRight
        ? WrongPassword
        : AccessRules.WhyNoPassword(act.Next.Reveal(), person.Name);

    public sealed class Handler(PeopleDesk desk, SignIn signIn, IPasswordHasher<PersonRow> hasher) : IActHandler<Command, PersonActed>
    {
        public async Task<Outcome<PersonActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var self = await desk.Self(context.Caller, cancellation);
            if (!self.Succeeded) return self.Refusal;
            var person = self.Result;
            if (Decide(act, person, await signIn.IsPassword(person.Id, act.Current.Reveal(), cancellation)) is { } refusal) return refusal;
            person.PasswordHash = hasher.HashPassword(person, act.Next.Reveal());
            PeopleDesk.EndSessions(person);
            return new PersonActed(person.Name, "The password is changed; sign in with it.");
        }
    }
}
