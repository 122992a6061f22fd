using System.Text.Json;
using PartsLedger.Integration.Tests.Databases;

namespace PartsLedger.Integration.Tests.Jobs;

/// <summary>What a job's parts cost and when they are there, each way of helping side by side, through GraphQL only.</summary>
public abstract class QuoteSpecification<TStore>(TStore store) : WorkSpecification<TStore>(store) where TStore : Store
{
    private const string Shown = "job variant core deposit alternatives { way possible whyNot price availableOn whyThen lines { part quantity price short availableOn } }";

    // The shop's files have no prices: they come with a later file, as in any shop. 80-RSL has 7 lead days, 80-ELM 14, 10-SEAL 5.
    private async Task Price()
    {
        using var scene = new Exchange.ImportScene(Store);
        scene.Write("parts", Exchange.ImportScene.Parts + "10-SEAL,Shaft seal,seal,separate,,lot,pc,4,9.90,5,yes\n10-RING,O-ring,seal,separate,,bulk,pc,0.50,1.05,5,yes\n"
            + "80-RSL,Reseal kit,kit,separate,,lot,pc,5,14.50,7,yes\n80-ELM,Element kit,kit,separate,,lot,pc,28,61,14,yes\n"
            + "40-SPR,Relief spring 55,spring,separate,P055,bulk,pc,2,4.40,5,yes\n50-BOLT,Bolt,hardware,separate,,bulk,pc,0.20,0.35,2,yes\n"
            + "90-ASM,Housing with valve 55,assembly,separate,P055,lot,pc,120,245.20,30,yes\n");
        await scene.Import();
    }

    [Fact]
    public async Task The_ways_stand_side_by_side_with_exact_prices_and_the_day_of_the_line_that_takes_longest()
    {
        await Price();
        var today = DateOnly.FromDateTime(Store.Clock.GetUtcNow().UtcDateTime);
        var quote = await Ask($"quote(variant: \"VS30-055\", scope: ROTATING) {{ {Shown} }}");
        var (kit, assembly, exchange) = (quote.GetProperty("alternatives")[0], quote.GetProperty("alternatives")[1], quote.GetProperty("alternatives")[2]);

        // A reseal kit and an element kit, neither on the shelf: 14.50 + 61.00, there when the element kit is.
        Assert.Equal(["1 80-ELM", "1 80-RSL"], Lines(kit));
        Assert.Equal((75.50m, Day(today, 14)), (kit.GetProperty("price").GetDecimal(), kit.GetProperty("availableOn").GetString()));
        Assert.Equal("80-ELM is short and takes longest.", kit.GetProperty("whyThen").GetString());

        // The assembly brings nothing that a rotating job needs.
        Assert.False(assembly.GetProperty("possible").GetBoolean());
        Assert.StartsWith("No assembly that can be had brings anything", Texts(assembly.GetProperty("whyNot"))[0], StringComparison.Ordinal);

        // Every position: the assembly, its spring in it, four bolts, both kits.
        Assert.Equal(["1 80-ELM", "1 80-RSL", "1 90-ASM", "4 50-BOLT"], Lines(exchange).Order());
        Assert.Equal((245.20m + 75.50m + 1.40m, Day(today, 30)), (exchange.GetProperty("price").GetDecimal(), exchange.GetProperty("availableOn").GetString()));
    }

