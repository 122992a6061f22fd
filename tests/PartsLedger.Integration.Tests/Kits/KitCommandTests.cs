using System.CommandLine;
using System.Text.Json;
using PartsLedger.Commands;
using PartsLedger.Data;
using PartsLedger.Data.Catalog;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Integration.Tests.Databases;

namespace PartsLedger.Integration.Tests.Kits;

public sealed class KitCommandTests(SqliteStore store) : IClassFixture<SqliteStore>, IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("partsledger-kit-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task A_complete_list_is_printed_and_ends_with_0()
    {
        var (status, output, error) = await Kit("--variant", "QX-1", "--scope", "reseal");
        Assert.Equal((0, ""), (status, error));
        Assert.StartsWith("PRESSURE CLASS P9   variant QX-1   family QX\n", output, StringComparison.Ordinal);
        Assert.Contains("COMPLETE: every need of the job is covered.", output, StringComparison.Ordinal);
        Assert.Contains("0071", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Something_uncovered_ends_with_4_and_is_printed_all_the_same()
    {
        var (status, output, error) = await Kit("--variant", "QX-1", "--scope", "reseal", "--worn", " 7 ,7", "--prefer", "stock");
        Assert.Equal((4, ""), (status, error));
        Assert.Contains("!! NOT COVERED", output, StringComparison.Ordinal);
        Assert.Contains("0072", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Json_is_all_there_is_on_the_output()
    {
        var (status, output, _) = await Kit("--variant", "qx-1", "--scope", "FULL", "--json");
        Assert.Equal(0, status);
        using var json = JsonDocument.Parse(output);
        Assert.Equal(("QX-1", "full", "cost"), (json.RootElement.GetProperty("variant").GetString(),
            json.RootElement.GetProperty("scope").GetString(), json.RootElement.GetProperty("prefer").GetString()));
        Assert.Equal("0071", json.RootElement.GetProperty("lines")[0].GetProperty("part").GetString());
    }

    [Fact]
    public async Task A_workbook_is_written_whole_over_an_earlier_one_and_nothing_is_left_beside_it()
    {
        var file = Path.Combine(_folder, "kit.xlsx");
        await File.WriteAllTextAsync(file, "an earlier one");
        var (status, output, _) = await Kit("--variant", "QX-1", "--scope", "reseal", "--xlsx", file);
        Assert.Equal(0, status);
        Assert.Contains(file, output, StringComparison.Ordinal);
        Assert.Equal([file], Directory.GetFiles(_folder));
        Assert.Equal("PK"u8.ToArray(), (await File.ReadAllBytesAsync(file))[..2]);
    }

    [Fact]
    public async Task A_folder_that_does_not_exist_is_refused_in_one_line_before_anything_is_asked()
    {
        var missing = Path.Combine(_folder, "nowhere");
        var (status, output, error) = await Kit("--variant", "QX-1", "--scope", "reseal", "--xlsx", Path.Combine(missing, "kit.xlsx"));
        Assert.Equal((2, ""), (status, output));
        Assert.Matches(@"^The folder of '[^\n]+kit\.xlsx' does not exist\. [^\n]+\n$", error.ReplaceLineEndings("\n"));
        Assert.False(Directory.Exists(missing));
    }

    [Theory]
    [InlineData("--variant QX-2 --scope reseal", "There is no variant 'QX-2'. The nearest known ones are QX-1, QX-10, QX-11.")]
    [InlineData("--variant QX-1 --scope resael", "There is no scope 'resael'. The nearest known ones are reseal, full, valve.")]
    [InlineData("--variant QX-1 --scope reseal --worn 9", "Variant QX-1 has no position 9. The nearest known ones are 2, 4 and 7.")]
    [InlineData("--variant QX-1 --scope reseal --worn 4;7", "'4;7' is no list of position numbers. Write the numbers with commas between them: 4,7.")]
    [InlineData("--variant QX-1 --scope reseal --prefer speed", "There is no preference 'speed'. The known ones are cost and stock.")]
    [InlineData("--scope reseal", "No variant is named. Name it by its code after --variant.")]
    [InlineData("--variant QX-1", "No scope is named. Name one after --scope: reseal, rotating, valve, full.")]
    [InlineData("--variant QX-1 --scope reseal --json --xlsx k.xlsx", "--json and --xlsx are both given. Ask for one of them.")]
    public async Task An_unusable_question_ends_with_2_and_names_what_is_wrong(string arguments, string sentence)
    {
        var (status, output, error) = await Kit(arguments.Split(' '));
        Assert.Equal((2, ""), (status, output));
        Assert.Equal(sentence, error.Trim());
    }

    [Fact]
    public async Task A_database_that_cannot_be_opened_is_one_sentence_and_2()
    {
        var file = Path.Combine(_folder, "no.db");
        await File.WriteAllTextAsync(file, new string('x', 5_000));
        var (status, output, error) = await Run(["--variant", "QX-1", "--scope", "reseal", "--db", $"sqlite:{file}"]);
        Assert.Equal((2, ""), (status, output));
        Assert.StartsWith("The database cannot be opened:", error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_word_the_program_does_not_know_ends_with_2()
    {
        var start = typeof(Program).Assembly.EntryPoint!;
        Assert.Equal(2, start.Invoke(null, [new[] { "kit", "--colour", "red" }]));
    }

    private async Task<(int Status, string Output, string Error)> Kit(params string[] arguments)
    {
        await store.Begin();
        await store.With(Fill);
        return await Run([.. arguments, "--db", $"sqlite:{store.Address.Connection}"]);
    }

    private static async Task<(int Status, string Output, string Error)> Run(string[] arguments)
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        var status = await KitCommand.Make().Parse(arguments).InvokeAsync(new InvocationConfiguration { Output = output, Error = error });
        return (status, output.ToString(), error.ToString());
    }

    /// <summary>One variant: a seal that can be bought, and a cap that cannot be had any more.</summary>
    private static async Task Fill(LedgerContext db)
    {
        var pressure = new PressureClassRow { Code = "P9", CodeKey = "P9", Name = "Nine", Relief = Pressure.FromPascals(9_000_000) };
        var family = new FamilyRow { Code = "QX", CodeKey = "QX", Name = "Family", ValveFit = ValveFit.Interchangeable };
        var seal = PartOf("0071", PartKind.Seal, PartService.Separate);
        var cap = PartOf("0072", PartKind.Hardware, PartService.None);
        foreach (var code in (string[])["QX-1", "QX-10", "QX-11", "ZZZZ-99"])
        {
            var variant = new VariantRow { Code = code, CodeKey = code, Family = family, PressureClass = pressure };
            variant.Positions.Add(PositionOf(2, "Shaft seal", seal, PartGroup.Seal, RenewRule.Always));
            variant.Positions.Add(PositionOf(4, "Cover seal", seal, PartGroup.Seal, RenewRule.Always));
            variant.Positions.Add(PositionOf(7, "Cap", cap, PartGroup.External, RenewRule.IfWorn));
            db.Add(variant);
        }
        await db.SaveChangesAsync();
    }

    private static PartRow PartOf(string number, PartKind kind, PartService service) => new()
    {
        Number = number, NumberKey = number, Name = $"Part {number}", Kind = kind, Service = service, Unit = "pc", Supplied = true,
        Cost = Money.FromTenThousandths(12_500), Tracking = Tracking.Bulk,
    };

    private static PositionRow PositionOf(int number, string name, PartRow part, PartGroup group, RenewRule renew) => new()
    {
        Position = number, Name = name, Part = part, Quantity = Quantity.FromWhole(1), PartGroup = group, Renew = renew,
    };
}
