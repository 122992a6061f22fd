using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace PartsLedger.Browser.Tests;

/// <summary>What the script adds to the pages: scans from anywhere and in any haste, and likely answers while typing.</summary>
[Collection(BrowserCollection.Name)]
public sealed class ScriptManners(BrowserShop shop)
{
    [Fact]
    public async Task A_scan_arrives_wherever_the_focus_is_and_however_fast_the_next_one_comes()
    {
        var page = await shop.Window();
        await page.GotoAsync("/warehouse");

        // On a link, and in another field, which keeps what somebody had typed there by hand.
        await page.GetByRole(AriaRole.Link, new() { Name = "PartsLedger", Exact = true }).FocusAsync();
        await page.Scan("030-7110");
        await Expect(page.Locator(".thing h2")).ToContainTextAsync("Part 030-7110");
        await page.Locator("#class").PressSequentiallyAsync("P0", new() { Delay = 300 });
        await page.Scan("030-6101");
        await Expect(page.Locator(".thing h2")).ToContainTextAsync("Part 030-6101");
        await Expect(page.Locator("#class")).ToHaveValueAsync("P0");
        await Expect(page.Locator("#scan")).ToBeFocusedAsync();

        // The second comes while the first is on its way: both are asked, and back leads over each.
        await page.RouteAsync("**/warehouse?*", async route =>
        {
            await Task.Delay(400);
            await route.ContinueAsync();
        });
        await page.Scan("030-7110");
        await page.Scan("H-0041");
        await Expect(page.Locator(".thing h2")).ToContainTextAsync("H-0041");
        await page.GoBackAsync();
        await Expect(page.Locator(".thing h2")).ToContainTextAsync("Part 030-7110");

        // What must be looked at is not swept away by the next scan.
        await page.Scan("H-0041");
        await page.Scan("030-7110");
        await Expect(page.Locator("#said")).ToContainTextAsync("Look at this first");
        await Expect(page.Locator(".thing h2")).ToContainTextAsync("H-0041");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator(".thing h2")).ToContainTextAsync("Part 030-7110");
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task A_scan_that_comes_while_the_page_is_still_loading_is_not_lost()
    {
        var page = await shop.Window();
        await page.GotoAsync("/warehouse");
        var rest = new TaskCompletionSource();
        await using var slow = await SlowNetwork(rest.Task);
        await page.GotoAsync($"{slow.Urls.First()}/warehouse", new() { WaitUntil = WaitUntilState.Commit });
        await page.WaitForFunctionAsync("performance.getEntriesByType('resource').length > 0");
        await page.Scan("030-7110");
        await page.Keyboard.TypeAsync("030-");
        Assert.Equal("loading", await page.EvaluateAsync<string>("document.readyState"));
        rest.SetResult();
        await Expect(page.Locator(".thing h2")).ToContainTextAsync("Part 030-7110");
        await page.Scan("6101");
        await Expect(page.Locator(".thing h2")).ToContainTextAsync("Part 030-6101");
        await page.Context.CloseAsync();
    }

    /// <summary>The shop as a weak network brings it: the head of a page at once, its body when <paramref name="rest"/> is done.</summary>
    private async Task<WebApplication> SlowNetwork(Task rest)
    {
        var http = new HttpClient { BaseAddress = new Uri(shop.Address) };
        var app = WebApplication.CreateSlimBuilder().Build();
        app.Urls.Add("http://127.0.0.1:0");
        app.Run(async context =>
        {
            using var answer = await http.GetAsync(context.Request.Path + context.Request.QueryString);
            var text = await answer.Content.ReadAsStringAsync();
            context.Response.ContentType = answer.Content.Headers.ContentType!.ToString();
            var body = text.IndexOf("<body>", StringComparison.Ordinal);
            if (body > 0)
            {
                await context.Response.WriteAsync(text[..body]);
                await context.Response.Body.FlushAsync();
                await rest;
            }
            await context.Response.WriteAsync(text[Math.Max(body, 0)..]);
        });
        await app.StartAsync();
        return app;
    }

