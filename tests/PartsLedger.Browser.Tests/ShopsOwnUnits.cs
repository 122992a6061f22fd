using System.Text.RegularExpressions;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace PartsLedger.Browser.Tests;

/// <summary>A shop that works in inches, psi and Fahrenheit, writes a decimal comma, and keeps a currency: shown so, and typed so.</summary>
[Collection(BrowserCollection.Name)]
public sealed class ShopsOwnUnits(BrowserShop shop)
{
    private static readonly (string Choice, string Chosen, string Before)[] Choices =
    [
        ("length-unit", "in", "mm"), ("pressure-unit", "psi", "bar"), ("flow-unit", "gpm", "lpm"), ("temperature-unit", "f", "c"), ("number-format", "1.234,5", "1234.5"), ("currency", "# €", "#"),
    ];

    [Fact]
    public async Task Sizes_and_money_are_shown_and_typed_as_the_shop_writes_them()
    {
        var page = await shop.Window(scripts: false);
        foreach (var (choice, chosen, _) in Choices) await Choose(page, choice, chosen);
        try
        {
            await page.GotoAsync("/counter?q=VS30-070-R1&scope=full");
            await Expect(page.Locator(".plate")).ToContainTextAsync("psi (7000 kPa)");
            await Expect(page.Locator("td.number").Filter(new() { HasText = "76,57\u00A0€" }).First).ToBeVisibleAsync();

            // Sizes are shown to the nanometre: one typed back, warm as it is reckoned, is the same size again.
            await page.GotoAsync($"/bench?job={ManyPages.Job}&at=measure&unit=H-0041");
            var sizes = page.Locator("tbody tr td:nth-of-type(3)");
            await Expect(sizes).ToHaveCountAsync(1);
            var size = await sizes.First.InnerTextAsync();
            Assert.Matches(new Regex(@"^0,62\d{3,6} in$"), size);
            await page.GetByLabel("Readings (in), ; between them").FillAsync(size.Split(' ')[0]);
            await page.GetByLabel("Temperature of the piece (°F)").FillAsync("68");
            await page.Locator("input[name=gauge][value='AG-1']").CheckAsync();
            await page.Locator("form[action='/bench/measure'] button").ClickAsync();
            await Expect(sizes).ToHaveCountAsync(2);
            Assert.Equal([size, size], await sizes.AllInnerTextsAsync());

            // What could mean 1234 or a little more than one is not guessed at, and stays typed.
            await page.GetByLabel("Readings (in), ; between them").FillAsync("1.234");
            await page.GetByLabel("Temperature of the piece (°F)").FillAsync("68");
            await page.Locator("form[action='/bench/measure'] button").ClickAsync();
            await Expect(page.GetByRole(AriaRole.Alert)).ToContainTextAsync("two ways");
            await Expect(page.GetByLabel("Readings (in), ; between them")).ToHaveValueAsync("1.234");

            await page.GotoAsync("/counter/core?variant=VS30-070-R1");
            await page.GetByLabel("A new tag for it").FillAsync("C-EURO");
            await page.GetByLabel("Deposit, €").FillAsync("1.250,5 €");
            await page.GetByRole(AriaRole.Button, new() { Name = "Take it in" }).ClickAsync();
            await Expect(page.Locator("dd").First).ToContainTextAsync("1.250,50\u00A0€");
        }
        finally
        {
            foreach (var (choice, _, before) in Choices) await Choose(page, choice, before);
        }
        await page.GotoAsync("/counter?q=VS30-070-R1&scope=full");
        await Expect(page.Locator(".plate")).ToContainTextAsync("70 bar (1015 psi)");
        await page.Context.CloseAsync();
    }

    private static async Task Choose(IPage page, string choice, string value)
    {
        await page.GotoAsync("/office/choices");
        await page.Locator($"#{choice}").FillAsync(value);
        await page.Locator($"form[action='/office/choices/{choice}'] button").ClickAsync();
        await Expect(page.Locator($"#{choice}")).ToHaveValueAsync(value);
    }
}
