using System.ComponentModel;
using GraphQL;
using GraphQL.Types;
using PartsLedger.Domain.Access;

namespace PartsLedger.Access;

public sealed class RoleGraphType : EnumerationGraphType<Role>
{
    public RoleGraphType()
    {
        Name = "Role";
        Description = "What somebody does in the shop, and so what they may do in the program.";
        Values["COUNTER"]!.Description = "Takes jobs and cores in, accepts lists, reserves, settles deposits.";
        Values["WAREHOUSE"]!.Description = "Receives, moves, pulls, counts, scraps.";
        Values["REBUILDER"]!.Description = "Tears down, measures, pairs, assembles, checks, tests, releases.";
        Values["SUPERVISOR"]!.Description = "All of the three, and what must be done under a supervisor's name; helps people with passwords and badges.";
        Values["ADMINISTRATOR"]!.Description = "Looks after people, tokens, the shop's choices and imports.";
        Values["READER"]!.Description = "Asks and changes nothing.";
    }
}

public sealed class AuditKindGraphType : EnumerationGraphType<AuditKind>
{
    public AuditKindGraphType()
    {
        Name = "AuditKind";
        Description = "What an entry of the audit tells.";
        Values["DID"]!.Description = "An act was done, or somebody signed in or out.";
        Values["SAW"]!.Description = "A list that is written down was shown.";
        Values["REFUSED"]!.Description = "Somebody was not let in, not allowed, or refused an act on people, passwords or tokens.";
    }
}

public sealed class WayGraphType : EnumerationGraphType<Way>
{
    public WayGraphType()
    {
        Name = "Way";
        Description = "By which of the program's doors somebody came.";
        Values["PROGRAM"]!.Description = "The program by itself.";
        Values["COMMAND"]!.Description = "The command line of its machine.";
        Values["PAGE"]!.Description = "A page or a download.";
        Values["API"]!.Description = "GraphQL.";
    }
}

[Name("AuditEntry")]
[Description("Who did, saw or was refused what, from where and when.")]
public sealed class AuditEntryView(FindAudit.Entry entry)
{
    [Description("Its place in the chain of all entries, from 1 without gaps.")]
    public long Place => entry.Place;

    [Description("When.")]
    public DateTimeOffset At => entry.At;

    [Description("The name of the person or program; `nobody` for somebody who did not get in.")]
    public string Who => entry.Who;

    [Description("Whether it was done, seen or refused.")]
    public AuditKind Kind => entry.Kind;

    [Description("The use case.")]
    public string What => entry.What;

    [Description("Whom or what it concerned, where the use case says so.")]
    public string? About => entry.About;

    [Description("The refusal's code.")]
    public string? Code => entry.Code;

    [Description("The act's request id, which stands beside what it wrote.")]
    public string? RequestId => entry.RequestId;

    [Description("By which door.")]
    public Way Way => entry.Way;

    [Description("From which address, where it came over the network.")]
    public string? Address => entry.Address;

    [Description("SHA-256 over the entry and the hash of the one before: keep it elsewhere to prove later that nothing up to here was changed.")]
    public string Hash => entry.Hash;
}

[Name("Person")]
[Description("Somebody who works with the program.")]
public sealed class PersonView(FindPeople.Person person)
{
    [Description("The name they sign in with.")]
    public string Name => person.Name;

    [Description("What they may do.")]
    public IReadOnlyList<Role> Roles => person.Roles;

    [Description("False once they have left.")]
    public bool Active => person.Active;

    [Description("They have chosen a password.")]
    public bool HasPassword => person.HasPassword;

    [Description("Signing in asks them for a code of their authenticator.")]
    public bool HasSecondFactor => person.HasSecondFactor;

    [Description("They may sign in at a shared bench.")]
    public bool HasBadge => person.HasBadge;
}

[Name("Token")]
[Description("What another program shows to be let in, without the token itself.")]
public sealed class TokenView(FindTokens.Token token)
{
    [Description("The program's name.")]
    public string Name => token.Name;

    [Description("What the program may do.")]
    public IReadOnlyList<Role> Roles => token.Roles;

    [Description("Who made it.")]
    public string MadeBy => token.MadeBy;

    [Description("Until when it is good.")]
    public DateTimeOffset ExpiresAt => token.ExpiresAt;

    [Description("Since when it is good no longer; null while it is.")]
    public DateTimeOffset? RevokedAt => token.RevokedAt;

    [Description("When it was last used, to the minute; null when never.")]
    public DateTimeOffset? LastUsedAt => token.LastUsedAt;
}

[Name("PersonActed")]
[Description("What an act on a person or a token came to.")]
public sealed class PersonActedView(PersonActed acted)
{
    [Description("The name.")]
    public string Name => acted.Name;

    [Description("The same in a sentence.")]
    public string Sentence => acted.Sentence;

    [Description("The path of the page where the person goes on, where there is one: told only in the first answer, good once and for an hour.")]
    public string? Link => acted.Link?.Reveal();
}

[Name("TokenMade")]
[Description("A new token.")]
public sealed class TokenMadeView(MakeToken.Answer made)
{
    [Description("The program's name.")]
    public string Name => made.Name;

    [Description("Until when it is good.")]
    public DateTimeOffset ExpiresAt => made.ExpiresAt;

    [Description("What to do with it.")]
    public string Sentence => made.Sentence;

    [Description("The token: send it as `Authorization: Bearer`. Told only in the first answer.")]
    public string? Token => made.Token?.Reveal();
}
