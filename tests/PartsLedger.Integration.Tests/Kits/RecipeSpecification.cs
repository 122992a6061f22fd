using System.Text.Json;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Integration.Tests.Exchange;
using PartsLedger.Integration.Tests.Jobs;

namespace PartsLedger.Integration.Tests.Kits;

/// <summary>How the shop says what goes into its own kits, through GraphQL only, in the shop of <see cref="JobShop"/>.</summary>
public abstract class RecipeSpecification<TStore>(TStore store) : WorkSpecification<TStore>(store) where TStore : Store
{
    private const string Define = "version done verdicts { variant covers uncovered { position part quantity why } surplus { part quantity } }";

    [Fact]
    public async Task A_recipe_says_what_it_covers_and_a_new_version_leaves_the_old_one_as_it_was()
    {
        var first = await Do(Recipe("80-ELM", "{ part: \"10-SEAL\", quantity: 1 }, { part: \"10-RING\", quantity: 3 }"), Define);
        Assert.Equal(1, first.GetProperty("version").GetInt32());
        Assert.Equal("2: 1 of 10-RING. The kit holds 3, which is not enough.", Uncovered(first.GetProperty("verdicts")[0]));
        var second = await Do(Recipe("80-ELM", "{ part: \"10-SEAL\", quantity: 1 }, { part: \"10-RING\", quantity: 5 }", also: ", instructions: \"Seal last.\", why: \"four rings\""), Define);
        Assert.True(second.GetProperty("verdicts")[0].GetProperty("covers").GetBoolean());
        Assert.Equal(["10-RING"], Texts(second.GetProperty("verdicts")[0].GetProperty("surplus"), "part"));

        var old = await Ask("recipe(kit: \"80-elm\", version: 1) { version inForce lines { part quantity } instructions }");
        Assert.False(old.GetProperty("inForce").GetBoolean());
        Assert.Equal([1m, 3m], old.GetProperty("lines").EnumerateArray().Select(line => line.GetProperty("quantity").GetDecimal()));
        var now = await Ask("recipe(kit: \"80-ELM\") { version inForce variants lines { part quantity } instructions why by }");
        Assert.Equal((2, true, "Seal last."), (now.GetProperty("version").GetInt32(), now.GetProperty("inForce").GetBoolean(), now.GetProperty("instructions").GetString()));
        Assert.Equal(["VS30-055"], Texts(now.GetProperty("variants")));
        Assert.Equal("UNKNOWN_VERSION", await AskRefused("recipe(kit: \"80-ELM\", version: 3) { version }"));
        await Refused("NOTHING_CHANGED", Recipe("80-ELM", "{ part: \"10-SEAL\", quantity: 1 }, { part: \"10-RING\", quantity: 5 }", also: ", instructions: \"Seal last.\""), "version");
    }

