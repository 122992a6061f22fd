using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.DataProtection.KeyManagement;
using Microsoft.AspNetCore.HttpOverrides;
using Microsoft.Extensions.Options;
using PartsLedger.Access;
using PartsLedger.Exchange.Labels;
using PartsLedger.Fit;
using PartsLedger.Hosting.GraphQl;
using PartsLedger.Hosting.Pages;
using PartsLedger.Identification;
using PartsLedger.Jobs;
using PartsLedger.Kits;
using PartsLedger.Planning;
using PartsLedger.Stock;
using PartsLedger.Testing;

namespace PartsLedger.Hosting;

/// <summary>The web application: the API, its schema, health checks and the pages.</summary>
public static class ShopWeb
{
    public const string DefaultUrls = "http://127.0.0.1:5080";

    /// <summary>How long running requests get to end when the program is asked to stop.</summary>
    public static readonly TimeSpan ShutdownTime = TimeSpan.FromSeconds(10);

    /// <summary>Builds the application on one database, which must have been opened (see <see cref="DatabaseOpening"/>) before it is started.</summary>
    /// <param name="address">Which database.</param>
    /// <param name="urls">Where to listen, several parted by semicolons; port 0 takes a free one.</param>
    /// <param name="limits">What one GraphQL request may cost; the usual limits when null.</param>
    /// <param name="also">What a test puts beside or in place of the program's own services.</param>
    /// <param name="settings">How it is served; as usual when null.</param>
    public static WebApplication Build(
        DatabaseAddress address, string urls = DefaultUrls, GraphQlLimits? limits = null, Action<IServiceCollection>? also = null, ServeSettings? settings = null)
    {
        settings ??= new();
        limits ??= new();

        // The program's own folder, not the folder it happens to be started from: a stray settings file there must not change it.
        var builder = WebApplication.CreateBuilder(new WebApplicationOptions { ContentRootPath = AppContext.BaseDirectory });
        builder.Logging.SetMinimumLevel(LogLevel.Warning).AddFilter("Microsoft.EntityFrameworkCore", LogLevel.Critical)
            // It warns that keys are kept unencrypted; see docs/access.md.
            .AddFilter("Microsoft.AspNetCore.DataProtection", LogLevel.Error);
        if (settings.JsonLog) builder.Logging.ClearProviders().AddJsonConsole(json => json.UseUtcTimestamp = true);
        builder.WebHost.UseUrls(urls).ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            kestrel.Limits.MaxRequestBodySize = limits.BodyBytes;
            // Whoever sends or reads byte by byte is not waited for: nobody's connection is so slow, and each holds memory.
            kestrel.Limits.RequestHeadersTimeout = TimeSpan.FromSeconds(15);
            kestrel.Limits.MinRequestBodyDataRate = new(bytesPerSecond: 240, gracePeriod: TimeSpan.FromSeconds(5));
            kestrel.Limits.MinResponseDataRate = new(bytesPerSecond: 240, gracePeriod: TimeSpan.FromSeconds(5));
            kestrel.Limits.KeepAliveTimeout = TimeSpan.FromMinutes(2);
        });
        builder.Services.Configure<HostOptions>(options => options.ShutdownTimeout = ShutdownTime);
        builder.Services.AddPartsLedger(address);
        builder.Services.AddShopGraphQl(limits);
        builder.Services.AddRazorComponents();
        builder.Services.AddShopForms();
        builder.Services.AddSessions();
        settings.SignInService?.AddTo(builder.Services);
        builder.Services.AddSingleton(settings);
        Rates.AddTo(builder.Services, settings);
        builder.Services.AddAnswerTimes(settings);
        builder.Services.AddTelemetry();
        builder.Services.AddSingleton<ThisMachine>();
        builder.Services.AddHostedService<AuditSealing>();
        // All copies of the program over one database are one shop to a browser.
        builder.Services.AddDataProtection().SetApplicationName("PartsLedger");
        builder.Services.AddSingleton<IConfigureOptions<KeyManagementOptions>>(services => new ConfigureOptions<KeyManagementOptions>(
            options => options.XmlRepository = new KeysInDatabase(services.GetRequiredService<IServiceScopeFactory>())));
        also?.Invoke(builder.Services);

        var app = builder.Build();
        var schema = app.Services.PrepareGraphQl();
        if (settings.Proxies.Count > 0) app.UseForwardedHeaders(FromProxies(settings));
        app.UseMiddleware<Shield>();
        // The door knows the address that is asked for, so that it can leave open what says that it is open.
        app.UseRouting();
        app.UseRequestTimeouts();
        app.UseMiddleware<Door>();
        app.UseRateLimiter();
        // Takes the sign-in service's answer. The door has said by then who comes from where; sessions it reads itself.
        app.UseAuthentication();
        app.Map("/graphql", (HttpContext http, GraphQlEndpoint endpoint) => endpoint.Serve(http));
        app.MapGet("/graphql/schema.graphql", (CurrentCaller current) => settings.TellsSchemaTo(current.Caller)
            ? Results.Text(schema.Text(), "text/plain; charset=utf-8") : Results.NotFound());
        app.MapFitPlots();
        app.MapBenchPlots();
        app.MapJobPages();
        app.MapRecipePaper();
        app.MapHealth();
        app.MapOfficePages();
        app.MapShopPages();
        app.MapCounterPages();
        app.MapWarehousePages();
        app.MapBenchPages();
        app.MapPullPages();
        app.MapLabelPages();
        app.MapAccessPages(settings);
        app.MapAccessOfficePages();
        if (settings.Schema != SchemaTold.ToNobody) app.MapExplorer();
        return app;
    }

    /// <summary>Asks one small question, so that the first real one does not wait for what is made only once.</summary>
    public static Task WarmUp(this WebApplication app, CancellationToken cancellation) =>
        app.Services.GetRequiredService<GraphQlEndpoint>().WarmUp(cancellation);

    /// <summary>The last proxy is believed about who asked it, and by https or not; what it was told itself is not.</summary>
    private static ForwardedHeadersOptions FromProxies(ServeSettings settings)
    {
        var options = new ForwardedHeadersOptions { ForwardedHeaders = ForwardedHeaders.XForwardedFor | ForwardedHeaders.XForwardedProto };
        options.KnownProxies.Clear();
        options.KnownIPNetworks.Clear();
        foreach (var proxy in settings.Proxies) options.KnownIPNetworks.Add(proxy);
        return options;
    }
}
