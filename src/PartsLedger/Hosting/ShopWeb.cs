using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.DataProtection.KeyManagement;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using PartsLedger.Access;
using PartsLedger.Data;
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
    public static WebApplication Build(
        DatabaseAddress address, string urls = DefaultUrls, GraphQlLimits? limits = null, Action<IServiceCollection>? also = null)
    {
        // The program's own folder, not the folder it happens to be started from: a stray settings file there must not change it.
        var builder = WebApplication.CreateBuilder(new WebApplicationOptions { ContentRootPath = AppContext.BaseDirectory });
        builder.Logging.SetMinimumLevel(LogLevel.Warning).AddFilter("Microsoft.EntityFrameworkCore", LogLevel.Critical)
            // It warns that keys are kept unencrypted; see docs/access.md.
            .AddFilter("Microsoft.AspNetCore.DataProtection", LogLevel.Error);
        builder.WebHost.UseUrls(urls).ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            kestrel.Limits.MaxRequestBodySize = (limits ??= new()).BodyBytes;
            kestrel.Limits.RequestHeadersTimeout = TimeSpan.FromSeconds(15);
        });
        builder.Services.Configure<HostOptions>(options => options.ShutdownTimeout = ShutdownTime);
        builder.Services.AddPartsLedger(address);
        builder.Services.AddShopGraphQl(limits ?? new());
        builder.Services.AddRazorComponents();
        builder.Services.AddShopForms();
        builder.Services.AddSessions();
        builder.Services.AddSingleton<ThisMachine>();
        builder.Services.AddHostedService<AuditSealing>();
        // All copies of the program over one database are one shop to a browser.
        builder.Services.AddDataProtection().SetApplicationName("PartsLedger");
        builder.Services.AddSingleton<IConfigureOptions<KeyManagementOptions>>(services => new ConfigureOptions<KeyManagementOptions>(
            options => options.XmlRepository = new KeysInDatabase(services.GetRequiredService<IServiceScopeFactory>())));
        also?.Invoke(builder.Services);

        var app = builder.Build();
        var schema = app.Services.PrepareGraphQl();
        // The door knows the address that is asked for, so that it can leave open what says that it is open.
        app.UseRouting();
        app.UseMiddleware<Door>();
        app.Map("/graphql", (HttpContext http, GraphQlEndpoint endpoint) => endpoint.Serve(http));
        app.MapGet("/graphql/schema.graphql", () => Results.Text(schema.Text(), "text/plain; charset=utf-8"));
        app.MapFitPlots();
        app.MapBenchPlots();
        app.MapJobPages();
        app.MapRecipePaper();
        app.MapGet("/health", Health).AllowAnonymous();
        app.MapGet("/health/ledger", HealthOfLedger);
        app.MapOfficePages();
        app.MapShopPages();
        app.MapCounterPages();
        app.MapWarehousePages();
        app.MapBenchPages();
        app.MapPullPages();
        app.MapLabelPages();
        app.MapAccessPages();
        return app;
    }

    /// <summary>Asks one small question, so that the first real one does not wait for what is made only once.</summary>
    public static Task WarmUp(this WebApplication app, CancellationToken cancellation) =>
        app.Services.GetRequiredService<GraphQlEndpoint>().WarmUp(cancellation);

    private static async Task<IResult> Health(LedgerContext db, CancellationToken cancellation)
    {
        try
        {
            await db.PressureClasses.Select(row => row.Id).OrderBy(id => id).FirstOrDefaultAsync(cancellation);
            return Results.Text("ok\n");
        }
        catch (Exception problem) when (problem is System.Data.Common.DbException or InvalidOperationException or TimeoutException)
        {
            return Results.Text("The database does not answer.\n", statusCode: StatusCodes.Status503ServiceUnavailable);
        }
    }

    private static async Task<IResult> HealthOfLedger(LedgerHealth health, Asking asking, CancellationToken cancellation)
    {
        try
        {
            var asked = await health.Ask(asking.Caller, cancellation);
            if (!asked.Succeeded) return Results.Text($"{asked.Refusal}\n", statusCode: StatusCodes.Status403Forbidden);
            var (answer, at) = asked.Result;
            return Results.Json(new { answer.Sound, At = at, answer.UpTo, answer.Counted, answer.Breaches }, ShopJson.Options,
                statusCode: answer.Sound ? StatusCodes.Status200OK : StatusCodes.Status503ServiceUnavailable);
        }
        catch (Exception problem) when (problem is System.Data.Common.DbException or InvalidOperationException or TimeoutException)
        {
            return Results.Text("The database does not answer.\n", statusCode: StatusCodes.Status503ServiceUnavailable);
        }
    }
}
