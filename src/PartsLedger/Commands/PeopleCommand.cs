using System.CommandLine;
using PartsLedger.Access;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Commands;

/// <summary>
/// <c>partsledger people list | add NAME --role ROLE… | roles NAME --role ROLE… | reset NAME | link NAME [--account ACCOUNT] | leave NAME | return NAME</c>: for whoever has the machine,
/// also when nobody is left who can sign in.
/// </summary>
internal static class PeopleCommand
{
    private static readonly Argument<string> Name = new("NAME") { Description = "The person's name." };

    private static readonly Option<string?> Account = new("--account") { Description = "What the sign-in service calls the account.", HelpName = "ACCOUNT" };

    public static Command Make() => new("people", "Who works with the program, and what they may do.")
    {
        List(),
        Act("add", "Add somebody; prints the link by which they choose their password.", roles: true,
            (given, roles) => new AddPerson.Command(NewId(), given.GetValue(Name)!, roles)),
        Act("roles", "Give somebody other roles.", roles: true, (given, roles) => new ChangeRoles.Command(NewId(), given.GetValue(Name)!, roles)),
        Act("reset", "Take somebody's password and second factor away; prints a link to choose a new password.", roles: false,
            (given, _) => new ResetPassword.Command(NewId(), given.GetValue(Name)!, SecondFactorToo: true)),
        Act("link", "Link somebody to their account at the sign-in service (--account), or take the link away.", roles: false,
            (given, _) => new LinkAccount.Command(NewId(), given.GetValue(Name)!, given.GetValue(Account)), Account),
        Act("leave", "Somebody leaves: signed out everywhere, kept by name.", roles: false, (given, _) => new SetPersonActive.Command(NewId(), given.GetValue(Name)!, Active: false)),
        Act("return", "Somebody comes back.", roles: false, (given, _) => new SetPersonActive.Command(NewId(), given.GetValue(Name)!, Active: true)),
    };

    internal static Option<string[]> RolesOption() => new("--role")
    {
        Description = $"May be repeated: {string.Join(", ", Words.All<Role>())}.", HelpName = "ROLE", Required = true, AllowMultipleArgumentsPerToken = true,
    };

    internal static Outcome<IReadOnlyList<Role>> Read(string[]? words)
    {
        var roles = new List<Role>();
        foreach (var word in words ?? [])
            if (Words.TryParse(word, out Role role)) roles.Add(role);
            else return new Refusal("UNKNOWN_ROLE", $"There is no role '{word}'.", $"Give some of {string.Join(", ", Words.All<Role>())}.");
        return roles;
    }

    internal static string NewId() => Guid.NewGuid().ToString("N");

    private static Command List()
    {
        var database = ShopCommand.Database();
        var command = new Command("list", "Everybody, by name.") { database };
        command.SetAction((given, cancellation) => given.OnDatabase(database, async services =>
        {
            for (string? after = null; ;)
            {
                var page = await services.GetRequiredService<Asking>().Ask<FindPeople.Query, Page<FindPeople.Person>>(new(new PageRequest(PageRequest.MaxFirst, after)), cancellation);
                if (!page.Succeeded) return page.Refusal;
                foreach (var (_, person) in page.Result.Entries)
                    await given.InvocationConfiguration.Output.WriteLineAsync(
                        $"{person.Name}: {person.Roles.Say()}{(person.Active ? "" : "; has left")}{(person.HasPassword ? "" : "; has no password")}");
                if (!page.Result.HasNext) return 0;
                after = page.Result.Entries[^1].Place;
            }
        }, cancellation));
        return command;
    }

    private static Command Act<TAct>(string verb, string what, bool roles, Func<ParseResult, IReadOnlyList<Role>, TAct> make, Option? also = null) where TAct : IAct<PersonActed>
    {
        var (database, option) = (ShopCommand.Database(), RolesOption());
        var command = new Command(verb, what) { Name, database };
        if (roles) command.Add(option);
        if (also is not null) command.Add(also);
        command.SetAction((given, cancellation) => given.OnDatabase(database, async services =>
        {
            var read = Read(roles ? given.GetValue(option) : []);
            if (!read.Succeeded) return read.Refusal;
            var acted = await services.GetRequiredService<Dispatcher>().Send<TAct, PersonActed>(make(given, read.Result), Caller.CommandLine, cancellation);
            if (!acted.Succeeded) return acted.Refusal;
            await given.InvocationConfiguration.Output.WriteLineAsync(acted.Result.Sentence);
            if (acted.Result.Link is { } link) await given.InvocationConfiguration.Output.WriteLineAsync($"On the shop's own address: {link.Reveal()}");
            return 0;
        }, cancellation));
        return command;
    }
}
