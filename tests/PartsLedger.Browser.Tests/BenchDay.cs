using System.Globalization;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace PartsLedger.Browser.Tests;

/// <summary>A day at the bench: one pump from the open variant to the release, with a matched pair out of the pool, by the page alone.</summary>
[Collection(BrowserCollection.Name)]
public sealed class BenchDay(BrowserShop shop)
{
    private const string Variant = "VS30-070-R1";

    [Theory]
    [InlineData(true, 360)]
    [InlineData(false, 768)]
    [InlineData(true, 1280)]
    public async Task A_pump_goes_from_the_open_variant_to_its_release(bool scripts, int width)
    {
        var job = $"DAY-{width}";
        await shop.Begin(job);
        var page = await shop.Window(width, scripts, width < 768 ? ColorScheme.Dark : ColorScheme.Light);
        await page.GotoAsync($"/bench?job={job}");
        await Show(page, "bench-variant", width);
        await Send(page, "/bench/variant", "Last: identified", ("variant", Variant), ("why", "plate and serial"));
        await Findings(page, job, scripts, width);
        var housing = await PairFromThePool(page, job);
        await page.GotoAsync($"/bench?job={job}&at=list");
        await Expect(page.Locator("main")).ToContainTextAsync($"P-{housing}");
        await Send(page, "/bench/list", "Last: list accepted");
        var valve = await Fetch(page, housing, scripts);
        await Assemble(page, job, housing, valve);

        await Send(page, "/bench/run", "Last: bench run 1", ("bench", "B1"), ("rpm-1", "700"), ("flow-1", "18.9 l/min"), ("rpm-2", "2000"), ("flow-2", "15 l/min"), ("relief", "50 bar"), ("oil", "50"));
        await Expect(page.Locator("main")).ToContainTextAsync("Run 1: failed");
        await Send(page, "/bench/run", "Last: bench run 2", ("bench", "B1"), ("rpm-1", "700"), ("flow-1", "18,9 l/min"), ("rpm-2", "2000"), ("flow-2", "15 l/min"), ("relief", "70,0 bar"), ("oil", "49,5"), ("noise", "quiet"));
        await Expect(page.Locator("main")).ToContainTextAsync("Run 2: passed");
        await Show(page, "bench-test", width);

        await page.GotoAsync($"/bench?job={job}&at=assemble");
        await Checks(page, sequence => sequence >= 90);
        await page.GotoAsync($"/bench?job={job}");
        await Expect(page.Locator(".next")).ToContainTextAsync("put away");
        await page.GotoAsync($"/bench?job={job}&at=fetch");
        await page.Locator("details", new() { Has = page.Locator("form[action='/bench/surplus']") }).Locator("summary").ClickAsync();
        await Send(page, "/bench/surplus", "Last: surplus", ("to", "A-01"));
        await page.GotoAsync($"/bench?job={job}&at=release");
        await Send(page, "/bench/release", "Last: released");
        await Expect(page.Locator("main")).ToContainTextAsync("● Released");
        await Show(page, "bench-release", width);
        var paper = await page.Context.APIRequest.GetAsync((await page.GetByRole(AriaRole.Link, new() { Name = "Release paper" }).GetAttributeAsync("href"))!);
        Assert.Equal("application/pdf", paper.Headers["content-type"]);
        await page.Context.CloseAsync();
    }

    private static Task Show(IPage page, string name, int width) => width switch
    {
        360 => BrowserShop.Picture(page, $"{name}-narrow"),
        1280 => BrowserShop.Picture(page, $"{name}-wide"),
        _ => Task.CompletedTask,
    };

    /// <summary>One writes down that the valve is worn; another looked before that and finds it damaged: that is not written over it unseen.</summary>
    private async Task Findings(IPage page, string job, bool scripts, int width)
    {
        var other = await shop.Window(width, scripts);
        var watcher = await shop.Window(width, scripts);
        await other.GotoAsync($"/bench?job={job}&at=findings");
        await watcher.GotoAsync($"/bench?job={job}&at=release");
        await Unfold(page);
        await page.Locator("input[name='found-15'][value='worn']").CheckAsync();
        await Send(page, "/bench/findings", "Last: findings", ("note-15", "scored"));
        await Unfold(other);
        await other.Locator("input[name='found-15'][value='damaged']").CheckAsync();
        await other.Locator("form[action='/bench/findings'] button").ClickAsync();
        await Expect(other.Locator("form[action='/bench/findings'] [role=alert]")).ToContainTextAsync("found position 15 worn");
        if (scripts) await Expect(other.Locator("form[action='/bench/findings'] [role=alert]")).ToBeInViewportAsync();
        await Expect(other.Locator("input[name='found-15'][value='damaged']")).ToBeCheckedAsync();
        if (scripts) await Expect(watcher.Locator(".next")).ToContainTextAsync("accept the kit list", new() { Timeout = 15_000 });
        await other.Context.CloseAsync();
        await watcher.Context.CloseAsync();
    }

    /// <summary>What nothing was found at is folded up, so that all positions of a pump fit on a phone.</summary>
    private static async Task Unfold(IPage page)
    {
        await Expect(page.Locator("input[name='found-15'][value='worn']")).ToBeHiddenAsync();
        await page.Locator("summary", new() { HasText = "15 " }).First.ClickAsync();
    }

