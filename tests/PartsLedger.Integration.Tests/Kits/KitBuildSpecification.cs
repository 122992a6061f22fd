using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Exchange.Labels;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Integration.Tests.Jobs;
using PartsLedger.Kits;

namespace PartsLedger.Integration.Tests.Kits;

/// <summary>Building and breaking down kits of the house, through GraphQL only, with the ledger verified after each.</summary>
public abstract class KitBuildSpecification<TStore>(TStore store) : WorkSpecification<TStore>(store) where TStore : Store
{
    private const string Built = "transaction lot count version value expiresOn limitedBy used { part lot quantity } fromJobs { job part quantity }";
    private const string Broken = "transaction value pieces { part lot place quantity }";

    /// <summary>How the shop values its stock; average unless said otherwise.</summary>
    protected virtual string? Costing => null;

    protected override async Task Prepare()
    {
        if (Costing is { } costing) await Do($"setShopChoice(name: \"costing\", value: \"{costing}\")", "value", Supervisor);
    }

    public override async ValueTask DisposeAsync()
    {
        try
        {
            await Verify();
        }
        finally
        {
            await base.DisposeAsync();
            GC.SuppressFinalize(this);
        }
    }

    [Fact]
    public async Task Kits_take_the_components_that_expire_first_and_are_as_old_and_as_dear_as_what_is_in_them()
    {
        await Recipe();
        await Receive("10-SEAL", 2, "A-01", "LATE", "2035-06-01");
        await Receive("10-SEAL", 2, "B-01", "SOON", "2033-01-31");
        var before = await Worth();
        var built = await Do("buildKit(kit: \"80-elm\", count: 3, to: \"A-02\", version: 1)", Built);
        Assert.Equal(["10-SEAL SOON 2", "10-SEAL LATE 1", "10-RING  12"], Lines(built.GetProperty("used")));
        Assert.Equal("2033-01-31", built.GetProperty("expiresOn").GetString());

        // 3 seals at 4.00 and 12 rings at 0.50.
        Assert.Equal(18m, built.GetProperty("value").GetDecimal());
        Assert.Equal(before, await Worth());
        Assert.Empty(built.GetProperty("limitedBy").EnumerateArray());
        Assert.Equal(3, (await Ask("onHand(part: \"80-ELM\") { available }")).GetProperty("available").GetDecimal());
        var labels = (await Store.Dispatcher.Ask<LabelsFor.Query, IReadOnlyList<Label>>(new([built.GetProperty("lot").GetString()!]), CancellationToken.None)).Result;
        Assert.Contains("use by 2033-01-31", Assert.Single(labels).Lines);
        Assert.StartsWith("recipe 1, built ", labels[0].Lines[1], StringComparison.Ordinal);
    }

    [Fact]
    public async Task No_remainder_of_value_is_lost_on_the_way_into_kits_and_back()
    {
        await Recipe();
        foreach (var (lot, pieces, cost) in new[] { ("A", 3, "1.3333"), ("B", 7, "2.0001"), ("C", 5, "0.0007") })
            await Do($"receiveStock(document: \"DN\", lines: [{{ part: \"10-SEAL\", quantity: {pieces}, location: \"A-01\", lot: \"{lot}\", unitCost: {cost} }}])", "transaction");
        await Do("receiveStock(document: \"DN\", lines: [{ part: \"10-RING\", quantity: 13, location: \"A-01\", unitCost: 0.3333 }])", "transaction");
        var before = await Worth();
        await Do("buildKit(kit: \"80-ELM\", count: 5, to: \"A-02\", lot: \"K1\")", Built);
        var second = await Do("buildKit(kit: \"80-ELM\", count: 2, to: \"A-02\", lot: \"K2\")", Built);
        Assert.Equal(before, await Worth());
        await Do("breakDownKit(kit: \"80-ELM\", lot: \"K1\", count: 2, from: \"A-02\", to: \"B-01\")", Broken);
        Assert.Equal(before, await Worth());
        await Do($"reverseTransaction(transaction: {second.GetProperty("transaction").GetString()}, reason: \"wrong bag\")", "transaction");
        await Do("breakDownKit(kit: \"80-ELM\", lot: \"K1\", count: 3, from: \"A-02\", to: \"B-01\")", Broken);
        Assert.Equal(before, await Worth());
        Assert.Equal(0, (await Ask("onHand(part: \"80-ELM\") { available }")).GetProperty("available").GetDecimal());
    }

