using System.CommandLine;
using System.Text.Json;
using PartsLedger.Commands;
using PartsLedger.Hosting;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Stock;

namespace PartsLedger.Integration.Tests.Stock;

/// <summary>The verify command from outside, and what a monitor gets.</summary>
public sealed class VerifyCommandTests(SqliteStore store) : StockSpecification<SqliteStore>(store)
{
    [Fact]
    public async Task A_sound_ledger_is_0_and_says_what_was_counted()
    {
        await Receive(Seal, 3);
        var (status, output) = await Run();
        Assert.Equal(0, status);
        Assert.Contains("1 transactions, 2 lines, 1 balances, 0 reservations, 1 requests, 0 pairs, 1 entries of the audit.\nSound.", output, StringComparison.Ordinal);
        Assert.Contains("what is new since place 1", (await Run()).Output, StringComparison.Ordinal);
        Assert.Contains("Checked everything, up to place 1: 1 transactions", (await Run("--full")).Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_unsound_ledger_is_1_and_names_the_breach()
    {
        await Receive(Seal, 3);
        await Damage.Do(Store, "update stock_balances set on_hand = 4000");
        var (status, output) = await Run();
        Assert.Equal(1, status);
        Assert.Contains("BALANCES_EQUAL_LINES: part 10-4477 in A-01, new: The balance says 4, the ledger's lines say 3.\nNOT SOUND.", output, StringComparison.Ordinal);
        var (jsonStatus, json) = await Run("--json");
        Assert.Equal(1, jsonStatus);
        var answer = JsonDocument.Parse(json).RootElement;
        Assert.False(answer.GetProperty("sound").GetBoolean());
        Assert.Equal("BALANCES_EQUAL_LINES", answer.GetProperty("breaches")[0].GetProperty("rule").GetString());
        Assert.Equal(2, answer.GetProperty("counted").GetProperty("lines").GetInt64());
    }

    [Fact]
    public async Task A_database_that_cannot_be_used_is_2()
    {
        var errors = new StringWriter();
        Assert.Equal(2, await CommandLine.Run(["verify", "--db", "paper:ledger"], new InvocationConfiguration { Output = TextWriter.Null, Error = errors }));
        Assert.NotEmpty(errors.ToString());
    }

    [Fact]
    public async Task A_monitor_gets_the_last_answer_for_a_minute_and_then_a_new_one()
    {
        using var health = new LedgerHealth(Store.Dispatcher, Store.Clock);
        await Receive(Seal, 3);
        var first = (await health.Ask(Caller.CommandLine, CancellationToken.None)).Result;
        await Damage.Do(Store, "update stock_balances set on_hand = 4000");
        Store.Clock.Advance(TimeSpan.FromSeconds(59));
        Assert.Equal(first, (await health.Ask(Caller.CommandLine, CancellationToken.None)).Result);
        Assert.True(first.Answer.Sound);
        Store.Clock.Advance(TimeSpan.FromSeconds(1));
        Assert.False((await health.Ask(Caller.CommandLine, CancellationToken.None)).Result.Answer.Sound);
        Assert.Equal("NOT_ALLOWED", (await health.Ask(new Caller("nobody"), CancellationToken.None)).Refusal?.Code);
    }

    private async Task<(int Status, string Output)> Run(params string[] more)
    {
        var output = new StringWriter();
        var status = await CommandLine.Run(["verify", "--db", $"sqlite:{Store.Address.Connection}", .. more],
            new InvocationConfiguration { Output = output, Error = TextWriter.Null });
        return (status, output.ToString().ReplaceLineEndings("\n"));
    }
}
