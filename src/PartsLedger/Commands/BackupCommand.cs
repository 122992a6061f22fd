using System.CommandLine;
using System.Globalization;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Commands;

/// <summary>
/// <c>partsledger backup FILE [--db CONNECTION]</c> copies the embedded database while it is worked on, <c>partsledger restore FILE
/// [--replace] [--db CONNECTION]</c> puts a copy back. Both check the copy first. They end with 0, or with 2 and nothing changed.
/// </summary>
public static class BackupCommand
{
    public static Command Make()
    {
        var file = new Argument<string>("FILE") { Description = "The file to write; it must not be there yet." };
        var database = ShopCommand.Database();
        var command = new Command("backup", "Copy the embedded database into a file, while it is worked on, and check the copy.") { file, database };
        command.SetAction((parsed, cancellation) => Say(parsed, database, address => Backups.Take(address, parsed.GetValue(file)!, cancellation)));
        return command;
    }

    public static Command MakeRestore()
    {
        var file = new Argument<string>("FILE") { Description = "A file that 'partsledger backup' wrote." };
        var replace = new Option<bool>("--replace") { Description = "Take the place of a database that is there; that one is kept under another name." };
        var database = ShopCommand.Database();
        var command = new Command("restore", "Check a copy of the embedded database, bring it up to this version and put it in place.") { file, replace, database };
        command.SetAction((parsed, cancellation) => Say(parsed, database,
            address => Backups.PutBack(parsed.GetValue(file)!, address, parsed.GetValue(replace), TimeProvider.System.GetUtcNow(), cancellation)));
        return command;
    }

    private static async Task<int> Say(ParseResult parsed, Option<string?> database, Func<DatabaseAddress, Task<Outcome<Backups.Made>>> work)
    {
        var address = DatabaseAddress.Choose(parsed.GetValue(database));
        if (!address.Succeeded) return await parsed.Refuse(address.Refusal);
        var done = await work(address.Result);
        if (!done.Succeeded) return await parsed.Refuse(done.Refusal);
        var made = done.Result;
        await parsed.InvocationConfiguration.Output.WriteLineAsync(string.Create(CultureInfo.InvariantCulture, $"""
            {made.File}: {made.Bytes} bytes, in order. {(made.Verified is { } verified
                ? $"The ledger in it is sound: {verified.Counted.Transactions} transactions, {verified.Counted.Lines} lines, {verified.Counted.Pairs} pairs."
                : "An older program made it; its ledger is verified when it is restored.")}
            """));
        if (made.Before is { } before) await parsed.InvocationConfiguration.Output.WriteLineAsync($"What was there before is kept as {before}.");
        return 0;
    }
}
