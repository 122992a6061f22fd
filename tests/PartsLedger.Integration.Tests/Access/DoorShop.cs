using System.Collections.Concurrent;
using System.Net;
using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Identity;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using PartsLedger.Access;
using PartsLedger.Data;
using PartsLedger.Data.Access;
using PartsLedger.Domain.Access;
using PartsLedger.Hosting;

namespace PartsLedger.Integration.Tests.Access;

/// <summary>The program's web application with its door as it is delivered, over a database of its own. Everything it logs is kept.</summary>
public sealed class DoorShop : IAsyncDisposable
{
    public const string Password = "seven brass shims";

    private readonly List<WebApplication> _copies = [];
    private readonly string _folder = Directory.CreateTempSubdirectory("partsledger-door-").FullName;

    public ConcurrentQueue<string> Log { get; } = [];

    public CountingHasher Hasher { get; } = new();

    public Api.DatabaseWatch Watch { get; } = new();

    private ServeSettings? Settings { get; init; }

    public WebApplication App => _copies[0];

    public Dispatcher Dispatcher => App.Services.GetRequiredService<Dispatcher>();

    public static async Task<DoorShop> Open(ServeSettings? settings = null)
    {
        var shop = new DoorShop { Settings = settings };
        await shop.AnotherCopy();
        return shop;
    }

    /// <summary>Starts another copy of the program over the same database.</summary>
    public async Task<Uri> AnotherCopy()
    {
        var app = ShopWeb.Build(DatabaseAddress.Parse($"sqlite:{Path.Combine(_folder, "shop.db")}").Result, "http://127.0.0.1:0", settings: Settings, also: services => services
            .AddSingleton<IPasswordHasher<PersonRow>>(Hasher).ConfigureDbContext<LedgerContext>(options => options.AddInterceptors(Watch))
            .AddLogging(logging => logging.ClearProviders().AddProvider(new Keeper(Log)).SetMinimumLevel(LogLevel.Trace)
                .AddFilter<Keeper>(null, LogLevel.Trace).AddFilter<Keeper>("Microsoft.EntityFrameworkCore", LogLevel.Trace)));
        await using (var scope = app.Services.CreateAsyncScope())
            Assert.True((await DatabaseOpening.Open(scope.ServiceProvider.GetRequiredService<LedgerContext>(), CancellationToken.None)).Succeeded);
        await app.StartAsync();
        _copies.Add(app);
        return new Uri(app.Urls.First());
    }

    public Browser Visit() => new(new Uri(App.Urls.First()));

    public async Task<T> With<T>(Func<LedgerContext, Task<T>> work)
    {
        await using var scope = App.Services.CreateAsyncScope();
        return await work(scope.ServiceProvider.GetRequiredService<LedgerContext>());
    }

    public async Task<PersonActed> Act<TAct>(TAct act, Caller? caller = null) where TAct : IAct<PersonActed>
    {
        var acted = await Dispatcher.Send<TAct, PersonActed>(act, caller ?? Caller.CommandLine, CancellationToken.None);
        Assert.True(acted.Succeeded, acted.Refusal?.ToString());
        return acted.Result;
    }

    /// <summary>Somebody with these roles and <see cref="Password"/>.</summary>
    public async Task Add(string name, params Role[] roles)
    {
        var link = (await Act(new AddPerson.Command(NewId(), name, roles))).Link!.Reveal();
        await Act(new ChoosePassword.Command(NewId(), new Secret(link[(link.IndexOf('=', StringComparison.Ordinal) + 1)..]), new Secret(Password)));
    }

    public async Task<string> Token(string name, int days, params Role[] roles)
    {
        var made = await Dispatcher.Send<MakeToken.Command, MakeToken.Answer>(new(NewId(), name, roles, days), Caller.CommandLine, CancellationToken.None);
        return made.Result.Token!.Reveal();
    }

    public static string NewId() => Guid.NewGuid().ToString("N");

