using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Access;

/// <summary>Somebody signs out: every session of theirs ends, so that a cookie that was copied opens nothing any more.</summary>
public static class SignOut
{
    [AllowedToEveryone]
    public sealed record Command(string RequestId) : IAct<PersonActed>;

    public sealed class Handler(PeopleDesk desk) : IActHandler<Command, PersonActed>
    {
        public async Task<Outcome<PersonActed>> Handle(Command act, ActContext context, CancellationToken cancellation) =>
            (await desk.Self(context.Caller, cancellation)).Then<PersonActed>(person =>
            {
                PeopleDesk.EndSessions(person);
                return new PersonActed(person.Name, $"{person.Name} is signed out everywhere.");
            });
    }
}
