using System.Net.Http.Json;
using System.Text.Json;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace PartsLedger.Browser.Tests;

/// <summary>A day in the warehouse by scanner: goods come in, are moved and counted, a job's parts are fetched, a matched pair half by half.</summary>
[Collection(BrowserCollection.Name)]
public sealed class WarehouseDay(BrowserShop shop)
{
    private const string Job = "DAY-1";

    [Theory]
    [InlineData(true, 360, "030-7114", "030-8101")]
    [InlineData(false, 768, "030-7130", "030-8102")]
    [InlineData(true, 1280, "030-7132", null)]
    public async Task Goods_are_received_moved_counted_and_pulled_by_scanning(bool scripts, int width, string part, string? ofLot)
    {
        await AJobWithAPair();
        var page = await shop.Window(width, scripts);

        // Receive: part, place and document by scan; the quantity is typed, and Enter there books.
        await page.GotoAsync("/warehouse/receive");
        await Scan($"NOTE-{width}");
        await Expect(page.Locator("#document")).ToHaveValueAsync($"NOTE-{width}");
        await Scan("030-8101");
        await Expect(page.Locator("#part")).ToHaveValueAsync("030-8101");
        await Scan("B-04");
        await Expect(page.Locator("#place")).ToHaveValueAsync("B-04");
        await Type("quantity", "3");
        await Expect(page.Locator(".refusal")).ToContainTextAsync("tracked by lot");
        await Scan("26-Q3");
        await Expect(page.Locator("#lot")).ToHaveValueAsync("26-Q3");
        var before = await OnHand("030-8101");
        await Type("quantity", "3,0");
        await Expect(page.Locator(".note")).ToContainTextAsync("Done: transaction");
        Assert.Equal(before + 3, await OnHand("030-8101"));
        await Expect(page.Locator("#document")).ToHaveValueAsync($"NOTE-{width}");

        // Move: where it lies is one tap.
        await page.GotoAsync("/warehouse?scan=030-7110");
        await page.GetByRole(AriaRole.Link, new() { Name = "Move" }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "E-03" }).ClickAsync();
        await Scan("E-05");
        await Expect(page.Locator("#to")).ToHaveValueAsync("E-05");
        await Type("quantity", "1");
        await Expect(page.Locator(".note")).ToContainTextAsync("Done: transaction");

        // Count: nothing tells what is expected, and what differs a good deal is counted again.
        await page.GotoAsync("/warehouse/count");
        await Scan("E-06");
        await Expect(page.Locator("#place")).ToHaveValueAsync("E-06");
        await Scan("030-7013");
        await Expect(page.Locator("#part")).ToHaveValueAsync("030-7013");
        Assert.DoesNotContain("available", await page.Locator("main").InnerTextAsync(), StringComparison.Ordinal);
        await Type("quantity", $"{width}");
        await Expect(page.Locator("main")).ToContainTextAsync("count it once more");
        await page.GetByRole(AriaRole.Link, new() { Name = "030-7013" }).ClickAsync();
        await Type("quantity", $"{width}");
        await Expect(page.Locator(".note")).ToContainTextAsync("Done: transaction");
        Assert.Equal(width, await OnHand("030-7013"));

        await Pull(part, ofLot);
        await page.Context.CloseAsync();

        async Task Pull(string bulk, string? lotted)
        {
            await page.GotoAsync($"/warehouse/pull?job={Job}");
            Assert.InRange(await page.EvaluateAsync<int>("document.documentElement.scrollWidth"), 1, width);
            await Expect(page.Locator(".walk")).ToContainTextAsync("MATCHED PAIR");
            await Scan("45.5.085");
            await Expect(page.Locator(".refusal")).ToContainTextAsync("Fetch instead");
            await Scan(bulk);
            await Expect(page.Locator(".note")).ToContainTextAsync($"Pulled: {bulk}");
            await Expect(page.Locator(".walk")).Not.ToContainTextAsync(bulk);
            if (lotted is not null)
            {
                await Scan(lotted);
                await Expect(page.GetByLabel($"Now scan the lot on the bag of {lotted}")).ToBeVisibleAsync();
                await Scan("26-Q1");
                await Expect(page.Locator(".note")).ToContainTextAsync($"Pulled: {lotted}");
            }

            // Half of the pair is not enough, and half of another is none.
            await Scan("H-0041");
            await Expect(page.Locator(".thing .alert")).ToContainTextAsync("HALF OF A PAIR: keep with V-0041");
            await Scan("V-0042");
            await Expect(page.Locator(".refusal")).ToContainTextAsync("V-0042 is not the other half");
            await Scan("V-0041");
            await Expect(page.Locator(".note")).ToContainTextAsync("KEEP TOGETHER");

            // Fetched, it is on the walk no longer, until somebody puts it away again.
            await Expect(page.Locator("main")).Not.ToContainTextAsync("MATCHED PAIR");
            foreach (var place in (string[])["U-01", "U-03"])
                await Ask($$"""mutation { moveUnit(requestId: "back-{{width}}-{{place}}", code: "P-H-0041", to: "{{place}}") { refusals { code sentence } } }""");
            await page.GotoAsync($"/warehouse/pull?job={Job}");
            await Expect(page.Locator(".walk")).ToContainTextAsync("MATCHED PAIR");
        }

