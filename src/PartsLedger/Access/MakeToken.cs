using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Access;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Access;

/// <summary>Another program gets a token: its own name beside what it does, its own roles, an end, and no way to see it again.</summary>
public static class MakeToken
{
    public const int MostDays = 366;

    /// <param name="Days">How long it is good, 1 to <see cref="MostDays"/>.</param>
    [Allowed(Role.Administrator)]
    [WrittenDown]
    public sealed record Command(string RequestId, string Name, IReadOnlyList<Role> Roles, int Days) : IAct<Answer>, IConcerns;

    /// <param name="Token">Shown this once; null in every answer but the first.</param>
    public sealed record Answer(string Name, DateTimeOffset ExpiresAt, string Sentence, Secret? Token);

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Name).Named("name of the program");
            RuleFor(c => c.Name).MaximumLength(AccessRules.MaxName).WithErrorCode("TEXT_TOO_LONG").WithMessage("The name is too long.").WithState(_ => "Say it shorter.");
            RuleFor(c => c.Roles).SomeRoles();
            RuleFor(c => c.Days).InclusiveBetween(1, MostDays).WithErrorCode("BAD_EXPIRY")
                .WithMessage($"A token is good for 1 to {MostDays} days.").WithState(_ => "Make a new one in time instead.");
        }
    }

    public sealed class Handler(LedgerContext db) : IActHandler<Command, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var key = Code.KeyOf(act.Name);
            if (await db.AccessTokens.AnyAsync(row => row.NameKey == key, cancellation))
                return new Refusal("NAME_TAKEN", $"A token has the name '{act.Name.Trim()}' already, or had it.", "Choose another: names stay with what was done under them.");
            var token = Secret.NewCode(TokenDesk.Prefix);
            var row = new AccessTokenRow
            {
                Name = act.Name.Trim(), NameKey = key, Hash = Secret.HashOfCode(token.Reveal()), MadeAt = context.Now, MadeBy = context.Caller.Name,
                ExpiresAt = context.Now.AddDays(act.Days),
            };
            row.Roles.AddRange(act.Roles.Distinct().Select(role => new TokenRoleRow { Role = role }));
            db.AccessTokens.Add(row);
            return new Answer(row.Name, row.ExpiresAt, "Keep the token where the program finds it: it is not shown again.", token);
        }
    }
}