    [Fact]
    public async Task What_is_short_refuses_the_build_and_names_the_component_unless_as_many_as_possible_will_do()
    {
        await Recipe();
        await Receive("10-SEAL", 30, "A-01", "L1");
        var sentence = await Refused("COMPONENT_SHORT", "buildKit(kit: \"80-ELM\", count: 6, to: \"A-02\")", Built);
        Assert.StartsWith("Only 5 of 6 80-ELM can be built now. 10-RING limits: 20 free, 4 for a kit.", sentence, StringComparison.Ordinal);
        Assert.Equal(0, await Store.With(db => db.KitBuilds.CountAsync()));
        var built = await Do("buildKit(kit: \"80-ELM\", count: 6, to: \"A-02\", rule: AS_MANY_AS_POSSIBLE)", Built);
        Assert.Equal((5, "10-RING"), (built.GetProperty("count").GetInt32(), string.Join(' ', Texts(built.GetProperty("limitedBy")))));
        await Refused("COMPONENT_SHORT", "buildKit(kit: \"80-ELM\", count: 1, to: \"A-02\", rule: AS_MANY_AS_POSSIBLE)", Built);
    }

    [Fact]
    public async Task What_jobs_have_reserved_is_taken_only_when_that_is_said_and_the_answer_names_the_jobs()
    {
        await Recipe();
        await Receive("10-SEAL", 30, "A-01", "L1");
        await TornDownCore("1");
        await Do("startJob(number: \"J-1\", scope: RESEAL, core: \"C-1\")");
        await Do("reserveForJob(job: \"J-1\", lines: [{ part: \"10-RING\", quantity: 10 }])", "job");
        await Do("reserveForJob(job: \"J-2\", lines: [{ part: \"10-RING\", quantity: 5 }])", "job");
        Assert.Contains("Reserved: 10 for job J-1", await Refused("COMPONENT_SHORT", "buildKit(kit: \"80-ELM\", count: 3, to: \"A-02\")", Built), StringComparison.Ordinal);
        var built = await Do("buildKit(kit: \"80-ELM\", count: 3, to: \"A-02\", fromJobs: true)", Built);
        Assert.Equal(["J-1 10-RING 2", "J-2 10-RING 5"], built.GetProperty("fromJobs").EnumerateArray()
            .Select(one => $"{one.GetProperty("job").GetString()} {one.GetProperty("part").GetString()} {one.GetProperty("quantity")}"));
        var told = await Store.With(db => db.JobEvents.Where(row => row.What == "reservation taken").Select(row => $"{row.Job.Number}: {row.Detail} {row.Why}").SingleAsync());
        Assert.Equal("J-1: 2 of 10-RING for kits 80-ELM", told);
    }

    [Theory]
    [InlineData("QUANTITY_NOT_POSITIVE", "count: 0, to: \"A-02\"")]
    [InlineData("TOO_MANY_KITS", "count: 1000000, to: \"A-02\"")]
    [InlineData("VERSION_REPLACED", "count: 1, to: \"A-02\", version: 2")]
    [InlineData("A_QUARANTINE_PLACE", "count: 1, to: \"Q-01\"")]
    [InlineData("UNKNOWN_LOCATION", "count: 1, to: \"NOWHERE\"")]
    [InlineData("LOT_EXISTS", "count: 1, to: \"A-02\", lot: \"k1\"")]
    public async Task A_build_that_cannot_be_is_refused_and_nothing_is_half_done(string code, string arguments)
    {
        await Recipe();
        await Receive("10-SEAL", 30, "A-01", "L1");
        await Do("buildKit(kit: \"80-ELM\", count: 1, to: \"A-02\", lot: \"K1\")", Built);
        await Refused(code, $"buildKit(kit: \"80-ELM\", {arguments})", Built);
        await Refused("NO_RECIPE", "buildKit(kit: \"80-RSL\", count: 1, to: \"A-02\")", Built);
        Assert.Equal(1, await Store.With(db => db.KitBuilds.CountAsync()));
    }

    [Fact]
    public async Task A_lot_of_kits_broken_down_whole_gives_every_piece_back_to_the_very_lot()
    {
        await Recipe();
        await Receive("10-SEAL", 2, "A-01", "L1", "2033-01-01");
        await Receive("10-SEAL", 2, "A-01", "L2", "2034-01-01");
        await Do("buildKit(kit: \"80-ELM\", count: 3, to: \"A-02\", lot: \"K1\")", Built);
        var broken = await Do("breakDownKit(kit: \"80-ELM\", lot: \"K1\", count: 3, from: \"A-02\", to: \"B-01\")", Broken);
        Assert.Equal(["10-SEAL L1 2", "10-SEAL L2 1", "10-RING  12"], Lines(broken.GetProperty("pieces")));
        await Refused("NOT_ENOUGH", "breakDownKit(kit: \"80-ELM\", lot: \"K1\", count: 1, from: \"A-02\", to: \"B-01\")", Broken);
    }

