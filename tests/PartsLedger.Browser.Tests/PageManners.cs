using System.Net;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace PartsLedger.Browser.Tests;

/// <summary>What every page owes to everybody: readable in any light and by any means, on any screen, light to load.</summary>
[Collection(BrowserCollection.Name)]
public sealed class PageManners(BrowserShop shop)
{
    private const int NarrowestPhone = 360;
    private const int MostBytes = 100_000;

    public static TheoryData<string> Names => [.. ManyPages.All.Keys];

    [Theory]
    [MemberData(nameof(Names))]
    public async Task Axe_finds_nothing_to_mend_in_light_dark_and_high_contrast(string name)
    {
        foreach (var (scheme, colours) in Lights)
        {
            var page = await shop.Window(scheme: scheme, colours: colours);
            await page.GotoAsync(ManyPages.All[name]);
            var found = await page.RunAxe();
            Assert.True(found.Violations.Length == 0, $"{name}, {scheme}, {colours}: " + string.Join("\n", found.Violations.Select(violation =>
                $"{violation.Id}: {violation.Help}: {string.Join(", ", violation.Nodes.Select(node => node.Html))}")));
            Assert.NotEmpty(found.Passes);
            await page.Context.CloseAsync();
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public async Task No_page_is_wider_than_the_screen_and_nothing_to_press_is_too_small(string name)
    {
        foreach (var width in (int[])[NarrowestPhone, 768, 1280])
        {
            var page = await shop.Window(width);
            await page.GotoAsync(ManyPages.All[name]);
            Assert.InRange(await page.EvaluateAsync<int>("document.documentElement.scrollWidth"), 1, width);
            var low = await page.EvaluateAsync<string[]>("""
                [...document.querySelectorAll('button, input:not([type=hidden]), a.button')].filter(e => e.getBoundingClientRect().height < 44).map(e => e.outerHTML)
                """);
            Assert.True(low.Length == 0, $"{name} at {width}: lower than 44 pixels, too small for a glove: {string.Join(", ", low)}");
            await page.Context.CloseAsync();
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public async Task A_first_visit_weighs_under_100_kB(string name)
    {
        var page = await shop.Window();
        var bytes = 0;
        var files = new List<Task>();
        page.RequestFinished += (_, request) => files.Add(Count(request));
        await page.GotoAsync(ManyPages.All[name], new() { WaitUntil = WaitUntilState.NetworkIdle });
        await Task.WhenAll(files);
        Assert.InRange(bytes, 1, MostBytes);
        await page.Context.CloseAsync();

        async Task Count(IRequest request)
        {
            var sizes = await request.SizesAsync();
            Interlocked.Add(ref bytes, sizes.ResponseBodySize + sizes.ResponseHeadersSize);
        }
    }

    /// <summary>Each state has two pictures in <c>docs/pages</c>; see <see cref="BrowserShop.Picture"/>.</summary>
    [Theory]
    [MemberData(nameof(Names))]
    public async Task Every_page_has_its_pictures(string name)
    {
        foreach (var (size, width, scheme) in ((string, int, ColorScheme)[])[("wide", 1280, ColorScheme.Light), ("narrow", NarrowestPhone, ColorScheme.Dark)])
        {
            var page = await shop.Window(width, scheme: scheme);
            var response = await page.GotoAsync(ManyPages.All[name]);
            Assert.Equal((int)HttpStatusCode.OK, response!.Status);
            await BrowserShop.Picture(page, $"{name}-{size}");
            await page.Context.CloseAsync();
        }
    }

    private static readonly (ColorScheme, ForcedColors)[] Lights =
        [(ColorScheme.Light, ForcedColors.None), (ColorScheme.Dark, ForcedColors.None), (ColorScheme.Light, ForcedColors.Active), (ColorScheme.Dark, ForcedColors.Active)];
}
