using System.Security.Cryptography;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Access;

/// <summary>Whoever is signed in gets a key for their authenticator; it counts once a code of it was given back.</summary>
public static class StartSecondFactor
{
    [AllowedToEveryone]
    [WrittenDown]
    [Heavy]
    public sealed record Command(string RequestId, Secret Password) : IAct<PersonActed>;

    public sealed class Handler(PeopleDesk desk, SignIn signIn) : IActHandler<Command, PersonActed>
    {
        public async Task<Outcome<PersonActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var self = await desk.Self(context.Caller, cancellation);
            if (!self.Succeeded) return self.Refusal;
            var person = self.Result;
            if (person.SecondFactorSince is not null)
                return new Refusal("SECOND_FACTOR_IS_ON", "You have a second factor already.", "Take it off first.");
            if (!await signIn.IsPassword(person.Id, act.Password.Reveal(), cancellation)) return ChangeMyPassword.WrongPassword;

            // 160 bits, as RFC 4226 recommends.
            person.SecondFactorKey = OneTimeCode.ToBase32(RandomNumberGenerator.GetBytes(20));
            person.SecondFactorStep = 0;
            person.Version++;
            return new PersonActed(person.Name, "Read the key into your authenticator and give back a code.", new Secret(person.SecondFactorKey));
        }
    }
}
