using FluentValidation;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Access;

/// <summary>Somebody new works with the program. Nobody chooses a password for them: they get a link to choose their own.</summary>
public static class AddPerson
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
            var made = await desk.New(act.Name, act.Roles, context, cancellation);
            if (!made.Succeeded) return made.Refusal;
            var link = await desk.NewLink(made.Result, context, cancellation);
            return new PersonActed(made.Result.Name, $"{made.Result.Name} is added as {act.Roles.Distinct().Say()}. The link is good once and for an hour.", link);
        }
    }

    internal static void SomeRoles<T>(this IRuleBuilder<T, IReadOnlyList<Role>> rule) => rule.NotEmpty()
        .WithErrorCode("ROLES_MISSING").WithMessage("No role was given.").WithState(_ => "Give at least one role.");
}
