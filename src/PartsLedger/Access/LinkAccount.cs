using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Access;

/// <summary>Somebody signs in by the shop's sign-in service from now on, or no longer: their account there is linked to who they are here.</summary>
public static class LinkAccount
{
    /// <summary>As the column that keeps it.</summary>
    public const int MostCharacters = 200;

    /// <param name="Account">What the service calls the account: the <c>sub</c> of its answers. Null takes the link away.</param>
    [Allowed(Role.Supervisor, Role.Administrator)]
    [WrittenDown]
    public sealed record Command(string RequestId, string Name, string? Account) : IAct<PersonActed>, IConcerns;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator() => RuleFor(c => c.Account).Length(1, MostCharacters).When(c => c.Account is not null)
            .WithErrorCode("BAD_ACCOUNT").WithMessage($"An account has 1 to {MostCharacters} characters.").WithState(_ => "Copy it from the sign-in service as it is.");
    }

    public sealed class Handler(LedgerContext db, PeopleDesk desk) : IActHandler<Command, PersonActed>
    {
        public async Task<Outcome<PersonActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Person(act.Name, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var person = found.Result;
            if (PeopleDesk.WhyNotHelp(person, context.Caller) is { } refusal) return refusal;
            if (act.Account is not null && await db.People.Where(row => row.Subject == act.Account && row.Id != person.Id)
                .Select(row => row.Name).SingleOrDefaultAsync(cancellation) is { } other)
                return new Refusal("ACCOUNT_TAKEN", $"That account is {other}'s.", "Take it from them first.");
            person.Subject = act.Account;
            PeopleDesk.EndSessions(person);
            return new PersonActed(person.Name, act.Account is null ? $"{person.Name} signs in by no account of the sign-in service any more."
                : $"{person.Name} may sign in by the sign-in service.");
        }
    }
}