    /// <summary>The board's proposal is held by whoever comes first; one pair of it is accepted and released.</summary>
    private static async Task<string> PairFromThePool(IPage page, string job)
    {
        await page.GotoAsync($"/bench?job={job}&at=pairs");
        var accept = page.Locator("form[action^='/bench/accept/']").First;
        if (await page.Locator("form[action='/bench/hold']").CountAsync() > 0)
        {
            await page.Locator("form[action='/bench/hold'] button").ClickAsync();
            await Expect(accept).ToBeVisibleAsync();
        }
        var box = accept.Locator("input[name='housing']").First;
        var housing = (await box.GetAttributeAsync("value"))!;
        await box.CheckAsync();
        await accept.Locator("input[name='place']").FillAsync("U-03");
        await accept.Locator("button").ClickAsync();
        await Expect(page.Locator($"input[name='housing'][value='{housing}']")).ToHaveCountAsync(0);
        await page.Locator("#pair").FillAsync($"P-{housing}");
        await page.Locator("form[action='/bench/release-pair'] button").ClickAsync();
        await Expect(page.Locator("#pair")).ToHaveValueAsync("");
        await Expect(page.GetByRole(AriaRole.Alert)).ToHaveCountAsync(0);
        return housing;
    }

    /// <summary>
    /// Everything on the walk is scanned, with scripts by a scanner while the focus is on a link, the lot after its part; of the pair one half alone is refused, and the
    /// field waits for the other.
    /// </summary>
    private static async Task<string> Fetch(IPage page, string housing, bool scripts)
    {
        var rows = page.Locator("tbody tr");
        for (var left = await rows.CountAsync(); left > 1; left--)
        {
            var cells = await rows.First.Locator("td").AllInnerTextsAsync();
            var lot = cells[3].Split(',')[0];
            if (scripts)
            {
                await page.GetByRole(AriaRole.Link, new() { Name = "PartsLedger", Exact = true }).FocusAsync();
                await page.Scan(cells[1]);
                if (lot.Length > 0)
                {
                    await Expect(page.GetByRole(AriaRole.Alert)).ToContainTextAsync("lot");
                    await page.Scan(lot);
                }
            }
            else await Send(page, "/bench/pull", "Last: pulled", ("scan", cells[1]), ("lot", lot));
            await Expect(rows).ToHaveCountAsync(left - 1);
        }
        var pair = await rows.First.Locator("td").Nth(1).InnerTextAsync();
        var valve = pair.Split(' ')[^1];
        await page.Locator("#scan").FillAsync(housing);
        await page.Locator("form[action='/bench/pull'] button:not([type=button])").ClickAsync();
        await Expect(page.GetByRole(AriaRole.Alert)).ToContainTextAsync(valve);
        await Expect(page.Locator("#scan")).ToHaveValueAsync(housing);
        await Send(page, "/bench/pull", housing, ("with", valve));
        return valve;
    }

    private static async Task Assemble(IPage page, string job, string housing, string valve)
    {
        var cells = Rows("units").First(row => row[0] == valve);
        await page.GotoAsync($"/bench?job={job}&at=assemble");
        await Send(page, "/bench/fit-pair", "Last: pair fitted", ("housing", housing), ("valve", valve), ("shims", cells[7]), ("stack", cells[8].Replace('.', ',')));
        await Checks(page, sequence => sequence < 90);
        await Send(page, "/bench/finish", "Last: assembled");
    }

    /// <summary>Each check with a figure in the middle of what the shop's own file allows, or as expected where it has no figures.</summary>
    private static async Task Checks(IPage page, Func<int, bool> which)
    {
        foreach (var row in Rows("checks").Where(row => ((row[0] == "VS30" && row[1].Length == 0) || row[1] == Variant) && which(int.Parse(row[2], CultureInfo.InvariantCulture))))
        {
            var (action, last) = ($"/bench/check/{row[2]}", $"Last: check {row[2]}: passed");
            if (row[^3].Length > 0)
            {
                decimal Limit(string text) => decimal.Parse(text, CultureInfo.InvariantCulture);
                await Send(page, action, last, ("value", ((Limit(row[^2]) + Limit(row[^1])) / 2).ToString(CultureInfo.InvariantCulture)));
                continue;
            }
            await page.Locator($"form[action='{action}'] input[name='passed'][value='yes']").CheckAsync();
            await Send(page, action, last);
        }
    }

    /// <summary>Fills a form in, sends it, and waits until the page says what happened last.</summary>
    private static async Task Send(IPage page, string action, string happened, params (string Field, string Text)[] fields)
    {
        var form = page.Locator($"form[action='{action}']");
        foreach (var (field, text) in fields) await form.Locator($"input[name='{field}']").FillAsync(text);
        // The script adds a switch for its sound beside the scan field.
        await form.Locator("button:not([type=button])").First.ClickAsync();
        await Expect(page.Locator(".last")).ToContainTextAsync(happened);
    }

    private static IEnumerable<string[]> Rows(string file) =>
        File.ReadAllLines(Path.Combine(BrowserShop.Repository, "import", "demo", $"{file}.csv")).Skip(1).Select(line => line.Split(','));
}
