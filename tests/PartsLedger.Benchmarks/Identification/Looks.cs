using System.Globalization;
using Microsoft.Extensions.DependencyInjection;
using PartsLedger.Benchmarks.Stock;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Identification;
using PartsLedger.Domain.Kits;
using PartsLedger.Exchange;
using PartsLedger.Hosting;
using PartsLedger.Identification;

namespace PartsLedger.Benchmarks.Identification;

/// <summary>
/// How many looks, and how long, it takes to find the right variant and the right kit in the invented shop: by the plan, against asking in the
/// guide's order. Once with the whole guide and once for pumps whose tag is gone.
/// </summary>
internal static class Looks
{
    private const string Tag = "tag-letter";

    public static async Task Run()
    {
        await foreach (var shop in BenchmarkShop.All())
        {
            var imported = await shop.Services.GetRequiredService<FolderImporter>().Import(DemoFolder(), new ImportOptions(), Caller.CommandLine, CancellationToken.None);
            if (!imported.Succeeded) throw new InvalidOperationException(imported.Refusal.ToString());
            await using var scope = shop.Services.CreateAsyncScope();
            var (pumps, kits) = (scope.ServiceProvider.GetRequiredService<Pumps>(), scope.ServiceProvider.GetRequiredService<KitClasses>());
            var (all, guide) = (await pumps.Read(null, CancellationToken.None), await pumps.Guide(CancellationToken.None));
            foreach (var features in new[] { guide, [.. guide.Where(feature => feature.Name != Tag)] })
            {
                Console.WriteLine($"{all.Count} variants, {features.Count} features{(features.Count < guide.Count ? ", the tag is gone" : "")}");
                Show("the variant", [.. all.Select(pump => pump.Candidate(null))], features);
                foreach (var job in Enum.GetValues<JobScope>())
                {
                    var classes = (await kits.Of(all, job, CancellationToken.None)).Result;
                    Show($"the kit, {Words.Of(job)}", [.. all.Select(pump => pump.Candidate(classes[pump.Id]))], features);
                }
            }
            // Everything here is the same on every database.
            return;
        }
    }

    private static void Show(string what, IReadOnlyList<Candidate> candidates, IReadOnlyList<Feature> features)
    {
        var plan = QuestionPlanning.Plan(candidates, features);
        var guide = GuideOrder.Of(candidates, features);
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"| {what} | {plan.ExpectedLooks:0.00} | {plan.ExpectedSeconds:0.0} s | {plan.ExpectedTeardowns:0.00} | {guide.ExpectedLooks:0.00} | {guide.ExpectedSeconds:0.0} s | {guide.AllLooks} | {guide.AllSeconds} s | {plan.Status}{(plan.AlwaysSettles ? "" : ", not always settled")} |"));
    }

    internal static string DemoFolder()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (Directory.Exists(Path.Combine(folder.FullName, "import", "demo"))) return Path.Combine(folder.FullName, "import", "demo");
        throw new DirectoryNotFoundException("import/demo is not above the program.");
    }
}
