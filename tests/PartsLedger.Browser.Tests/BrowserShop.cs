using System.CommandLine;
using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using PartsLedger.Commands;
using PartsLedger.Domain.Cores;
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
        await BeginForPictures();
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

    /// <summary>A pump comes in, whatever it is.</summary>
    public Task Begin(string job) => Do<StartJob.Command, JobActed>(new($"begin-{job}", job, JobScope.Reseal, Exchange: true));

    /// <summary>A job whose kit list is accepted, for the pages that show one.</summary>
    private async Task BeginForPictures()
    {
        await Do<StartJob.Command, JobActed>(new("pictures-1", ManyPages.Job, JobScope.Reseal, Exchange: true, Variants: ["VS30-070-R1"], CustomerReference: "Fenside 12"));
        await Do<RecordFindings.Command, JobActed>(new("pictures-2", ManyPages.Job, [new(4, Finding.Damaged, "lip torn"), new(11, Finding.Worn), new(5, Finding.Good)]));
        await using var scope = _app!.Services.CreateAsyncScope();
        var list = await scope.ServiceProvider.GetRequiredService<Dispatcher>().Ask<JobList.Query, JobList.Answer>(new(ManyPages.Job), Caller.CommandLine, default);
        await Do<AcceptList.Command, AcceptList.Answer>(new("pictures-3", ManyPages.Job, list.Result.Mark, "for the pictures"));
    }

    private async Task Do<TAct, TAnswer>(TAct act) where TAct : IAct<TAnswer> where TAnswer : notnull
    {
        await using var scope = _app!.Services.CreateAsyncScope();
        var done = await scope.ServiceProvider.GetRequiredService<Dispatcher>().Send<TAct, TAnswer>(act, Caller.CommandLine, default);
        Assert.True(done.Succeeded, done.Refusal?.ToString());
    }

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