    [Fact]
    public async Task A_jobs_findings_and_what_it_has_count_and_the_deposit_stands_apart()
    {
        await Price();
        await Receive("80-RSL", 1, "A-02", "K1");
        await Do("takeInCore(tag: \"C-1\", variant: \"VS30-055\", deposit: 80)");
        await Do("gradeCore(core: \"C-1\", grade: WORN, findings: [])");
        await Do("tearDownCore(core: \"C-1\", location: \"A-01\", pair: \"P-1\", housing: { tag: \"H-1\", part: \"30-HSG\" }, "
            + "valve: { tag: \"V-1\", part: \"30-VLV\", shimCount: 3, shimStackMm: 1.2 })");
        await Do("startJob(number: \"J-1\", scope: RESEAL, core: \"C-1\")");
        await Do("recordFindings(job: \"J-1\", findings: [{ position: 6, finding: DAMAGED }])");
        await Do("reserveForJob(job: \"J-1\", lines: [{ part: \"80-RSL\", quantity: 1 }])", "job");
        var quote = await Ask($"quote(job: \"j-1\") {{ {Shown} }}");
        Assert.Equal(("C-1", 80m), (quote.GetProperty("core").GetString(), quote.GetProperty("deposit").GetDecimal()));

        // A worn valve of a selective family: no kit brings it, and no loose part.
        Assert.StartsWith("Position 6: 1 of 30-VLV.", Texts(quote.GetProperty("alternatives")[0].GetProperty("whyNot"))[0], StringComparison.Ordinal);
        var assembly = quote.GetProperty("alternatives")[1];
        Assert.Equal(["1 80-RSL", "1 90-ASM"], Lines(assembly).Order());
        Assert.Equal(245.20m + 14.50m, assembly.GetProperty("price").GetDecimal());
        Assert.Equal(0, assembly.GetProperty("lines").EnumerateArray().Single(line => line.GetProperty("part").GetString() == "80-RSL").GetProperty("short").GetInt32());
    }

    [Fact]
    public async Task A_kit_of_the_house_that_can_be_built_today_is_there_today()
    {
        await Price();
        await Do("defineRecipe(kit: \"80-RSL\", lines: [{ part: \"10-SEAL\", quantity: 1 }, { part: \"10-RING\", quantity: 4 }], variants: [\"VS30-055\"], scope: RESEAL)", "version");
        await Receive("10-SEAL", 1, "A-01", "L1");
        var quote = await Ask($"quote(variant: \"VS30-055\", scope: RESEAL) {{ {Shown} }}");
        var kit = quote.GetProperty("alternatives")[0];
        Assert.Equal(["1 80-RSL"], Lines(kit));
        Assert.Equal(Day(DateOnly.FromDateTime(Store.Clock.GetUtcNow().UtcDateTime), 0), kit.GetProperty("availableOn").GetString());
    }

    [Fact]
    public async Task A_line_without_a_price_leaves_the_way_without_one_and_bad_questions_are_refused()
    {
        var quote = await Ask($"quote(variant: \"VS30-055\", scope: RESEAL) {{ {Shown} }}");
        Assert.Equal((true, JsonValueKind.Null), (quote.GetProperty("alternatives")[0].GetProperty("possible").GetBoolean(),
            quote.GetProperty("alternatives")[0].GetProperty("price").ValueKind));
        await Do("startJob(number: \"OPEN\", scope: RESEAL, exchange: true)");
        Assert.Equal("VARIANT_OPEN", await AskRefused("quote(job: \"OPEN\") { variant }"));
        Assert.Equal("QUESTION_MISSING", await AskRefused("quote { variant }"));
        Assert.Equal("QUESTION_MISSING", await AskRefused("quote(job: \"OPEN\", variant: \"VS30-055\", scope: RESEAL) { variant }"));
        Assert.Equal("UNKNOWN_VARIANT", await AskRefused("quote(variant: \"NONE\", scope: RESEAL) { variant }"));
        Assert.Equal("UNKNOWN_POSITION", await AskRefused("quote(variant: \"VS30-055\", scope: RESEAL, worn: [77]) { variant }"));
    }

    private static string[] Lines(JsonElement alternative) =>
        [.. alternative.GetProperty("lines").EnumerateArray().Select(line => $"{line.GetProperty("quantity")} {line.GetProperty("part").GetString()}")];

    private static string Day(DateOnly today, int days) => today.AddDays(days).ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture);
}

public sealed class QuoteOnSqlite(SqliteStore store) : QuoteSpecification<SqliteStore>(store);

public sealed class QuoteOnPostgreSql(PostgreSqlStore store) : QuoteSpecification<PostgreSqlStore>(store);

public sealed class QuoteOnSqlServer(SqlServerStore store) : QuoteSpecification<SqlServerStore>(store);
