using PartsLedger.Domain.Access;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Access;

/// <summary>Somebody leaves, or comes back. Nobody is deleted: their name stays beside what they did.</summary>
public static class SetPersonActive
{
    [Allowed(Role.Administrator)]
    [WrittenDown]
    public sealed record Command(string RequestId, string Name, bool Active) : IAct<PersonActed>, IConcerns;

    public sealed class Handler(PeopleDesk desk) : IActHandler<Command, PersonActed>
    {
        public async Task<Outcome<PersonActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Person(act.Name, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var person = found.Result;
            if (!act.Active && await desk.WhyNotLastAdministrator(person, cancellation) is { } refusal) return refusal;
            person.IsActive = act.Active;
            PeopleDesk.EndSessions(person);
            return new PersonActed(person.Name, act.Active ? $"{person.Name} may sign in again." : $"{person.Name} can no longer sign in, and is signed out everywhere.");
        }
    }
}
