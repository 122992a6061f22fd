using System.Text.RegularExpressions;
using Microsoft.AspNetCore.WebUtilities;
using Microsoft.Playwright;

namespace PartsLedger.Browser.Tests;

/// <summary>
/// A day at the counter: forty questions typed into the one box, with scripts and without. What must be found is read from the shop's own
/// files, not from the program.
/// </summary>
[Collection(BrowserCollection.Name)]
public sealed class CounterDay(BrowserShop shop)
{
    [Theory]
    [InlineData(true, 360)]
    [InlineData(true, 1280)]
    [InlineData(false, 360)]
    [InlineData(false, 768)]
    public async Task Forty_questions_lead_to_the_variants_that_the_shops_files_name(bool scripts, int width)
    {
        var page = await shop.Window(width, scripts);
        await page.GotoAsync("/counter");
        var asked = 0;
        foreach (var (question, variants) in Questions())
        {
            await Ask(page, question);
            var shown = await page.Locator("main").InnerTextAsync();
            foreach (var variant in variants) Assert.True(shown.Contains(variant, StringComparison.Ordinal), $"'{question}' does not lead to {variant}: {shown}");
            asked++;
        }
        Assert.Equal(40, asked);

        // From the last one the browser's own back button leads to the one before, as it was.
        var last = page.Url;
        await page.GoBackAsync();
        Assert.NotEqual(last, page.Url);
        await page.GoForwardAsync();
        Assert.Equal(last, page.Url);
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task From_a_machine_to_the_kit_by_keyboard_alone()
    {
        var page = await shop.Window(scripts: false);
        await page.GotoAsync("/counter");

        // The box has the focus: typing needs no click.
        await Assertions.Expect(page.Locator("#q")).ToBeFocusedAsync();
        await page.Keyboard.TypeAsync("VS30-070-R1");
        await page.Keyboard.PressAsync("Enter");
        await page.WaitForURLAsync("**/counter?q=VS30-070-R1*");
        var link = page.GetByRole(AriaRole.Link, new() { Name = "Full rebuild" });
        await link.FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await page.WaitForURLAsync("**scope=full*");
        var shown = await page.Locator("main").InnerTextAsync();
        Assert.Contains("PRESSURE CLASS P070", shown, StringComparison.Ordinal);
        Assert.Contains("030-9070", shown, StringComparison.Ordinal);
        await page.Context.CloseAsync();
    }

    [Theory]
    [InlineData(true, 768)]
    [InlineData(true, 1280)]
    [InlineData(false, 360)]
    public async Task A_pump_is_taken_in_with_its_deposit_and_its_job_starts_from_what_was_found(bool scripts, int width)
    {
        var (tag, job) = ($"C-9{width}", $"CD-{width}");
        var page = await shop.Window(width, scripts);
        await page.GotoAsync("/counter?q=VS30-070-R1&scope=full");
        var ways = await page.Locator(".ways").InnerTextAsync();
        foreach (var way in (string[])["Repaired with a kit", "Repaired with an assembly", "Exchange unit"]) Assert.Contains(way, ways, StringComparison.Ordinal);
        Assert.Contains("there on", ways, StringComparison.Ordinal);

        await page.GetByRole(AriaRole.Link, new() { Name = "Take in the pump" }).ClickAsync();
        await page.GetByLabel("A new tag for it").FillAsync(tag);
        await page.GetByLabel("Deposit").FillAsync("much");
        await page.GetByRole(AriaRole.Button, new() { Name = "Take it in" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Alert)).ToContainTextAsync("is no amount of money");
        await Assertions.Expect(page.GetByLabel("A new tag for it")).ToHaveValueAsync(tag);
        await page.GetByLabel("Deposit").FillAsync("180.50");
        await page.GetByRole(AriaRole.Button, new() { Name = "Take it in" }).ClickAsync();
        await Assertions.Expect(page.Locator("h1")).ToHaveTextAsync($"Pump {tag} is taken in");
        await Assertions.Expect(page.Locator(".thing")).ToContainTextAsync("180.50");

        // On paper: what is pressed is left out, what counts is not.
        await page.EmulateMediaAsync(new() { Media = Media.Print });
        await Assertions.Expect(page.Locator(".bar")).ToBeHiddenAsync();
        await Assertions.Expect(page.Locator(".thing")).ToBeVisibleAsync();
        await page.EmulateMediaAsync(new() { Media = Media.Screen });

        await page.GetByRole(AriaRole.Link, new() { Name = "Start its job" }).ClickAsync();
        await page.GetByLabel("The job's number").FillAsync(job);
        await page.GetByLabel("How far it goes").SelectOptionAsync("full");
        await page.GetByLabel("Customer's reference").FillAsync("Order 77");
        await page.GetByRole(AriaRole.Button, new() { Name = "Start the job" }).ClickAsync();
        await Assertions.Expect(page).ToHaveURLAsync(new Regex($"/bench\\?job={Regex.Escape(job)}$"));
        await Assertions.Expect(page.Locator("main")).ToContainTextAsync(job);
        await page.Context.CloseAsync();
    }

    private static async Task Ask(IPage page, string question)
    {
        var box = page.Locator("#q");
        await box.FillAsync(question);
        await box.PressAsync("Enter");
        await page.WaitForURLAsync(url => QueryHelpers.ParseQuery(new Uri(url).Query).TryGetValue("q", out var asked) && asked == question);
    }

    /// <summary>Twenty machines with a year in which exactly the variants named were fitted, and twenty codes and serials.</summary>
    private static IEnumerable<(string Question, IReadOnlyList<string> Variants)> Questions()
    {
        var machines = Rows("applications.csv");
        foreach (var row in machines.Where(row => row["year_from"].Length > 0).DistinctBy(row => (row["make"], row["model"])).Take(20))
        {
            var year = int.Parse(row["year_from"]);
            yield return ($"{row["make"]} {row["model"]} {year}", [.. machines.Where(other => other["make"] == row["make"] && other["model"] == row["model"]
                && int.Parse(other["year_from"]) <= year && (other["year_to"].Length == 0 || int.Parse(other["year_to"]) >= year)).Select(other => other["variant"]).Distinct()]);
        }
        var variants = Rows("variants.csv");
        foreach (var row in variants.Take(10)) yield return (row["code"], [row["code"]]);
        foreach (var row in variants.Where(row => row["serial_from"].Length > 0).Take(10)) yield return (row["serial_from"], [row["code"]]);
    }

    /// <summary>Plain comma-separated rows; those with quotes are left out.</summary>
    private static List<Dictionary<string, string>> Rows(string file)
    {
        var lines = File.ReadAllLines(Path.Combine(BrowserShop.Repository, "import", "demo", file));
        var header = lines[0].Split(',');
        return [.. lines.Skip(1).Where(line => !line.Contains('"')).Select(line => line.Split(',')).Select(cells => header.Zip(cells).ToDictionary(cell => cell.First, cell => cell.Second))];
    }
}
