using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;
using Microsoft.AspNetCore.Builder;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using PartsLedger.Data;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;

namespace PartsLedger.Integration.Tests.Api;

/// <summary>The program's web application on a free port of this machine, over a small shop in a database of its own.</summary>
public sealed class ShopApi : IAsyncLifetime
{
    /// <summary>Short enough for a test of the time-out, long enough for any honest question here on a busy machine.</summary>
    public static readonly TimeSpan Time = TimeSpan.FromSeconds(15);

    private readonly string _folder = Directory.CreateTempSubdirectory("partsledger-api-").FullName;
    private WebApplication? _app;

    public DatabaseWatch Watch { get; } = new();

    public HttpClient Http { get; private set; } = new();

    public WebApplication App => _app ?? throw new InvalidOperationException("The application is not ready.");

    public async ValueTask InitializeAsync()
    {
        var address = DatabaseAddress.Parse($"sqlite:{Path.Combine(_folder, "shop.db")}").Result;
        _app = ShopWeb.Build(address, "http://127.0.0.1:0", new GraphQlLimits { Time = Time },
            services => services.ConfigureDbContext<LedgerContext>(options => options.AddInterceptors(Watch)));
        await using (var scope = _app.Services.CreateAsyncScope())
        {
            var db = scope.ServiceProvider.GetRequiredService<LedgerContext>();
            var opened = await DatabaseOpening.Open(db, CancellationToken.None);
            Assert.True(opened.Succeeded, opened.Refusal?.ToString());
            await SmallShop.Fill(db);
        }
        await _app.StartAsync();
        Http = new HttpClient(new SocketsHttpHandler { Expect100ContinueTimeout = TimeSpan.FromSeconds(60) })
        {
            BaseAddress = new Uri(_app.Urls.First()), Timeout = TimeSpan.FromSeconds(60),
        };
    }

    public async ValueTask DisposeAsync()
    {
        Http.Dispose();
        if (_app is not null) await _app.DisposeAsync();
        SqliteConnection.ClearAllPools();
        Directory.Delete(_folder, recursive: true);
    }

    /// <summary>Asks, and expects an answer without errors: its <c>data</c>.</summary>
    public async Task<JsonElement> Ask(string query, object? variables = null)
    {
        var answer = await Send(query, variables);
        Assert.False(answer.TryGetProperty("errors", out var errors), errors.ToString());
        return answer.GetProperty("data");
    }

    /// <summary>Asks, and expects the one error.</summary>
    public async Task<(string Code, string Message)> Refused(string query, object? variables = null)
    {
        var answer = await Send(query, variables);
        Assert.True(answer.TryGetProperty("errors", out var errors), answer.ToString());
        var error = Assert.Single(errors.EnumerateArray());
        return (error.GetProperty("extensions").GetProperty("code").GetString()!, error.GetProperty("message").GetString()!);
    }

    /// <summary>Asks by POST and takes plain JSON: the whole answer.</summary>
    public async Task<JsonElement> Send(string query, object? variables = null)
    {
        using var response = await Post(JsonSerializer.Serialize(new { query, variables }));
        return await Read(response);
    }

    public async Task<HttpResponseMessage> Post(string body, string type = "application/json", string? accept = null, params (string Name, string Value)[] headers)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, "/graphql") { Content = new ByteArrayContent(Encoding.UTF8.GetBytes(body)) };
        if (type.Length > 0) request.Content.Headers.ContentType = MediaTypeHeaderValue.Parse(type);
        if (accept is not null) request.Headers.TryAddWithoutValidation("Accept", accept);
        foreach (var (name, value) in headers) request.Headers.Add(name, value);
        return await Http.SendAsync(request);
    }

    public static async Task<JsonElement> Read(HttpResponseMessage response)
    {
        using var document = JsonDocument.Parse(await response.Content.ReadAsStreamAsync());
        return document.RootElement.Clone();
    }
}

[CollectionDefinition(Name)]
public sealed class ApiTests : ICollectionFixture<ShopApi>
{
    public const string Name = "API";
}
