using PartsLedger.Domain.Access;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Access;

/// <summary>Somebody forgot their password or lost their authenticator: they get a link to choose a new password.</summary>
public static class ResetPassword
{
    /// <param name="SecondFactorToo">The authenticator is lost as well: the second factor is taken off.</param>
    [Allowed(Role.Supervisor, Role.Administrator)]
    [WrittenDown]
    public sealed record Command(string RequestId, string Name, bool SecondFactorToo = false) : IAct<PersonActed>, IConcerns;

    public sealed class Handler(PeopleDesk desk) : IActHandler<Command, PersonActed>
    {
        public async Task<Outcome<PersonActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Person(act.Name, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var person = found.Result;
            if (PeopleDesk.WhyNotHelp(person, context.Caller) is { } refusal) return refusal;

            // The old password goes at once: whoever asks for this may know that somebody else has it.
            person.PasswordHash = null;
            if (act.SecondFactorToo) (person.SecondFactorKey, person.SecondFactorSince) = (null, null);
            PeopleDesk.EndSessions(person);
            var link = await desk.NewLink(person, context, cancellation);
            return new PersonActed(person.Name, $"{person.Name} chooses a new password by the link, which is good once and for an hour.", link);
        }
    }
}
