using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Access;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Access;

/// <summary>What an act on a person came to, in a sentence; with a link that is shown this once, where there is one.</summary>
/// <param name="Link">The path of a page on this site where the person goes on. Null in every answer but the first.</param>
public sealed record PersonActed(string Name, string Sentence, Secret? Link = null);

/// <summary>Finds people by name, and does to their rows what several acts do.</summary>
public sealed class PeopleDesk(LedgerContext db)
{
    /// <summary>How long a one-time link is good.</summary>
    public static readonly TimeSpan LinkTime = TimeSpan.FromHours(1);

    public async Task<Outcome<PersonRow>> Person(string name, CancellationToken cancellation)
    {
        var key = Code.KeyOf(name);
        var person = await db.People.Include(row => row.Roles).SingleOrDefaultAsync(row => row.NameKey == key, cancellation);
        return person is null ? Unknown(name) : person;
    }

    public static Refusal Unknown(string name) => new("UNKNOWN_PERSON", $"Nobody here is called '{name}'.", "Ask for the list of people.");

    /// <summary>The person who sent the act, as they are in the database.</summary>
    public async Task<Outcome<PersonRow>> Self(Caller caller, CancellationToken cancellation)
    {
        var person = caller.PersonId is { } id ? await db.People.Include(row => row.Roles).SingleOrDefaultAsync(row => row.Id == id, cancellation) : null;
        return person is null ? new Refusal("NOT_A_PERSON", "Only somebody who is signed in can do this to themselves.", "Sign in first.") : person;
    }

    public async Task<Outcome<PersonRow>> New(string name, IReadOnlyCollection<Role> roles, ActContext context, CancellationToken cancellation)
    {
        var read = AccessRules.Name(name);
        if (!read.Succeeded) return read.Refusal;
        var key = Code.KeyOf(read.Result);
        if (await db.People.AnyAsync(row => row.NameKey == key, cancellation))
            return new Refusal("NAME_TAKEN", $"Somebody is called '{read.Result}' already.", "Choose another name; names stay with whoever had them.");
        var person = new PersonRow { Name = read.Result, NameKey = key, Stamp = NewStamp(), MadeAt = context.Now, MadeBy = context.Caller.Name };
        person.Roles.AddRange(roles.Distinct().Select(role => new PersonRoleRow { Role = role }));
        person.Tries.AddRange(Enum.GetValues<SignInMeans>().Select(means => new SignInTriesRow { Means = means }));
        db.People.Add(person);
        return person;
    }

    /// <summary>Ends every session of the person.</summary>
    public static void EndSessions(PersonRow person)
    {
        person.Stamp = NewStamp();
        person.Version++;
    }

    /// <summary>A link by which the person chooses a new password; earlier ones are no longer good.</summary>
    public async Task<Secret> NewLink(PersonRow? person, ActContext context, CancellationToken cancellation)
    {
        if (person is { Id: > 0 })
            await db.OneTimeLinks.Where(row => row.PersonId == person.Id && row.UsedAt == null)
                .ExecuteUpdateAsync(set => set.SetProperty(row => row.UsedAt, context.Now), cancellation);
        else if (person is not null) await db.SaveChangesAsync(cancellation);
        var code = Secret.NewCode();
        db.OneTimeLinks.Add(new OneTimeLinkRow
        {
            CodeHash = Secret.HashOfCode(code.Reveal()), PersonId = person?.Id, MadeAt = context.Now, MadeBy = context.Caller.Name,
            ExpiresAt = context.Now + LinkTime,
        });
        return new Secret($"{(person is null ? "/set-up" : "/new-password")}?code={code.Reveal()}");
    }

    /// <summary>Uses a link up; only one of two who come at once gets it.</summary>
    public async Task<Outcome<OneTimeLinkRow>> UseLink(Secret code, bool toSetUp, ActContext context, CancellationToken cancellation)
    {
        var hash = Secret.HashOfCode(code.Reveal());
        var link = await db.OneTimeLinks.AsNoTracking().SingleOrDefaultAsync(row => row.CodeHash == hash && (row.PersonId == null) == toSetUp, cancellation);
        if (link is null || link.UsedAt is not null || link.ExpiresAt <= context.Now) return BadLink;
        var used = await db.OneTimeLinks.Where(row => row.Id == link.Id && row.UsedAt == null)
            .ExecuteUpdateAsync(set => set.SetProperty(row => row.UsedAt, context.Now), cancellation);
        return used == 1 ? link : BadLink;
    }

    public static Refusal BadLink { get; } = new("LINK_NOT_GOOD", "This link is not known, was used already or is older than an hour.",
        "Ask for a new one; a shop that is not set up prints one whenever `partsledger serve` starts.");

    /// <summary>A supervisor helps everybody but administrators, who could otherwise be taken over; an administrator helps everybody.</summary>
    public static Refusal? WhyNotHelp(PersonRow person, Caller caller) =>
        person.Roles.Exists(row => row.Role == Role.Administrator) && !caller.Roles.Contains(Role.Administrator)
            ? new("ADMINISTRATOR_NEEDED", $"{person.Name} is an administrator.", "Only another administrator, or the machine's command line, can do this for them.") : null;

    /// <summary>Somebody must be left who can look after the program.</summary>
    public async Task<Refusal?> WhyNotLastAdministrator(PersonRow leaving, CancellationToken cancellation) =>
        leaving.Roles.Exists(row => row.Role == Role.Administrator) && leaving.IsActive
            && !await db.People.AnyAsync(row => row.Id != leaving.Id && row.IsActive && row.Roles.Any(role => role.Role == Role.Administrator), cancellation)
            ? new("LAST_ADMINISTRATOR", $"{leaving.Name} is the last administrator.", "Make somebody else an administrator first.") : null;

    private static string NewStamp() => Guid.NewGuid().ToString("N");
}