    [Fact]
    public async Task Likely_answers_stand_under_the_box_and_are_taken_by_arrow_and_Enter()
    {
        var page = await shop.Window();
        await page.GotoAsync("/counter");
        var box = page.GetByRole(AriaRole.Combobox);
        await box.PressSequentiallyAsync("Haldrin Sk");
        var options = page.GetByRole(AriaRole.Option);
        await Expect(options.First).ToContainTextAsync("Haldrin Skerry");
        await Expect(box).ToHaveAttributeAsync("aria-expanded", "true");
        await box.PressAsync("ArrowDown");
        Assert.Equal(await options.First.GetAttributeAsync("id"), await box.GetAttributeAsync("aria-activedescendant"));
        await box.PressAsync("Enter");
        await page.WaitForURLAsync("**/counter?q=Haldrin*Skerry*");

        // Without a choice Enter asks what was typed, and Escape puts the list away.
        await page.GotoAsync("/counter");
        await box.PressSequentiallyAsync("030-61");
        await Expect(options.First).ToBeVisibleAsync();
        await box.PressAsync("Escape");
        await Expect(options.First).ToBeHiddenAsync();
        await box.FillAsync("030-6101");
        await box.PressAsync("Enter");
        await page.WaitForURLAsync("**/counter?q=030-6101");
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task At_the_counter_a_scan_takes_the_place_of_the_last_question_wherever_the_focus_is()
    {
        var page = await shop.Window();
        await page.GotoAsync("/counter?q=VS30-070-R1&scope=full");
        await Expect(page.Locator("#q")).ToBeFocusedAsync();
        await page.Scan("030-6101");
        await Expect(page).ToHaveURLAsync(new Regex("q=030-6101"));
        await page.GoBackAsync();
        await Expect(page.Locator("#q")).ToHaveValueAsync("VS30-070-R1");

        // In the field for worn positions, which keeps what was typed there by hand until the answer comes; and on a link.
        await page.Locator("#worn").PressSequentiallyAsync("4", new() { Delay = 300 });
        await page.Scan("H-0041");
        await Expect(page.Locator(".thing")).ToContainTextAsync("H-0041");
        await page.GetByRole(AriaRole.Link, new() { Name = "PartsLedger", Exact = true }).FocusAsync();
        await page.Scan("VS30-070-R1");
        await Expect(page.Locator("#chosen")).ToHaveTextAsync("VS30-070-R1");
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Readings_are_judged_while_they_are_typed()
    {
        var page = await shop.Window();
        await page.GotoAsync($"/bench?job={ManyPages.Job}&at=measure&unit=H-0041");
        var judged = page.Locator("[data-tried]");
        await page.GetByLabel("Temperature of the piece").FillAsync("20");
        await page.GetByRole(AriaRole.Radio, new() { Name = "AG-1" }).CheckAsync();
        await page.GetByLabel("Tag of the half it is to go with").FillAsync("V-0041");
        await Expect(judged).ToBeEmptyAsync();
        await page.GetByLabel("Readings").PressSequentiallyAsync("15,9");
        await Expect(judged).ToContainTextAsync("DOES NOT FIT");
        await Expect(judged).ToContainTextAsync("Not written down yet");
        await page.GetByLabel("Readings").FillAsync("a bore");
        await Expect(judged).ToContainTextAsync("Not to be judged yet");
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task What_somebody_else_changes_is_shown_at_once_and_never_over_what_is_being_typed()
    {
        const string job = "LIVE-1";
        await shop.Begin(job);
        var (watching, typing, other) = (await shop.Window(), await shop.Window(), await shop.Window());
        await watching.GotoAsync($"/bench?job={job}&at=variant");
        await typing.GotoAsync($"/bench?job={job}&at=variant");
        await typing.Locator("#settled-why").FillAsync("the plate says so");
        await other.GotoAsync($"/bench?job={job}&at=variant");
        await other.Locator("#variant").FillAsync("VS30-070-R1");
        await other.Locator("form[action='/bench/variant'] button").ClickAsync();

        await Expect(watching.Locator(".last")).ToContainTextAsync("identified", new() { Timeout = 15_000 });
        await Expect(watching.Locator("#said")).ToContainTextAsync("shown as it is now");
        await Expect(typing.Locator("#said")).ToContainTextAsync("What you typed is still here", new() { Timeout = 15_000 });
        await Expect(typing.Locator("#settled-why")).ToHaveValueAsync("the plate says so");
        await Expect(typing.Locator(".last")).Not.ToContainTextAsync("identified");
        await typing.GetByRole(AriaRole.Button, new() { Name = "Show the change" }).ClickAsync();
        await Expect(typing.Locator(".last")).ToContainTextAsync("identified");
        foreach (var page in (IPage[])[watching, typing, other]) await page.Context.CloseAsync();
    }

    [Fact]
    public async Task What_takes_long_says_so_and_can_be_stopped()
    {
        var page = await shop.Window();
        var stop = new TaskCompletionSource();
        await page.RouteAsync("**/warehouse/labels.pdf?*", async route =>
        {
            await stop.Task;
            await route.ContinueAsync();
        });
        await page.GotoAsync("/warehouse/labels?codes=030-7110");
        var print = page.Locator("a[data-slow]").First;
        await print.ClickAsync();
        await Expect(page.Locator("#said")).ToContainTextAsync("Printing…");
        await page.GetByRole(AriaRole.Button, new() { Name = "Stop" }).ClickAsync();
        await Expect(page.Locator("#said")).ToContainTextAsync("Stopped.");
        stop.SetResult();
        var labels = await page.RunAndWaitForDownloadAsync(() => print.ClickAsync());
        Assert.EndsWith(".pdf", labels.SuggestedFilename, StringComparison.Ordinal);
        await Expect(page.Locator("#said")).ToContainTextAsync("Ready.");

        // Sending files takes long too, and says so in its own words.
        var look = new TaskCompletionSource();
        await page.RouteAsync("**/office/import", async route =>
        {
            if (route.Request.Method == "POST") await look.Task;
            await route.ContinueAsync();
        });
        await page.GotoAsync("/office/import");
        await page.Locator("#files").SetInputFilesAsync(Path.Combine(BrowserShop.Repository, "import", "demo", "tools.csv"));
        await page.Locator("button[data-slow]").ClickAsync();
        await Expect(page.Locator("#said")).ToContainTextAsync("Reading the files…");
        look.SetResult();
        await Expect(page.Locator("main")).ToContainTextAsync("tools");
        await page.WaitForURLAsync("**/office/import?id=*");
        await page.Context.CloseAsync();
    }
}
