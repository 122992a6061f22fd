using System.Text.Json;

namespace PartsLedger.Integration.Tests.Api;

[Collection(ApiTests.Name)]
public sealed class CatalogFieldTests(ShopApi api)
{
    [Fact]
    public async Task A_variant_is_found_by_its_code_in_any_case_with_its_family_class_features_and_machines()
    {
        var variant = (await api.Ask("""
            { variant(code: " kr-1a ") {
                code builtFrom builtTo note family { code name valveFit housingMaterial } pressureClass { code relief { kPa bar psi } minus { bar } plus { kPa } }
                features { feature question value seconds teardown } applications { nodes { make model yearFrom yearTo option variant { code } } } } }
            """)).GetProperty("variant");
        Assert.Equal("KR-1A", variant.GetProperty("code").GetString());
        Assert.Equal("1971-03-01", variant.GetProperty("builtFrom").GetString());
        Assert.Equal(JsonValueKind.Null, variant.GetProperty("builtTo").ValueKind);
        Assert.Equal("selective", variant.GetProperty("family").GetProperty("valveFit").GetString());

        // 8 MPa over one pound-force per square inch (6 894.757 293 168 Pa) is 1 160.3019 psi.
        var relief = variant.GetProperty("pressureClass").GetProperty("relief");
        Assert.Equal(8_000m, relief.GetProperty("kPa").GetDecimal());
        Assert.Equal(80m, relief.GetProperty("bar").GetDecimal());
        Assert.Equal(1_160.302m, relief.GetProperty("psi").GetDecimal());
        Assert.Equal(2m, variant.GetProperty("pressureClass").GetProperty("minus").GetProperty("bar").GetDecimal());
        Assert.Equal("round", Assert.Single(variant.GetProperty("features").EnumerateArray()).GetProperty("value").GetString());
        Assert.Equal(["deck crane", ""], variant.GetProperty("applications").GetProperty("nodes").EnumerateArray()
            .Select(node => node.GetProperty("option").GetString()).OrderDescending());
    }

    [Fact]
    public async Task A_variants_positions_come_by_number_each_with_its_part()
    {
        var positions = (await api.Ask("{ variant(code: \"KR-1A\") { positions { position name quantity group renew part { number } } } }"))
            .GetProperty("variant").GetProperty("positions").EnumerateArray().ToList();
        Assert.Equal([1, 2, 7, 8], positions.Select(position => position.GetProperty("position").GetInt32()));
        Assert.Equal("020-0001", positions[2].GetProperty("part").GetProperty("number").GetString());
        Assert.Equal(12m, positions[2].GetProperty("quantity").GetDecimal());
        Assert.Equal("if-worn", positions[2].GetProperty("renew").GetString());
        Assert.Equal("rotating", positions[2].GetProperty("group").GetString());
    }