    /// <summary>Everything the database files hold, as they lie on the disk.</summary>
    public string Disk()
    {
        var all = new System.Text.StringBuilder();
        foreach (var file in Directory.GetFiles(_folder))
        {
            using var stream = new FileStream(file, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
            using var reader = new StreamReader(stream, System.Text.Encoding.Latin1);
            all.Append(reader.ReadToEnd());
        }
        return all.ToString();
    }

    public async ValueTask DisposeAsync()
    {
        foreach (var app in _copies) await app.DisposeAsync();
        SqliteConnection.ClearAllPools();
        Directory.Delete(_folder, recursive: true);
    }

    private sealed class Keeper(ConcurrentQueue<string> log) : ILoggerProvider, ILogger
    {
        public ILogger CreateLogger(string categoryName) => this;
        public IDisposable? BeginScope<TState>(TState state) where TState : notnull => null;
        public bool IsEnabled(LogLevel logLevel) => true;
        public void Log<TState>(LogLevel logLevel, EventId eventId, TState state, Exception? exception, Func<TState, Exception?, string> formatter) =>
            log.Enqueue($"{formatter(state, exception)} {exception}");
        public void Dispose() { }
    }
}

/// <summary>The framework's hasher, and how often it was asked to compare.</summary>
public sealed class CountingHasher : IPasswordHasher<PersonRow>
{
    private readonly PasswordHasher<PersonRow> _hasher = new();
    private int _compared;

    public int Compared => _compared;

    public string HashPassword(PersonRow user, string password) => _hasher.HashPassword(user, password);

    public PasswordVerificationResult VerifyHashedPassword(PersonRow user, string hashedPassword, string providedPassword)
    {
        Interlocked.Increment(ref _compared);
        return _hasher.VerifyHashedPassword(user, hashedPassword, providedPassword);
    }
}

/// <summary>A browser without script: keeps cookies, reads pages, sends the forms that stand on them.</summary>
public sealed partial class Browser : IDisposable
{
    private readonly SocketsHttpHandler _handler = new() { AllowAutoRedirect = false, UseCookies = true };

    public Browser(Uri address) => Http = new HttpClient(_handler) { BaseAddress = address, Timeout = TimeSpan.FromSeconds(60) };

    public HttpClient Http { get; }

    public CookieContainer Cookies => _handler.CookieContainer;

    public Task<HttpResponseMessage> Get(string path) => Http.GetAsync(path);

    /// <summary>Loads the page, fills in the form with this action and sends it.</summary>
    public async Task<HttpResponseMessage> Submit(string page, string action, params (string Name, string Value)[] fields) =>
        await Http.PostAsync(action, new FormUrlEncodedContent(await Fill(page, action, fields)));

    /// <summary>What the form with this action on the page sends when it is filled in like that.</summary>
    public async Task<Dictionary<string, string>> Fill(string page, string action, params (string Name, string Value)[] fields)
    {
        var html = await Http.GetStringAsync(page);
        var form = FormOf(action).Match(html);
        Assert.True(form.Success, $"No form to {action} on {page}: {html}");
        var all = Hidden().Matches(form.Value).ToDictionary(match => WebUtility.HtmlDecode(match.Groups[1].Value), match => WebUtility.HtmlDecode(match.Groups[2].Value));
        foreach (var (name, value) in fields) all[name] = value;
        return all;
    }

    public Task<HttpResponseMessage> SignIn(string name, string password, string to = "/") =>
        Submit("/sign-in?to=" + Uri.EscapeDataString(to), "/sign-in", ("name", name), ("password", password));

    public async Task<(HttpStatusCode Status, JsonElement Answer)> Ask(string query, params (string Name, string Value)[] headers)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, "/graphql") { Content = System.Net.Http.Json.JsonContent.Create(new { query }) };
        await request.Content.LoadIntoBufferAsync();
        foreach (var (name, value) in headers) request.Headers.TryAddWithoutValidation(name, value);
        using var response = await Http.SendAsync(request);
        using var document = JsonDocument.Parse(await response.Content.ReadAsStringAsync());
        return (response.StatusCode, document.RootElement.Clone());
    }

    public static string Code(JsonElement answer) => answer.GetProperty("errors")[0].GetProperty("extensions").GetProperty("code").GetString()!;

    public void Dispose()
    {
        Http.Dispose();
        _handler.Dispose();
    }

    private static Regex FormOf(string action) => new($"<form[^>]*action=\"{Regex.Escape(action)}\"[^>]*>.*?</form>", RegexOptions.Singleline);

    [GeneratedRegex("<input type=\"hidden\" name=\"([^\"]*)\" value=\"([^\"]*)\"")]
    private static partial Regex Hidden();
}