    [Fact]
    public async Task The_kit_answer_knows_a_house_built_kit_by_its_recipe()
    {
        // 80-ELM costs 28 in the catalogue; loose parts of the reseal cost 6, so it is preferred only where it is on the shelf.
        await Do(Recipe("80-ELM", "{ part: \"10-SEAL\", quantity: 1 }, { part: \"10-RING\", quantity: 4 }"), "version");
        await Receive("80-ELM", 1, "A-01", "K1");
        var answer = await Ask("kitFor(variant: \"VS30-055\", scope: RESEAL, prefer: STOCK) { complete piecesShort lines { part covers } }");
        Assert.Equal(["80-ELM"], Texts(answer.GetProperty("lines"), "part"));
        var warning = await Refused("OLDER_KITS_ON_HAND", Recipe("80-ELM", "{ part: \"10-RING\", quantity: 4 }"), "version");
        Assert.Contains("1 of 80-ELM", warning, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_recipe_is_checked_before_it_is_defined()
    {
        var verdicts = await Ask("recipeCheck(kit: \"80-ELM\", lines: [{ part: \"10-SEAL\", quantity: 1 }, { part: \"30-VLV\", quantity: 1 }, { part: \"40-SPR\", quantity: 1 }, "
            + "{ part: \"41-SPR\", quantity: 1 }], variants: [\"VS30-055\", \"VS30-070\"], scope: RESEAL) { kit verdicts { variant covers breaches { code part sentence whatToDo } } }");
        Assert.Equal(["TWO_CLASSES 41-SPR", "VALVE_IS_FITTED 30-VLV", "NOT_SERVICED 30-VLV", "OTHER_CLASS 41-SPR"],
            verdicts.GetProperty("verdicts")[0].GetProperty("breaches").EnumerateArray().Select(one => $"{one.GetProperty("code").GetString()} {one.GetProperty("part").GetString()}"));
        Assert.Equal("NO_RECIPE", await AskRefused("recipeCheck(kit: \"80-ELM\") { kit }"));
    }

    [Theory]
    [InlineData("VALVE_IS_FITTED", "80-ELM", "{ part: \"30-VLV\", quantity: 1 }")]
    [InlineData("NOT_SERVICED", "80-ELM", "{ part: \"30-HSG\", quantity: 1 }")]
    [InlineData("OTHER_CLASS", "80-ELM", "{ part: \"41-SPR\", quantity: 1 }")]
    [InlineData("TWO_CLASSES", "80-ELM", "{ part: \"41-SPR\", quantity: 1 }, { part: \"40-SPR\", quantity: 1 }")]
    [InlineData("RECIPE_HOLDS_ITSELF", "80-ELM", "{ part: \"80-ELM\", quantity: 1 }")]
    [InlineData("PART_TWICE", "80-ELM", "{ part: \"10-RING\", quantity: 1 }, { part: \"10 ring\", quantity: 1 }")]
    [InlineData("QUANTITY_NOT_WHOLE", "80-ELM", "{ part: \"10-RING\", quantity: 1.5 }")]
    [InlineData("QUANTITY_NOT_POSITIVE", "80-ELM", "{ part: \"10-RING\", quantity: 0 }")]
    [InlineData("QUANTITY_TOO_LARGE", "80-ELM", "{ part: \"10-RING\", quantity: 1000000 }")]
    [InlineData("QUANTITY_TOO_FINE", "80-ELM", "{ part: \"10-RING\", quantity: 1.0001 }")]
    [InlineData("UNKNOWN_PART", "80-ELM", "{ part: \"NOT-THERE\", quantity: 1 }")]
    [InlineData("NOTHING_TO_DO", "80-ELM", "")]
    [InlineData("NOT_A_KIT", "90-ASM", "{ part: \"10-RING\", quantity: 1 }")]
    public async Task What_cannot_be_a_recipe_is_refused(string code, string kit, string lines)
    {
        await Refused(code, Recipe(kit, lines), "version");
        Assert.Equal("NO_RECIPE", await AskRefused("recipe(kit: \"80-ELM\") { version }"));
    }

    [Fact]
    public async Task A_kit_that_would_hold_itself_through_another_is_refused_with_the_way_it_would()
    {
        await Do(Recipe("80-ELM", "{ part: \"80-RSL\", quantity: 1 }"), "version");
        var sentence = await Refused("RECIPE_HOLDS_ITSELF", Recipe("80-RSL", "{ part: \"10-SEAL\", quantity: 1 }, { part: \"80-ELM\", quantity: 1 }"), "version");
        Assert.StartsWith("80-RSL would hold itself: 80-RSL holds 80-ELM holds 80-RSL.", sentence, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_can_be_built_names_the_component_that_limits_and_what_it_would_take_from_jobs()
    {
        await Do(Recipe("80-ELM", "{ part: \"10-SEAL\", quantity: 1 }, { part: \"10-RING\", quantity: 4 }"), "version");
        await Receive("10-SEAL", 9, "A-01", "L1", "2032-01-01");
        await Receive("10-SEAL", 5, "A-01", "OLD", "2020-01-01");
        await Do("reserveForJob(job: \"J-9\", lines: [{ part: \"10-RING\", quantity: 7 }])", "job");
        var can = await Ask("buildable(kit: \"80-ELM\", count: 4) { now limitedBy withJobs inside unitCost components { part perKit free reserved enoughFor } "
            + "fromJobs { job part quantity } needs { part level needed lacking } }");
        Assert.Equal((3, 5, 3, 6m), (can.GetProperty("now").GetInt32(), can.GetProperty("withJobs").GetInt32(), can.GetProperty("inside").GetInt32(),
            can.GetProperty("unitCost").GetDecimal()));
        Assert.Equal(["10-RING"], Texts(can.GetProperty("limitedBy")));
        Assert.Equal(["10-SEAL 9 0 9", "10-RING 13 7 3"], can.GetProperty("components").EnumerateArray()
            .Select(one => $"{one.GetProperty("part").GetString()} {one.GetProperty("free")} {one.GetProperty("reserved")} {one.GetProperty("enoughFor")}"));
        Assert.Equal(["J-9 10-RING 3"], can.GetProperty("fromJobs").EnumerateArray()
            .Select(one => $"{one.GetProperty("job").GetString()} {one.GetProperty("part").GetString()} {one.GetProperty("quantity")}"));
        Assert.Equal("QUANTITY_NOT_POSITIVE", await AskRefused("buildable(kit: \"80-ELM\", count: 0) { now }"));
        Assert.Equal("TOO_MANY_KITS", await AskRefused("buildable(kit: \"80-ELM\", count: 1000000) { now }"));
        Assert.Equal("NO_RECIPE", await AskRefused("buildable(kit: \"80-RSL\") { now }"));
    }

    [Fact]
    public async Task A_file_does_not_say_what_is_in_a_kit_of_the_house()
    {
        await Do(Recipe("80-ELM", "{ part: \"10-RING\", quantity: 4 }"), "version");
        using var scene = new ImportScene(Store);
        scene.Write("contents", "pack,part,quantity\n80-ELM,10-RING,4\n80-ELM,10-SEAL,1\n80-RSL,10-SEAL,1\n");
        await scene.Import();
        var rejected = File.ReadAllText(Assert.Single(Directory.GetFiles(scene.Rejects)));
        Assert.Contains("80-ELM,10-SEAL", rejected, StringComparison.Ordinal);
        Assert.Contains("change its recipe instead", rejected, StringComparison.Ordinal);
        Assert.DoesNotContain("10-RING", rejected, StringComparison.Ordinal);
    }

    private static string Uncovered(JsonElement verdict) => string.Join("; ", verdict.GetProperty("uncovered").EnumerateArray().Select(left =>
        $"{left.GetProperty("position")}: {left.GetProperty("quantity")} of {left.GetProperty("part").GetString()}. {left.GetProperty("why").GetString()}"));

    private static string Recipe(string kit, string lines, string also = "") =>
        $"defineRecipe(kit: \"{kit}\", lines: [{lines}], variants: [\"VS30-055\"], scope: RESEAL{also})";
}

public sealed class RecipeOnSqlite(SqliteStore store) : RecipeSpecification<SqliteStore>(store);

public sealed class RecipeOnPostgreSql(PostgreSqlStore store) : RecipeSpecification<PostgreSqlStore>(store);

public sealed class RecipeOnSqlServer(SqlServerStore store) : RecipeSpecification<SqlServerStore>(store);
