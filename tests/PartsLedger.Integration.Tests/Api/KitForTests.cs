using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using PartsLedger.Domain.Kits;
using PartsLedger.Hosting;
using PartsLedger.Kits;

namespace PartsLedger.Integration.Tests.Api;

[Collection(ApiTests.Name)]
public sealed class KitForTests(ShopApi api)
{
    private const string Everything = """
        { variant family pressureClass scope prefer complete needs { position name part quantity why }
          lines { part name kind quantity covers unitCost cost available short why } surplus { part quantity }
          uncovered { position part quantity why } totalCost piecesShort surplusPieces
          cautions { severity text } checks { sequence text expected unit low high } tools { name note } }
        """;

    [Theory]
    [InlineData("RESEAL", "", JobScope.Reseal, KitPreference.Cost)]
    [InlineData("ROTATING", ", prefer: STOCK", JobScope.Rotating, KitPreference.Stock)]
    [InlineData("FULL", ", prefer: COST", JobScope.Full, KitPreference.Cost)]
    public async Task The_API_gives_the_same_answer_as_the_command_line_in_the_same_shape(string word, string prefer, JobScope scope, KitPreference preference)
    {
        var served = (await api.Ask($"{{ kitFor(variant: \"kr-1a\", scope: {word}, worn: [7, 7]{prefer}) {Everything} }}")).GetProperty("kitFor");
        var asked = await api.App.Services.GetRequiredService<Dispatcher>()
            .Ask<KitFor.Query, KitAnswer>(new("KR-1A", scope, [7], preference), Caller.CommandLine, CancellationToken.None);
        Assert.True(asked.Succeeded, asked.Refusal?.ToString());
        var direct = JsonSerializer.SerializeToElement(asked.Result, ShopJson.Options);

        // Scope and preference are the schema's enumerations there and the trade's words here; all else is letter for letter the same.
        Assert.Equal(word, served.GetProperty("scope").GetString());
        Assert.Equal(Plain(direct), Plain(served));
    }

    [Fact]
    public async Task A_kit_list_carries_the_shops_cautions_checks_and_tools()
    {
        var kit = (await api.Ask($"{{ kitFor(variant: \"KR-1A\", scope: RESEAL) {Everything} }}")).GetProperty("kitFor");
        Assert.Equal("caution", Assert.Single(kit.GetProperty("cautions").EnumerateArray()).GetProperty("severity").GetString());
        Assert.Equal(4.7m, Assert.Single(kit.GetProperty("checks").EnumerateArray()).GetProperty("low").GetDecimal());
        Assert.Equal("Pulley puller", Assert.Single(kit.GetProperty("tools").EnumerateArray()).GetProperty("name").GetString());
    }

    [Fact]
    public async Task A_reseal_of_the_small_shops_pump_needs_the_two_seals()
    {
        var kit = (await api.Ask($"{{ kitFor(variant: \"KR-1A\", scope: RESEAL) {Everything} }}")).GetProperty("kitFor");
        Assert.True(kit.GetProperty("complete").GetBoolean());
        Assert.Equal([1, 2], kit.GetProperty("needs").EnumerateArray().Select(need => need.GetProperty("position").GetInt32()));

        // A seal at 4.80 and two rings at 0.35 cost less than the kit at 9.50.
        Assert.Equal(5.5m, kit.GetProperty("totalCost").GetDecimal());
        Assert.Equal(1, kit.GetProperty("piecesShort").GetInt32());
    }

    [Fact]
    public async Task An_unknown_variant_or_position_is_an_error_with_its_code_and_the_nearest()
    {
        var (variant, message) = await api.Refused("{ kitFor(variant: \"KR1A\", scope: RESEAL) { complete } }");
        Assert.Equal("UNKNOWN_VARIANT", variant);
        Assert.Contains("KR-1A", message, StringComparison.Ordinal);

        var (position, nearest) = await api.Refused("{ kitFor(variant: \"KR-1A\", scope: RESEAL, worn: [9]) { complete } }");
        Assert.Equal("UNKNOWN_POSITION", position);
        Assert.StartsWith("Variant KR-1A has no position 9. The nearest known ones are ", nearest, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_unknown_scope_is_named_and_too_many_positions_are_refused()
    {
        var answer = await api.Send("{ kitFor(variant: \"KR-1A\", scope: EVERYTHING) { complete } }");
        Assert.Contains("EVERYTHING", answer.GetProperty("errors")[0].GetProperty("message").GetString(), StringComparison.Ordinal);
        Assert.Equal("TOO_MANY_POSITIONS", (await api.Refused("query($w: [Int!]) { kitFor(variant: \"KR-1A\", scope: RESEAL, worn: $w) { complete } }",
            new { w = Enumerable.Range(1, 1_001) })).Code);
        Assert.Equal("UNKNOWN_VARIANT", (await api.Refused("{ kitFor(variant: \" \", scope: RESEAL) { complete } }")).Code);
    }

    /// <summary>Every value but the two enumerations by its path, numbers by value: 5.50 and 5.5 are the same.</summary>
    private static SortedDictionary<string, string> Plain(JsonElement element)
    {
        var values = new SortedDictionary<string, string>(StringComparer.Ordinal);
        Walk("", element);
        return values;

        void Walk(string path, JsonElement at)
        {
            if (path is "/scope" or "/prefer") return;
            if (at.ValueKind == JsonValueKind.Object)
                foreach (var property in at.EnumerateObject()) Walk($"{path}/{property.Name}", property.Value);
            else if (at.ValueKind == JsonValueKind.Array)
                foreach (var (index, item) in at.EnumerateArray().Index()) Walk($"{path}/{index}", item);
            else
                values.Add(path, at.ValueKind == JsonValueKind.Number ? (at.GetDecimal() / 1.000000000000000000m).ToString(null, null) : at.ToString());
        }
    }
}
