using System.CommandLine;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Commands;
using PartsLedger.Data.Catalog;
using PartsLedger.Data.Fit;
using PartsLedger.Data.Stock;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Stock;
using PartsLedger.Integration.Tests.Databases;

namespace PartsLedger.Integration.Tests.Api;

/// <summary>Everything the API can do, on the command line, in a supervisor's name.</summary>
public sealed class AskCommandTests(SqliteStore store) : Specification<SqliteStore>(store)
{
    [Fact]
    public async Task A_supervisor_at_the_machine_takes_a_pair_apart()
    {
        await Pair();
        var (status, answer, _) = await Ask("""
            mutation($why: String!) { takePairApart(requestId: "r-1", pair: "P-1", location: "HOLD", why: $why) { result { done } refusals { code } } }
            """, "--variables", """{ "why": "the spool is scored" }""");
        Assert.Equal(0, status);
        Assert.Contains("no longer a pair", answer.GetProperty("data").GetProperty("takePairApart").GetProperty("result").GetProperty("done").GetString()!, StringComparison.Ordinal);
        Assert.Equal([UnitState.Quarantine, UnitState.Quarantine], await Store.With(db => db.Units.Select(row => row.State).ToListAsync()));
        Assert.Equal(["command line"], await Store.With(db => db.UnitEvents.Where(row => row.What == "taken apart").Select(row => row.Who).Distinct().ToListAsync()));
    }

    [Fact]
    public async Task A_question_is_answered_and_ends_with_0()
    {
        var (status, answer, error) = await Ask("{ coreBank { owed } waitingCounts { nodes { part } } ledgerCheck { sound breaches } }");
        Assert.Equal((0, ""), (status, error));
        Assert.True(answer.GetProperty("data").GetProperty("ledgerCheck").GetProperty("sound").GetBoolean());
    }

    [Fact]
    public async Task A_refused_act_ends_with_1_and_says_why()
    {
        var (status, answer, _) = await Ask("""mutation { setShopChoice(requestId: "r-2", name: "colour", value: "blue") { result { value } refusals { code whatToDo } } }""");
        Assert.Equal(1, status);
        Assert.Contains("UNKNOWN_CHOICE", answer.ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("{ nothingOfThatName }")]
    [InlineData("{ ")]
    [InlineData("{ scan(code: \"NO-SUCH\") { kind } }")]
    public async Task A_question_that_cannot_be_answered_ends_with_2(string document)
    {
        var (status, answer, _) = await Ask(document);
        Assert.Equal(2, status);
        Assert.NotEmpty(answer.GetProperty("errors")[0].GetProperty("message").GetString()!);
    }

    [Theory]
    [InlineData("{")]
    [InlineData("[1]")]
    [InlineData("null")]
    public async Task Variables_that_are_no_object_end_with_2(string variables)
    {
        var (status, _, error) = await Ask("{ coreBank { owed } }", "--variables", variables);
        Assert.Equal(2, status);
        Assert.Contains("no JSON object", error, StringComparison.Ordinal);
    }

    private Task Pair() => Store.With(async db =>
    {
        var bin = new LocationRow { Code = "A-01", CodeKey = "A-01", Name = "Bin" };
        var family = new FamilyRow { Code = "QX", CodeKey = "QX", Name = "QX" };
        var ofClass = new PressureClassRow { Code = "P9", CodeKey = "P9", Name = "P9", Relief = Pressure.FromPascals(9_000_000) };
        db.AddRange(bin, family, ofClass, new LocationRow { Code = "HOLD", CodeKey = "HOLD", Name = "Hold", Kind = LocationKind.Quarantine });
        db.Add(new PairRow
        {
            Code = "P-1", CodeKey = "P-1", Family = family, PressureClass = ofClass, Location = bin, Halves =
            {
                new UnitRow { Tag = "H-1", TagKey = "H-1", Role = UnitRole.Housing, Family = family },
                new UnitRow { Tag = "V-1", TagKey = "V-1", Role = UnitRole.Valve, Family = family, PressureClass = ofClass },
            },
        });
        await db.SaveChangesAsync();
    });

    private async Task<(int Status, JsonElement Answer, string Error)> Ask(string document, params string[] more)
    {
        await using var output = new StringWriter();
        await using var error = new StringWriter();
        var status = await CommandLine.Run(["ask", document, "--db", $"sqlite:{Store.Address.Connection}", .. more],
            new InvocationConfiguration { Output = output, Error = error });
        return (status, output.ToString() is { Length: > 0 } text ? JsonDocument.Parse(text).RootElement : default, error.ToString());
    }
}
