using FluentValidation;
using PartsLedger.Data.Access;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Access;

/// <summary>What somebody may do changes, from their next request on.</summary>
public static class ChangeRoles
{
    [Allowed(Role.Administrator)]
    [WrittenDown]
    public sealed record Command(string RequestId, string Name, IReadOnlyList<Role> Roles) : IAct<PersonActed>, IConcerns;

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator() => RuleFor(c => c.Roles).SomeRoles();
    }

    public sealed class Handler(PeopleDesk desk) : IActHandler<Command, PersonActed>
    {
        public async Task<Outcome<PersonActed>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Person(act.Name, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var person = found.Result;
            if (!act.Roles.Contains(Role.Administrator) && await desk.WhyNotLastAdministrator(person, cancellation) is { } refusal) return refusal;
            person.Roles.RemoveAll(row => !act.Roles.Contains(row.Role));
            person.Roles.AddRange(act.Roles.Distinct().Except(person.Roles.Select(row => row.Role)).Select(role => new PersonRoleRow { Role = role }).ToList());
            person.Version++;
            return new PersonActed(person.Name, $"{person.Name} is now: {act.Roles.Distinct().Say()}.");
        }
    }
}
