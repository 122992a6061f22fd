using System.CommandLine;
using System.Text.Json;
using PartsLedger.Commands;
using PartsLedger.Integration.Tests.Exchange;

namespace PartsLedger.Integration.Tests.Identification;

/// <summary>The command over the invented shop: its answer's shape is the contract's (section 3), to the last field.</summary>
public sealed class IdentifyCommandTests(DemoShop shop) : IClassFixture<DemoShop>
{
    [Fact]
    public async Task Json_has_the_contracts_fields_and_no_other()
    {
        var (status, output, error) = await Identify("--number", "030-6101", "--seen", "arrow=right hand", "--unknown", "tag-letter", "--json");
        Assert.Equal((0, ""), (status, error));
        using var json = JsonDocument.Parse(output);
        Assert.Equal(["candidates", "next", "settled", "sameKit"], Names(json.RootElement));
        var candidates = json.RootElement.GetProperty("candidates");
        Assert.Equal(4, candidates.GetArrayLength());
        Assert.Equal(["variant", "family", "pressureClass", "weight", "why"], Names(candidates[0]));
        var next = json.RootElement.GetProperty("next");
        Assert.Equal(["feature", "question", "values", "expectedSeconds"], Names(next));
        Assert.True(next.GetProperty("values").GetArrayLength() >= 2);
        Assert.True(next.GetProperty("expectedSeconds").GetDouble() > 0);
        Assert.False(json.RootElement.GetProperty("settled").GetBoolean());
    }

    [Fact]
    public async Task A_settled_answer_asks_nothing_more()
    {
        var (status, output, _) = await Identify("--number", "030-6101", "--scope", "reseal", "--json");
        Assert.Equal(0, status);
        using var json = JsonDocument.Parse(output);
        Assert.Equal(JsonValueKind.Null, json.RootElement.GetProperty("next").ValueKind);
        Assert.Equal((true, true), (json.RootElement.GetProperty("settled").GetBoolean(), json.RootElement.GetProperty("sameKit").GetBoolean()));
    }

    [Fact]
    public async Task The_text_names_the_pressure_class_the_question_and_the_other_choice()
    {
        var (status, output, _) = await Identify("--number", "030-6101", "--scope", "full");
        Assert.Equal(0, status);
        Assert.Contains("PRESSURE CLASS P085", output, StringComparison.Ordinal);
        Assert.Contains("Next: ", output, StringComparison.Ordinal);
        Assert.Contains("Or pull one list for all of them:", output, StringComparison.Ordinal);
        Assert.Contains("If it is VS30-070-R1:", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Nothing_that_fits_is_an_answer_too()
    {
        var (status, output, error) = await Identify("--number", "030-6101", "--serial", "A10500");
        Assert.Equal(0, status);
        Assert.StartsWith("Nothing fits.", output, StringComparison.Ordinal);
        Assert.Contains("without serial = A10500 there would remain", error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("--seen=ears", "Write it like --seen ports=2.")]
    [InlineData("--seen=ears=3", "There is no feature 'ears'.")]
    [InlineData("--scope=halfway", "There is no scope 'halfway'.")]
    [InlineData("--year=19", "'19' is not a year.")]
    [InlineData("--number=..", "no letter and no digit")]
    public async Task What_is_of_no_use_ends_with_2_and_a_sentence(string option, string sentence)
    {
        var (status, output, error) = await Identify(option);
        Assert.Equal((2, ""), (status, output));
        Assert.Contains(sentence, error, StringComparison.Ordinal);
    }

    private static IEnumerable<string> Names(JsonElement element) => element.EnumerateObject().Select(property => property.Name);

    private async Task<(int Status, string Output, string Error)> Identify(params string[] arguments)
    {
        using StringWriter output = new(), error = new();
        var status = await CommandLine.Run(["identify", .. arguments, "--db", $"sqlite:{shop.File}"], new InvocationConfiguration { Output = output, Error = error });
        return (status, output.ToString().ReplaceLineEndings("\n"), error.ToString().ReplaceLineEndings("\n"));
    }
}

/// <summary>The invented shop, imported once into a database of its own.</summary>
public sealed class DemoShop : IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("partsledger-demo-").FullName;

    public string File => Path.Combine(_folder, "shop.db");

    public async ValueTask InitializeAsync()
    {
        using StringWriter output = new(), error = new();
        var status = await CommandLine.Run(["import", DemoFolder.Path, "--db", $"sqlite:{File}", "--rejects", Path.Combine(_folder, "rejects")],
            new InvocationConfiguration { Output = output, Error = error });
        Assert.True(status == 0, error.ToString());
    }

    public ValueTask DisposeAsync()
    {
        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
        Directory.Delete(_folder, recursive: true);
        return ValueTask.CompletedTask;
    }
}
