using System.Collections.Concurrent;
using System.Globalization;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;
using Xunit;

namespace PartsLedger.Domain.Tests.Kits.Reference;

/// <summary>
/// The kit answer against the reference on random catalogues. PARTSLEDGER_KIT_CASES sets how many (2,000 unless set); a failure prints
/// its seed, and PARTSLEDGER_SEED replays that one alone.
/// </summary>
public sealed class RandomKitTests
{
    private const int Shown = 3;

    [Fact]
    public void The_kit_answer_is_sound_and_as_good_as_the_reference_on_random_catalogues() => ShouldHold(Seeds(1), Fault);

    [Fact]
    public void The_order_in_which_a_catalogue_is_loaded_does_not_change_the_answer() => ShouldHold(Seeds(4), OrderFault);

    [Fact]
    public void Each_way_of_helping_is_as_good_as_the_reference_on_random_catalogues() => ShouldHold(Seeds(8), WayFault);

    private static IEnumerable<int> Seeds(int share) => Setting("PARTSLEDGER_SEED") is { } seed
        ? [seed]
        : Enumerable.Range(1, Math.Max(1, (Setting("PARTSLEDGER_KIT_CASES") ?? 2000) / share));

    private static int? Setting(string variable) => Environment.GetEnvironmentVariable(variable) is { Length: > 0 } text
        ? int.Parse(text, CultureInfo.InvariantCulture)
        : null;

