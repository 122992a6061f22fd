using System.CommandLine;
using Microsoft.AspNetCore.Builder;
using Microsoft.Playwright;
using PartsLedger.Commands;
using PartsLedger.Domain.Kits;
using PartsLedger.Hosting;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Jobs;

namespace PartsLedger.Browser.Tests;

/// <summary>The invented shop behind the program's own pages, and a real browser before them.</summary>
public sealed class BrowserShop : IAsyncLifetime
{
    private const string Missing = "Chromium is not installed: install the package chromium, or name the program in PARTSLEDGER_CHROMIUM.";

    private static readonly string[] Known = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome", "/snap/bin/chromium"];

    private readonly string _folder = Directory.CreateTempSubdirectory("partsledger-browser-").FullName;
    private WebApplication? _app;
    private IPlaywright? _playwright;
    private IBrowser? _browser;

    /// <summary>The folder the repository is checked out in.</summary>
    public static string Repository { get; } = FindRepository();

    public string Address => _app!.Urls.First();

    public async ValueTask InitializeAsync()
    {
        var chromium = Environment.GetEnvironmentVariable("PARTSLEDGER_CHROMIUM") ?? Array.Find(Known, File.Exists);
        if (chromium is null) return;
        var database = $"sqlite:{Path.Combine(_folder, "shop.db")}";
        Assert.Equal(0, await CommandLine.Run(["import", Path.Combine(Repository, "import", "demo"), "--db", database],
            new InvocationConfiguration { Output = TextWriter.Null, Error = TextWriter.Null }));
        _app = ShopWeb.Build(DatabaseAddress.Parse(database).Result, "http://127.0.0.1:0");
        await _app.WarmUp(CancellationToken.None);
        await _app.StartAsync();
        await ManyPages.Begin(_app);
        _playwright = await Playwright.CreateAsync();
        _browser = await _playwright.Chromium.LaunchAsync(new() { ExecutablePath = chromium, Args = ["--no-sandbox"] });
    }

    /// <summary>A window of its own, without anything remembered; skips the test where there is no browser.</summary>
    public async Task<IPage> Window(int width = 1280, bool scripts = true, ColorScheme scheme = ColorScheme.Light, ForcedColors colours = ForcedColors.None)
    {
        Requirements.SkipUnless(_browser is not null, "chromium", Missing);
        var context = await _browser!.NewContextAsync(new()
        {
            BaseURL = Address, ViewportSize = new() { Width = width, Height = 900 }, JavaScriptEnabled = scripts, ColorScheme = scheme, ForcedColors = colours,
        });
        return await context.NewPageAsync();
    }

    /// <summary>
    /// With <c>PARTSLEDGER_APPROVE=1</c> the page's picture in <c>docs/pages</c> is made anew; otherwise it must be there.
    /// </summary>
    /// <param name="name">The state's name and its size: <c>counter-wide</c>.</param>
    public static async Task Picture(IPage page, string name)
    {
        var file = Path.Combine(Repository, "docs", "pages", $"{name}.png");
        // Drawings are loaded when they come into sight; a picture shows them all.
        await page.EvaluateAsync("Promise.all([...document.images].map(image => (image.loading = 'eager', image.decode())))");
        var picture = await page.ScreenshotAsync(new() { FullPage = true });
        Assert.True(picture.Length > 5_000, "The page is empty.");
        if (Environment.GetEnvironmentVariable("PARTSLEDGER_APPROVE") == "1") await File.WriteAllBytesAsync(file, picture);
        Assert.True(File.Exists(file), $"{file} is missing: run this test with PARTSLEDGER_APPROVE=1 and look at it.");
    }

    /// <summary>A pump comes in, whatever it is.</summary>
    public Task Begin(string job) => ManyPages.Do<StartJob.Command, JobActed>(_app!, new($"begin-{job}", job, JobScope.Reseal, Exchange: true));

    public async ValueTask DisposeAsync()
    {
        if (_browser is not null) await _browser.DisposeAsync();
        _playwright?.Dispose();
        if (_app is not null) await _app.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    private static string FindRepository()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "PartsLedger.sln"))) return folder.FullName;
        throw new InvalidOperationException("The tests do not run inside the repository.");
    }
}

[CollectionDefinition(Name)]
public sealed class BrowserCollection : ICollectionFixture<BrowserShop>
{
    public const string Name = "browser";
}
