using PartsLedger.Data.Access;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Access;

/// <summary>A code of the new authenticator was given back: from now on signing in asks for one.</summary>
public static class ConfirmSecondFactor
{
    [AllowedToEveryone]
    [WrittenDown]
    [Heavy]
    public sealed record Command(string RequestId, Secret Code) : IAct<PersonActed>;

    public static Outcome<long> Decide(Command act, PersonRow person, DateTimeOffset now) =>
        person is not { SecondFactorKey: { } key, SecondFactorSince: null }
            ? new Refusal("NO_SECOND_FACTOR_BEGUN", "There is no new key to confirm.", "Begin with a new key.")
            : OneTimeCode.StepOf(key, act.Code.Reveal(), now) is { } step ? step
            : new Refusal("WRONG_CODE", "That is not what the authenticator shows now.", "Check that the key was read in and that its clock is right; then type the next code.");

    public sealed class Handler(PeopleDesk desk) : IActHandler<Command, PersonActed>
    {
        public async Task<Outcome<PersonActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var self = await desk.Self(context.Caller, cancellation);
            if (!self.Succeeded) return self.Refusal;
            var decided = Decide(act, self.Result, context.Now);
            if (!decided.Succeeded) return decided.Refusal;
            (self.Result.SecondFactorSince, self.Result.SecondFactorStep) = (context.Now, decided.Result);
            self.Result.Version++;
            return new PersonActed(self.Result.Name, "From now on signing in asks for a code of your authenticator.");
        }
    }
}
