using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace PartsLedger.Browser.Tests;

/// <summary>The warehouse's page with a scanner that types like a keyboard: fast, and Enter at the end.</summary>
[Collection(BrowserCollection.Name)]
public sealed class WarehouseScans(BrowserShop shop)
{
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Both_halves_of_a_pair_are_called_out_one_after_the_other(bool scripts)
    {
        var (housing, valve) = Pair();
        var page = await shop.Window(360, scripts);
        await page.GotoAsync("/warehouse");
        foreach (var (scanned, other) in ((string, string)[])[(housing, valve), (valve, housing), (housing, valve)])
        {
            await Scan(page, scanned);
            var shown = await page.Locator("main").InnerTextAsync();
            Assert.Contains(scanned, shown, StringComparison.Ordinal);
            Assert.Contains(other, shown, StringComparison.Ordinal);
        }
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task What_is_scanned_and_not_known_is_said_and_the_field_waits_again()
    {
        var page = await shop.Window();
        await page.GotoAsync("/warehouse");
        await Scan(page, "ZZ-NOT-HERE");
        Assert.Contains("ZZ-NOT-HERE", await page.GetByRole(AriaRole.Alert).InnerTextAsync(), StringComparison.Ordinal);
        await Scan(page, "030-7110");
        Assert.Contains("030-7110", await page.Locator("main").InnerTextAsync(), StringComparison.Ordinal);
        await page.Context.CloseAsync();
    }

    /// <summary>Types into whatever has the focus, as a scanner does; the page sees to it that this is the field.</summary>
    private static async Task Scan(IPage page, string code)
    {
        await Assertions.Expect(page.Locator("#scan")).ToBeFocusedAsync();
        await page.Keyboard.TypeAsync(code, new() { Delay = 2 });
        await page.Keyboard.PressAsync("Enter");

        // Asked again and again: with scripts the address changes without a navigation, which is missed where it comes before the waiting begins.
        await Assertions.Expect(page).ToHaveURLAsync(new Regex($"[?&]scan={Regex.Escape(Uri.EscapeDataString(code))}(&|$)"));
    }

    /// <summary>The first matched pair in the shop's own file of tagged halves.</summary>
    private static (string Housing, string Valve) Pair()
    {
        var rows = File.ReadAllLines(Path.Combine(BrowserShop.Repository, "import", "demo", "units.csv")).Skip(1).Select(line => line.Split(',')).ToList();
        var valve = rows.First(cells => cells[1] == "valve" && cells[^1].Length > 0);
        return (valve[^1], valve[0]);
    }
}
