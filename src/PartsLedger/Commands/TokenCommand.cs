using System.CommandLine;
using System.Globalization;
using PartsLedger.Access;
using PartsLedger.Domain.Access;
using PartsLedger.Hosting;

namespace PartsLedger.Commands;

/// <summary><c>partsledger token list | add NAME --role ROLE… [--days N] | revoke NAME</c>: what other programs show to be let in.</summary>
internal static class TokenCommand
{
    public static Command Make() => new("token", "What other programs show to be let in.") { List(), Add(), Revoke() };

    private static Command List()
    {
        var database = ShopCommand.Database();
        var command = new Command("list", "Every token, by name; never the token itself.") { database };
        command.SetAction((given, cancellation) => given.OnDatabase(database, async services =>
        {
            for (string? after = null; ;)
            {
                var page = await services.GetRequiredService<Asking>().Ask<FindTokens.Query, Page<FindTokens.Token>>(new(new PageRequest(PageRequest.MaxFirst, after)), cancellation);
                if (!page.Succeeded) return page.Refusal;
                foreach (var (_, token) in page.Result.Entries)
                    await given.InvocationConfiguration.Output.WriteLineAsync(
                        $"{token.Name}: {token.Roles.Say()}; {(token.RevokedAt is { } revoked ? $"revoked {Day(revoked)}" : $"until {Day(token.ExpiresAt)}")}; "
                        + (token.LastUsedAt is { } used ? $"last used {Day(used)}" : "never used"));
                if (!page.Result.HasNext) return 0;
                after = page.Result.Entries[^1].Place;
            }
        }, cancellation));
        return command;
    }

    private static Command Add()
    {
        var name = new Argument<string>("NAME") { Description = "The program's name, as it will stand beside what it does." };
        var (database, roles) = (ShopCommand.Database(), PeopleCommand.RolesOption());
        var days = new Option<int>("--days") { Description = $"For how many days it is good, 1 to {MakeToken.MostDays}.", DefaultValueFactory = _ => 90 };
        var command = new Command("add", "Make a token; prints it this once.") { name, roles, days, database };
        command.SetAction((given, cancellation) => given.OnDatabase(database, async services =>
        {
            var read = PeopleCommand.Read(given.GetValue(roles));
            if (!read.Succeeded) return read.Refusal;
            var made = await services.GetRequiredService<Dispatcher>().Send<MakeToken.Command, MakeToken.Answer>(
                new(PeopleCommand.NewId(), given.GetValue(name)!, read.Result, given.GetValue(days)), Caller.CommandLine, cancellation);
            if (!made.Succeeded) return made.Refusal;
            await given.InvocationConfiguration.Error.WriteLineAsync($"{made.Result.Sentence} Good until {Day(made.Result.ExpiresAt)}.");
            await given.InvocationConfiguration.Output.WriteLineAsync(made.Result.Token!.Reveal());
            return 0;
        }, cancellation));
        return command;
    }

    private static Command Revoke()
    {
        var name = new Argument<string>("NAME") { Description = "The token's name." };
        var database = ShopCommand.Database();
        var command = new Command("revoke", "End a token.") { name, database };
        command.SetAction((given, cancellation) => given.OnDatabase(database, async services =>
        {
            var revoked = await services.GetRequiredService<Dispatcher>().Send<RevokeToken.Command, PersonActed>(
                new(PeopleCommand.NewId(), given.GetValue(name)!), Caller.CommandLine, cancellation);
            if (!revoked.Succeeded) return revoked.Refusal;
            await given.InvocationConfiguration.Output.WriteLineAsync(revoked.Result.Sentence);
            return 0;
        }, cancellation));
        return command;
    }

    private static string Day(DateTimeOffset at) => at.UtcDateTime.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}
