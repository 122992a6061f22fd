using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Access;

/// <summary>A link by which the first person sets the shop up; none when it has people already.</summary>
public static class OfferSetUp
{
    [Allowed(Role.Administrator)]
    public sealed record Command(string RequestId) : IAct<Answer>;

    /// <param name="Link">Shown this once, in the terminal that started the program.</param>
    public sealed record Answer(Secret? Link);

    public sealed class Handler(LedgerContext db, PeopleDesk desk) : IActHandler<Command, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Command act, ActContext context, CancellationToken cancellation) =>
            new Answer(await db.People.AnyAsync(cancellation) ? null : await desk.NewLink(null, context, cancellation));
    }
}