    [Fact]
    public async Task Where_it_cannot_be_told_which_lot_a_piece_is_of_it_goes_into_one_that_names_the_kit_and_is_as_old_as_the_oldest()
    {
        await Recipe();
        await Receive("10-SEAL", 2, "A-01", "L1", "2033-01-01");
        await Receive("10-SEAL", 2, "A-01", "L2", "2034-01-01");
        await Do("buildKit(kit: \"80-ELM\", count: 3, to: \"A-02\", lot: \"K1\")", Built);
        var broken = await Do("breakDownKit(kit: \"80-ELM\", lot: \"K1\", count: 1, from: \"A-02\", to: \"B-01\")", Broken);
        Assert.Equal(["10-SEAL 80-ELM K1 1", "10-RING  4"], Lines(broken.GetProperty("pieces")));
        Assert.Equal(new DateOnly(2033, 1, 1), await Store.With(db => db.Lots.Where(row => row.Code == "80-ELM K1").Select(row => row.ExpiresOn).SingleAsync()));
    }

    [Fact]
    public async Task Two_who_want_the_last_component_build_one_kit_between_them()
    {
        await Recipe();
        await Receive("10-SEAL", 1, "A-01", "L1");
        var outcomes = await Task.WhenAll(Enumerable.Range(0, 6).Select(at => Task.Run(() => Store.Dispatcher.Send<BuildKit.Command, BuildKit.Answer>(
            new($"race-{at}", "80-ELM", 1, "A-02"), Bench, CancellationToken.None))));
        Assert.Single(outcomes, outcome => outcome.Succeeded);
        Assert.All(outcomes.Where(outcome => !outcome.Succeeded), outcome => Assert.Equal("COMPONENT_SHORT", outcome.Refusal!.Code));
        Outcome<BuildKit.Answer> won = outcomes.Single(outcome => outcome.Succeeded);
        var again = await Store.Dispatcher.Send<BuildKit.Command, BuildKit.Answer>(
            new($"race-{Array.IndexOf(outcomes, won)}", "80-ELM", 1, "A-02"), Bench, CancellationToken.None);
        Assert.Equal(won.Result.Transaction, again.Result.Transaction);
        Assert.Equal(1, await Store.With(db => db.KitBuilds.CountAsync()));
    }

    private Task<JsonElement> Recipe() => Do(
        "defineRecipe(kit: \"80-ELM\", lines: [{ part: \"10-SEAL\", quantity: 1 }, { part: \"10-RING\", quantity: 4 }], variants: [\"VS30-055\"], scope: RESEAL)", "version");

    private Task<Money> Worth() => Store.With(async db =>
        Money.FromTenThousandths((await db.StockParts.Select(row => row.Value).ToListAsync()).Sum(value => value.TenThousandths)));

    private static string[] Lines(JsonElement pieces) => [.. pieces.EnumerateArray().Select(one =>
        $"{one.GetProperty("part").GetString()} {one.GetProperty("lot").GetString()} {one.GetProperty("quantity")}")];
}

public sealed class KitBuildOnSqlite(SqliteStore store) : KitBuildSpecification<SqliteStore>(store);

public sealed class KitBuildOnPostgreSql(PostgreSqlStore store) : KitBuildSpecification<PostgreSqlStore>(store);

public sealed class KitBuildOnSqlServer(SqlServerStore store) : KitBuildSpecification<SqlServerStore>(store);

/// <summary>The same where the shop values its stock first in, first out.</summary>
public abstract class KitBuildFifoSpecification<TStore>(TStore store) : KitBuildSpecification<TStore>(store) where TStore : Store
{
    protected override string Costing => "fifo";
}

public sealed class KitBuildFifoOnSqlite(SqliteStore store) : KitBuildFifoSpecification<SqliteStore>(store);

public sealed class KitBuildFifoOnPostgreSql(PostgreSqlStore store) : KitBuildFifoSpecification<PostgreSqlStore>(store);

public sealed class KitBuildFifoOnSqlServer(SqlServerStore store) : KitBuildFifoSpecification<SqlServerStore>(store);
