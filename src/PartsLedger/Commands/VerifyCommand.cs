using System.CommandLine;
using System.Globalization;
using System.Text;
using System.Text.Json;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Commands;

/// <summary>
/// <c>partsledger verify [--full] [--json] [--db CONNECTION]</c>: does everything hold that must always hold. Ends with 0 when it does, 1 when
/// not, 2 when the database cannot be used.
/// </summary>
public static class VerifyCommand
{
    public const int Sound = 0;
    public const int NotSound = 1;
    public const int Unusable = 2;

    public static Command Make()
    {
        var full = new Option<bool>("--full") { Description = "Go through everything since the first transaction, not only what is new since the last time." };
        var json = new Option<bool>("--json") { Description = "For another program to read." };
        var database = ShopCommand.Database();
        var command = new Command("verify", "Derive every balance from the ledger again and check every rule that must always hold.") { full, json, database };
        command.SetAction((parsed, cancellation) => parsed.OnDatabase(database, async services =>
        {
            var verified = await services.GetRequiredService<Asking>()
                .Ask<VerifyLedger.Query, VerifyLedger.Answer>(new(parsed.GetValue(full)), cancellation);
            if (!verified.Succeeded) return verified.Refusal;
            await parsed.InvocationConfiguration.Output.WriteLineAsync(parsed.GetValue(json) ? JsonSerializer.Serialize(verified.Result, ShopJson.Indented) : Text(verified.Result));
            return verified.Result.Sound ? Sound : NotSound;
        }, cancellation));
        return command;
    }

    private static string Text(VerifyLedger.Answer answer)
    {
        var counted = answer.Counted;
        var text = new StringBuilder().Append(CultureInfo.InvariantCulture,
            $"Checked {(answer.Full ? "everything" : $"what is new since place {answer.After} of the feed")}, up to place {answer.UpTo}: ")
            .Append(CultureInfo.InvariantCulture, $"{counted.Transactions} transactions, {counted.Lines} lines, {counted.Balances} balances, ")
            .Append(CultureInfo.InvariantCulture, $"{counted.Reservations} reservations, {counted.Requests} requests, {counted.Pairs} pairs, {counted.AuditEntries} entries of the audit.");
        foreach (var breach in answer.Breaches) text.Append(CultureInfo.InvariantCulture, $"\n{breach.Rule}: {breach.Where}: {breach.What}");
        return text.Append(answer.Sound ? "\nSound." : "\nNOT SOUND.").ToString();
    }
}
