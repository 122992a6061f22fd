using System.CommandLine;
using PartsLedger.Access;
using PartsLedger.Data;
using PartsLedger.Hosting;

namespace PartsLedger.Commands;

/// <summary><c>partsledger serve [--db CONNECTION] [--urls URLS]</c>: serves the pages and the API until it is stopped.</summary>
public static class ServeCommand
{
    /// <summary>The database or the address to listen on is of no use.</summary>
    public const int Unusable = 2;

    public static Command Make()
    {
        var db = new Option<string?>("--db")
        {
            Description = "The database: sqlite:PATH, sqlserver:CONNECTION STRING or postgresql:CONNECTION STRING. "
                + $"Default: {DatabaseAddress.Variable}, else a file in the user's data folder.",
        };
        var urls = new Option<string>("--urls")
        {
            Description = "Where to listen; several addresses are parted by semicolons.", DefaultValueFactory = _ => ShopWeb.DefaultUrls,
        };
        var command = new Command("serve", "Serves the pages, and GraphQL at /graphql, until it is stopped.") { db, urls };
        command.SetAction(async (call, cancellation) =>
        {
            var (output, error) = (call.InvocationConfiguration.Output, call.InvocationConfiguration.Error);
            var address = DatabaseAddress.Choose(call.GetValue(db));
            if (address.Succeeded) return await Serve(address.Result, call.GetValue(urls)!, output, error, cancellation);
            await error.WriteLineAsync(address.Refusal.ToString());
            return Unusable;
        });
        return command;
    }

    /// <summary>Opens the database, serves until <paramref name="cancellation"/> or a signal, and lets running requests end.</summary>
    /// <returns>The exit status: 0 after serving, 2 with one sentence when it could not begin.</returns>
    public static async Task<int> Serve(DatabaseAddress address, string urls, TextWriter output, TextWriter error, CancellationToken cancellation)
    {
        var settings = ServeSettings.Read(Environment.GetEnvironmentVariable);
        if (!settings.Succeeded)
        {
            await error.WriteLineAsync(settings.Refusal.ToString());
            return Unusable;
        }
        await using var app = ShopWeb.Build(address, urls, settings: settings.Result);
        await using (var scope = app.Services.CreateAsyncScope())
        {
            var opened = await DatabaseOpening.Open(scope.ServiceProvider.GetRequiredService<LedgerContext>(), cancellation);
            if (!opened.Succeeded)
            {
                await error.WriteLineAsync(opened.Refusal.ToString());
                return Unusable;
            }
        }
        await app.WarmUp(cancellation);
        try
        {
            await app.StartAsync(cancellation);
        }
        catch (Exception problem) when (problem is IOException or System.Net.Sockets.SocketException or FormatException or InvalidOperationException)
        {
            await error.WriteLineAsync($"Cannot listen on {urls}: {problem.GetBaseException().Message.ReplaceLineEndings(" ")}");
            return Unusable;
        }
        await output.WriteLineAsync($"Serving on {string.Join(", ", app.Urls)}; GraphQL at /graphql. Stop with Ctrl+C.");
        if (await app.Services.GetRequiredService<Dispatcher>().Send<OfferSetUp.Command, OfferSetUp.Answer>(
            new(Guid.NewGuid().ToString("N")), Caller.CommandLine, cancellation) is { Succeeded: true, Result.Link: { } link })
            await output.WriteLineAsync("The shop has no people yet: it answers whoever is at this machine, and nobody else. To close the door, open this link; "
                + $"it is good once and for an hour:\n  {app.Urls.First()}{link.Reveal()}");
        await app.WaitForShutdownAsync(cancellation);
        return 0;
    }
}