    private static void ShouldHold(IEnumerable<int> seeds, Func<KitCatalogue, KitQuestion, CaseFault?> find)
    {
        var faults = new ConcurrentDictionary<int, CaseFault>();
        Parallel.ForEach(seeds, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount }, seed =>
        {
            var (catalogue, question) = RandomCatalogue.Of(seed);
            if (InBothPreferences(find, catalogue, question) is { } fault) faults[seed] = fault;
        });
        if (faults.IsEmpty) return;
        var report = faults.OrderBy(fault => fault.Key).Take(Shown).Select(fault => Report(fault.Key, fault.Value, find));
        Assert.Fail($"{faults.Count} seeds fail: {string.Join(", ", faults.Keys.Order().Take(20))}.\n{string.Join("\n", report)}");
    }

    private static string Report(int seed, CaseFault fault, Func<KitCatalogue, KitQuestion, CaseFault?> find)
    {
        var (catalogue, question) = RandomCatalogue.Of(seed);
        var small = SmallestCatalogue.Of(
            catalogue, question, (smaller, asked) => InBothPreferences(find, smaller, asked)?.Kind == fault.Kind);
        return $"PARTSLEDGER_SEED={seed}: {fault.Text}\nThe smallest catalogue that shows it:\n{CatalogueText.Of(small.Catalogue, small.Question)}"
            + InBothPreferences(find, small.Catalogue, small.Question)?.Text;
    }

    private static CaseFault? InBothPreferences(
        Func<KitCatalogue, KitQuestion, CaseFault?> find, KitCatalogue catalogue, KitQuestion question)
    {
        foreach (var prefer in Enum.GetValues<KitPreference>())
        {
            try
            {
                if (find(catalogue, question with { Prefer = prefer }) is { } fault) return fault with { Text = $"prefer {prefer}: {fault.Text}" };
            }
#pragma warning disable CA1031 // Whatever the program throws is what the seed is to be printed for.
            catch (Exception thrown)
#pragma warning restore CA1031
            {
                return new($"thrown {thrown.GetType().Name}", $"prefer {prefer}: {thrown}");
            }
        }
        return null;
    }

    private static CaseFault? Fault(KitCatalogue catalogue, KitQuestion question)
    {
        var outcome = KitAnswering.Answer(catalogue, question, TestContext.Current.CancellationToken);
        if (!outcome.Succeeded) return new("refused", outcome.Refusal.ToString());
        var (found, best) = (KitObjective.Of(outcome.Result), ReferenceKitSolver.Best(catalogue, question));
        if (found != best) return new("objective", $"the program answers {found},\nthe reference {best}\n{CatalogueText.Of(outcome.Result)}");
        var breaches = KitAnswerChecker.Breaches(catalogue, question, outcome.Result);
        return breaches.Count == 0 ? null : new("breach", $"{string.Join("\n", breaches)}\n{CatalogueText.Of(outcome.Result)}");
    }

    private static CaseFault? WayFault(KitCatalogue catalogue, KitQuestion question)
    {
        var assemblies = catalogue.Parts.Values.Where(part => part.Kind == PartKind.Assembly).ToList();
        var withKit = KitObjective.Of(KitWays.WithKit(catalogue, question, TestContext.Current.CancellationToken).Result);
        var none = ReferenceKitSolver.Best(catalogue, question, assemblies.ToDictionary(part => part.Number.Text, _ => 0L));
        if (withKit != none) return new("with kit", $"with kits the program answers {withKit},\nthe reference {none}");

        // What every best list with this assembly paid for has in it must be found; what only some have need not be.
        var ways = assemblies.ConvertAll(part => (part.Cost.TenThousandths, Number: part.Number.Text,
            With: ReferenceKitSolver.Best(catalogue, question, new Dictionary<string, long> { [part.Number.Text] = 1 }),
            Without: ReferenceKitSolver.Best(catalogue, question, new Dictionary<string, long> { [part.Number.Text] = 0 })!));
        IComparable Rank(KitObjective one) => question.Prefer == KitPreference.Cost
            ? (one.UncoveredThousandths, one.CostTenThousandths, one.Short, one.SurplusThousandths, one.Lines)
            : (one.UncoveredThousandths, one.Short, one.CostTenThousandths, one.SurplusThousandths, one.Lines);
        var needed = ways.Where(way => way.With is { } with
            && Rank(with with { CostTenThousandths = with.CostTenThousandths - way.TenThousandths }).CompareTo(Rank(way.Without)) < 0).ToList();

        var found = KitWays.WithAssembly(catalogue, question, TestContext.Current.CancellationToken);
        if (!found.Succeeded) return needed.Count == 0 ? null : new("no assembly", $"refused, but {needed[0].Number} serves: {needed[0].With}");
        var answer = KitObjective.Of(found.Result);
        if (!ways.Exists(way => way.With == answer && found.Result.Lines.Any(line => line.Part == way.Number)))
            return new("with assembly", $"the program answers {answer},\nthe reference {string.Join(", ", ways.Select(way => $"{way.Number}: {way.With}"))}");
        return needed.Find(way => Rank(way.With!).CompareTo(Rank(answer)) < 0) is { Number: { } better }
            ? new("better assembly", $"the program answers {answer}, but {better} does better\n{CatalogueText.Of(found.Result)}") : null;
    }

    private static CaseFault? OrderFault(KitCatalogue catalogue, KitQuestion question)
    {
        var turned = catalogue with
        {
            Variant = catalogue.Variant with { Positions = [.. catalogue.Variant.Positions.Reverse()] },
            Parts = catalogue.Parts.Reverse().ToDictionary(),
            Contents = [.. catalogue.Contents.Reverse()],
            Supersessions = [.. catalogue.Supersessions.Reverse()],
            Pairs = [.. catalogue.Pairs.Reverse()],
        };
        var (one, other) = (Written(catalogue, question), Written(turned, question with { Worn = [.. question.Worn.Reverse()] }));
        return one == other ? null : new("order", $"loaded in one order:\n{one}and in the other:\n{other}");
    }

    private static string Written(KitCatalogue catalogue, KitQuestion question) =>
        CatalogueText.Of(KitAnswering.Answer(catalogue, question, TestContext.Current.CancellationToken).Result);

    /// <param name="Kind">What kind of fault it is, so that a smaller catalogue is one that shows the same.</param>
    private sealed record CaseFault(string Kind, string Text);
}
