using System.CommandLine;
using System.Diagnostics;
using System.Globalization;
using Microsoft.AspNetCore.Builder;
using PartsLedger.Browser.Tests;
using PartsLedger.Hosting;

namespace PartsLedger.Benchmarks.Pages;

/// <summary>
/// How long the server takes for each page with the invented shop's data: from the first byte asked to the last answered, on this machine's own
/// network, one request at a time. Rounds go through all pages, so that all meet the same machine; beside each time stands how many times
/// that of the health page it is, which asks the database one thing.
/// </summary>
internal static class PageTimes
{
    private const string Health = "/health";

    /// <param name="args">Rounds (40); then the folder of the invented shop's files (import/demo).</param>
    public static async Task Run(string[] args)
    {
        var rounds = args.Length > 0 ? int.Parse(args[0], CultureInfo.InvariantCulture) : 40;
        var folder = Directory.CreateTempSubdirectory("partsledger-pages-");
        try
        {
            var database = $"sqlite:{Path.Combine(folder.FullName, "shop.db")}";
            var demo = args.Length > 1 ? args[1] : Path.Combine("import", "demo");
            if (await Commands.CommandLine.Run(["import", demo, "--db", database], new InvocationConfiguration { Output = TextWriter.Null }) != 0)
                throw new InvalidOperationException($"{demo} cannot be imported.");
            await using var app = ShopWeb.Build(DatabaseAddress.Parse(database).Result, "http://127.0.0.1:0");
            await app.WarmUp(CancellationToken.None);
            await app.StartAsync();
            await ManyPages.Begin(app);
            using var http = new HttpClient { BaseAddress = new Uri(app.Urls.First()) };
            var pages = ManyPages.All.Prepend(KeyValuePair.Create("health", Health)).ToList();
            var times = pages.ToDictionary(page => page.Key, _ => new List<double>());

            // Until the runtime has compiled everything for good.
            for (var round = -rounds; round < rounds; round++)
                foreach (var (name, address) in pages)
                {
                    var clock = Stopwatch.StartNew();
                    await http.GetByteArrayAsync(address);
                    if (round >= 0) times[name].Add(clock.Elapsed.TotalMilliseconds);
                }
            var health = Median(times["health"]);
            Console.WriteLine($"{"page",-18} {"least, ms",10} {"median, ms",10} {"of health",10}");
            foreach (var (name, taken) in times)
                Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{name,-18} {taken.Min(),10:0.0} {Median(taken),10:0.0} {Median(taken) / health,10:0.0}"));
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static double Median(IEnumerable<double> times)
    {
        var ordered = times.Order().ToList();
        return ordered[ordered.Count / 2];
    }
}