    [Fact]
    public async Task An_unknown_variant_is_an_error_that_names_the_nearest()
    {
        var (code, message) = await api.Refused("{ variant(code: \"KR-1B\") { code } }");
        Assert.Equal("UNKNOWN_VARIANT", code);
        Assert.StartsWith("There is no variant 'KR-1B'. The nearest known ones are KR-1A,", message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Variants_are_filtered_by_family_and_by_pressure_class()
    {
        Assert.Equal(["KR-1A"], await Codes("{ variants(family: \"kr-1\") { nodes { code } } }"));
        Assert.Equal(28, (await Codes("{ variants(pressureClass: \"p80\", first: 100) { nodes { code } } }")).Count);
        Assert.Equal(27, (await Codes("{ variants(pressureClass: \"P80\", family: \"KR-2\", first: 100) { nodes { code } } }")).Count);
        Assert.Equal("UNKNOWN_FAMILY", (await api.Refused("{ variants(family: \"KR-3\") { nodes { code } } }")).Code);
        Assert.Equal("UNKNOWN_PRESSURE_CLASS", (await api.Refused("{ variants(pressureClass: \"P90\") { nodes { code } } }")).Code);

        async Task<List<string?>> Codes(string query) =>
            [.. (await api.Ask(query)).GetProperty("variants").GetProperty("nodes").EnumerateArray().Select(node => node.GetProperty("code").GetString())];
    }

    [Fact]
    public async Task A_part_is_found_by_any_way_of_writing_its_number()
    {
        var part = (await api.Ask("""
            { part(number: " 90.00/01 ") { number name kind service unit supplied cost price leadDays available pressureClass { code }
                contents { quantity part { number } } packs { nodes { pack { number } } } } }
            """)).GetProperty("part");
        Assert.Equal("90-0001", part.GetProperty("number").GetString());
        Assert.Equal("assembly", part.GetProperty("kind").GetString());
        Assert.Equal("separate", part.GetProperty("service").GetString());
        Assert.Equal(219.99m, part.GetProperty("price").GetDecimal());
        Assert.Equal(12, part.GetProperty("leadDays").GetInt32());
        Assert.Equal("P80", part.GetProperty("pressureClass").GetProperty("code").GetString());
        Assert.Equal(["80-0001", "80-0002", "10-0002"],
            part.GetProperty("contents").EnumerateArray().Select(content => content.GetProperty("part").GetProperty("number").GetString()));
        Assert.Empty(part.GetProperty("packs").GetProperty("nodes").EnumerateArray());
    }

    [Fact]
    public async Task A_leading_zero_belongs_to_the_number()
    {
        Assert.Equal("Roller", (await api.Ask("{ part(number: \"0200001\") { name } }")).GetProperty("part").GetProperty("name").GetString());
        Assert.Equal("UNKNOWN_PART", (await api.Refused("{ part(number: \"20-0001\") { name } }")).Code);
    }

    [Fact]
    public async Task What_is_reserved_or_in_quarantine_is_not_available()
    {
        var parts = await api.Ask("{ ring: part(number: \"10-0002\") { available pressureClass { code } } none: part(number: \"10-0001\") { available } }");
        Assert.Equal(7m, parts.GetProperty("ring").GetProperty("available").GetDecimal());
        Assert.Equal(JsonValueKind.Null, parts.GetProperty("ring").GetProperty("pressureClass").ValueKind);
        Assert.Equal(0m, parts.GetProperty("none").GetProperty("available").GetDecimal());
    }

    [Fact]
    public async Task An_alias_finds_its_part_and_one_of_two_parts_is_refused_with_both()
    {
        Assert.Equal("020-0001", (await api.Ask("{ part(number: \"cast77-1\") { number } }")).GetProperty("part").GetProperty("number").GetString());
        var (code, message) = await api.Refused("{ part(number: \"shared 5\") { number } }");
        Assert.Equal("AMBIGUOUS_NUMBER", code);
        Assert.Contains("10-0001, 10-0002", message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_unknown_part_is_an_error_that_names_the_nearest_that_begin_alike()
    {
        var (code, message) = await api.Refused("{ part(number: \"10-0003\") { number } }");
        Assert.Equal("UNKNOWN_PART", code);
        Assert.Contains("10-0001, 10-0002", message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Supersessions_are_told_from_both_ends()
    {
        var part = (await api.Ask("""
            { part(number: "10-0008") { supersededBy { quantity rule new { number } } replaces { quantity rule old { number } } } }
            """)).GetProperty("part");
        var by = Assert.Single(part.GetProperty("supersededBy").EnumerateArray());
        Assert.Equal(("10-0009", "use-up"), (by.GetProperty("new").GetProperty("number").GetString(), by.GetProperty("rule").GetString()));
        var of = Assert.Single(part.GetProperty("replaces").EnumerateArray());
        Assert.Equal(("10-0007", 2m), (of.GetProperty("old").GetProperty("number").GetString(), of.GetProperty("quantity").GetDecimal()));
    }

    [Fact]
    public async Task Machines_are_found_by_make_model_and_year()
    {
        Assert.Equal(2, await Count("make: \"BRACKWATER\", model: \"trawler  9\""));
        Assert.Equal(1, await Count("make: \"Brackwater\", year: 1978"));
        Assert.Equal(1, await Count("make: \"Brackwater\", year: 2020"));
        Assert.Equal(0, await Count("make: \"Brackwater\", year: 1969"));
        Assert.Equal(0, await Count("make: \"Nobody\""));

        async Task<int> Count(string arguments) =>
            (await api.Ask($"{{ applications({arguments}) {{ nodes {{ make variant {{ code }} }} }} }}")).GetProperty("applications").GetProperty("nodes").GetArrayLength();
    }
}
