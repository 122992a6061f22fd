using System.Text.Json;
using PartsLedger.Domain.Kits;
using PartsLedger.Hosting;

namespace PartsLedger.Integration.Tests.Kits;

/// <summary>Programs read this: names and forms may not change without an issue.</summary>
public sealed class KitJsonTests
{
    private static readonly JsonElement Root = JsonSerializer.SerializeToElement(SampleAnswers.Everyday, ShopJson.Options);

    [Fact]
    public void The_names_are_exactly_the_contract_s()
    {
        Assert.Equal(
            ["variant", "family", "pressureClass", "scope", "prefer", "complete", "needs", "lines", "surplus", "uncovered", "totalCost", "piecesShort",
             "surplusPieces", "cautions", "checks", "tools"], Names(Root));
        Assert.Equal(["position", "name", "part", "quantity", "why"], Names(Root.GetProperty("needs")[0]));
        Assert.Equal(["part", "name", "kind", "quantity", "covers", "unitCost", "cost", "available", "short", "why"], Names(Root.GetProperty("lines")[0]));
        Assert.Equal(["part", "quantity"], Names(Root.GetProperty("surplus")[0]));
        Assert.Equal(["position", "part", "quantity", "why"], Names(Root.GetProperty("uncovered")[0]));
        Assert.Equal(["severity", "text"], Names(Root.GetProperty("cautions")[0]));
        Assert.Equal(["sequence", "text", "expected", "unit", "low", "high"], Names(Root.GetProperty("checks")[0]));
        Assert.Equal(["name", "note"], Names(Root.GetProperty("tools")[0]));
    }

    [Fact]
    public void Scope_preference_and_severity_are_words()
    {
        Assert.Equal("valve", Root.GetProperty("scope").GetString());
        Assert.Equal("cost", Root.GetProperty("prefer").GetString());
        Assert.Equal("note", Root.GetProperty("cautions")[0].GetProperty("severity").GetString());
        var other = JsonSerializer.SerializeToElement(SampleAnswers.Everyday with { Scope = JobScope.Reseal, Prefer = KitPreference.Stock }, ShopJson.Options);
        Assert.Equal(("reseal", "stock"), (other.GetProperty("scope").GetString(), other.GetProperty("prefer").GetString()));
    }

    [Fact]
    public void Money_and_quantities_are_exact_decimal_numbers()
    {
        var fluid = Root.GetProperty("lines")[2];
        Assert.Equal("6.0125", fluid.GetProperty("unitCost").GetRawText());
        Assert.Equal("2.5", fluid.GetProperty("available").GetRawText());
        Assert.Equal("1", fluid.GetProperty("quantity").GetRawText());
        Assert.Equal("[14]", fluid.GetProperty("covers").GetRawText());
        Assert.Equal("165.6625", Root.GetProperty("totalCost").GetRawText());
        Assert.Equal("5", Root.GetProperty("surplusPieces").GetRawText());
        Assert.Equal("4.66", Root.GetProperty("checks")[1].GetProperty("low").GetRawText());
        Assert.Equal(JsonValueKind.Null, Root.GetProperty("checks")[4].GetProperty("low").ValueKind);
    }

    private static IEnumerable<string> Names(JsonElement element) => element.EnumerateObject().Select(property => property.Name);
}