        // A scanner goes on wherever the focus is; without scripts the page itself sees to it that it is the field.
        async Task Scan(string code)
        {
            if (scripts) await page.EvaluateAsync("document.activeElement.blur()");
            else await Expect(page.Locator("#scan")).ToBeFocusedAsync();
            await page.Scan(code);
        }

        async Task Type(string field, string text)
        {
            await page.Locator($"#{field}").FillAsync(text);
            await page.Locator($"#{field}").PressAsync("Enter");
        }
    }

    [Fact]
    public async Task A_network_that_goes_away_keeps_what_was_sent_and_sends_it_once()
    {
        var page = await shop.Window();
        var before = await OnHand("030-7010");
        await Fill("OFF-1");
        await page.Context.SetOfflineAsync(true);
        await page.Locator("#quantity").PressAsync("Enter");
        await Expect(page.Locator("#said")).ToContainTextAsync("The network is away");
        await Expect(page.Locator("#document")).ToHaveValueAsync("OFF-1");
        Assert.Equal(before, await OnHand("030-7010"));
        await page.Context.SetOfflineAsync(false);
        await Expect(page.Locator(".note")).ToContainTextAsync("Done: transaction", new() { Timeout = 15_000 });
        Assert.Equal(before + 2, await OnHand("030-7010"));

        // It arrived, but its answer was lost on the way: asked again under the same request id it is not done again.
        await Fill("OFF-2");
        var lost = 0;
        await page.RouteAsync("**/warehouse/receive", async route =>
        {
            if (route.Request.Method != "POST" || lost++ > 0)
            {
                await route.ContinueAsync();
                return;
            }
            await route.FetchAsync(new() { MaxRedirects = 0 });
            await route.AbortAsync();
        });
        await page.Locator("#quantity").PressAsync("Enter");
        await Expect(page.Locator(".note")).ToContainTextAsync("Done: transaction", new() { Timeout = 15_000 });
        Assert.Equal(2, lost);
        Assert.Equal(before + 4, await OnHand("030-7010"));
        await page.Context.CloseAsync();

        async Task Fill(string document)
        {
            await page.GotoAsync($"/warehouse/receive?document={document}&part=030-7010&place=E-06");
            await page.Locator("#quantity").FillAsync("2");
        }
    }

    /// <summary>An exchange job that needs the pair of the shop's files; the same request ids give the same job however often it is asked for.</summary>
    private async Task AJobWithAPair()
    {
        await Ask("""mutation { releasePair(requestId: "day-pair", pair: "P-H-0041") { refusals { code } } }""");
        await Ask($$"""mutation { startJob(requestId: "day-job", number: "{{Job}}", exchange: true, scope: FULL, variants: ["VS30-085-R"]) { refusals { code } } }""");
        var mark = (await Ask($$"""{ jobList(number: "{{Job}}") { mark accepted } }""")).GetProperty("jobList");
        if (mark.GetProperty("accepted").GetInt32() == 0)
            await Ask($$"""mutation { acceptList(requestId: "day-list", job: "{{Job}}", mark: "{{mark.GetProperty("mark").GetString()}}") { refusals { code sentence } } }""");
    }

    private async Task<decimal> OnHand(string part) => (await Ask($$"""{ onHand(part: "{{part}}") { onHand } }""")).GetProperty("onHand").GetProperty("onHand").GetDecimal();

    private async Task<JsonElement> Ask(string query)
    {
        using var http = new HttpClient { BaseAddress = new Uri(shop.Address) };
        using var answer = await http.PostAsJsonAsync("/graphql", new { query });
        var said = await answer.Content.ReadFromJsonAsync<JsonElement>();
        Assert.True(said.TryGetProperty("data", out var data) && !said.TryGetProperty("errors", out _), said.ToString());
        return data;
    }
}
