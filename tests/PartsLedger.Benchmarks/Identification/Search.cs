using System.Diagnostics;
using System.Globalization;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Benchmarks.Stock;
using PartsLedger.Hosting;
using PartsLedger.Identification;

namespace PartsLedger.Benchmarks.Identification;

/// <summary>
/// What a search costs among so many numbers and so many machines, as milliseconds and as a share of the smallest size: a whole number, one
/// with a slip, and a machine's name letter by letter as somebody types it.
/// </summary>
internal static class Search
{
    private const int Repeats = 40;

    /// <param name="args">Sizes (10,000 100,000 1,000,000).</param>
    public static async Task Run(string[] args)
    {
        int[] sizes = args.Length > 0 ? [.. args.Select(arg => int.Parse(arg, CultureInfo.InvariantCulture))] : [10_000, 100_000, 1_000_000];
        var first = new Dictionary<string, double>();
        foreach (var size in sizes)
            await foreach (var shop in BenchmarkShop.All())
            {
                await Fill(shop, size);
                var random = new Random(17);
                await Measure(shop, size, "whole number", first, () => Number(random.Next(size)), Numbers);
                await Measure(shop, size, "number with a slip", first, () => Slipped(Number(random.Next(size)), random), Numbers);
                await Measure(shop, size, "machine, whole", first, () => Machine(random.Next(size)), text => Machines(shop, text, isTyping: false));
                await Measure(shop, size, "machine with a slip", first, () => Slipped(Machine(random.Next(size)), random), text => Machines(shop, text, isTyping: false));
                foreach (var letters in new[] { 1, 2, 3, 5, 8, 11 })
                    await Measure(shop, size, $"typing, {letters} letters", first, () => Machine(random.Next(size))[..letters], text => Machines(shop, text, isTyping: true));

                Task<int> Numbers(string text) => SearchNumber(shop, text);
            }
    }

    private static async Task Measure(
        BenchmarkShop shop, int size, string what, Dictionary<string, double> first, Func<string> next, Func<string, Task<int>> ask)
    {
        for (var warm = 0; warm < 5; warm++) await ask(next());
        var times = new List<double>();
        var found = 0;
        for (var at = 0; at < Repeats; at++)
        {
            var text = next();
            var clock = Stopwatch.StartNew();
            found += await ask(text);
            times.Add(clock.Elapsed.TotalMilliseconds);
        }
        times.Sort();
        var key = $"{shop.Address.Database.Scheme} {what}";
        first.TryAdd(key, times[Repeats / 2]);
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"| {shop.Address.Database.Scheme} | {size} | {what} | {times[Repeats / 2]:0.0} ms | {times[Repeats * 95 / 100]:0.0} ms | {times[Repeats / 2] / first[key]:0.0} | {found / (double)Repeats:0.0} |"));
    }

    private static async Task<int> SearchNumber(BenchmarkShop shop, string text)
    {
        var outcome = await shop.Dispatcher.Ask<SearchNumbers.Query, Page<SearchNumbers.Hit>>(new(text, new PageRequest(25, null)), Caller.CommandLine, CancellationToken.None);
        return outcome.Succeeded ? outcome.Result.Entries.Count : throw new InvalidOperationException(outcome.Refusal.ToString());
    }

    private static async Task<int> Machines(BenchmarkShop shop, string text, bool isTyping)
    {
        var outcome = await shop.Dispatcher.Ask<SearchMachines.Query, SearchMachines.Answer>(new(text, isTyping), Caller.CommandLine, CancellationToken.None);
        return outcome.Succeeded ? outcome.Result.Hits.Count : throw new InvalidOperationException(outcome.Refusal.ToString());
    }

    private static string Slipped(string text, Random random)
    {
        var at = random.Next(1, 5);
        return text.Remove(at, 1);
    }

    // The same in SQL below: names of three syllables, 200 makes, models of a name and a number.
    private static string Number(int i) => string.Create(CultureInfo.InvariantCulture, $"0{10_000_000L + i * 7L}");

    private static string Machine(int i) => $"{Name(i % 200 * 2557)} {Name(i % 40_009 * 7919)} {i % 89 + 10}";

    private static string Name(long k) => $"{Syllable(k)}{Syllable(k / 80)}{Syllable(k / 6_400)}";

    private static string Syllable(long k) => $"{"BCDFGHKLMNPRSTVZ"[(int)(k % 16)]}{"AEIOU"[(int)(k / 16 % 5)]}";

#pragma warning disable EF1002 // The statements are made of constants here; nothing typed by anybody goes into them.
    /// <summary>Written straight into the tables: no import could make a million in a minute. The words are those of the importer.</summary>
    private static Task<bool> Fill(BenchmarkShop shop, int size) => shop.With(async db =>
    {
        db.Database.SetCommandTimeout(TimeSpan.FromHours(1));
        const string Numbers = "with recursive n(i) as (select 0 union all select i + 1 from n where i + 1 < {0})";
        static string Syllable(string k) => $"substr('BCDFGHKLMNPRSTVZ', cast(1 + ({k}) % 16 as int), 1) || substr('AEIOU', cast(1 + ({k}) / 16 % 5 as int), 1)";
        static string Name(string k) => $"{Syllable(k)} || {Syllable($"({k}) / 80")} || {Syllable($"({k}) / 6400")}";
        var (make, model) = (Name("i % 200 * 2557"), Name("i % 40009 * 7919"));
        await using var transaction = await db.Database.BeginTransactionAsync();
        await db.Database.ExecuteSqlRawAsync($$"""
            insert into parts (number, number_key, folded_key, name, kind, service, tracking, unit, cost, supplied)
            {{Numbers}} select '0' || (10000000 + i * 7), '0' || (10000000 + i * 7), '' || (10000000 + i * 7), 'Part', 'seal', 'separate', 'bulk', 'pc', 0, {{(shop.Address.Database.Scheme == "sqlite" ? "1" : "true")}} from n
            """, size);
        await db.Database.ExecuteSqlRawAsync("insert into pressure_classes (code, code_key, name, relief, minus, plus) values ('P', 'P', 'P', 1, 0, 0)");
        await db.Database.ExecuteSqlRawAsync("insert into families (code, code_key, name, valve_fit) values ('F', 'F', 'F', 'interchangeable')");
        await db.Database.ExecuteSqlRawAsync("insert into variants (code, code_key, family_id, pressure_class_id) select 'V', 'V', families.id, pressure_classes.id from families, pressure_classes");
        await db.Database.ExecuteSqlRawAsync($$"""
            insert into applications (make, make_key, model, model_key, year_from, year_to, option, option_key, variant_id)
            {{Numbers}} select {{make}}, {{make}}, ({{model}}) || ' ' || (i % 89 + 10), ({{model}}) || ' ' || (i % 89 + 10), 1960 + i % 61, 1965 + i % 61, '' || i, '' || i, (select id from variants) from n
            """, size);
        await db.Database.ExecuteSqlRawAsync("create temporary table bench_words (application_id int, word varchar(200))");
        foreach (var word in new[] { "make", "substr(model, 1, 6)", "substr(model, 8)", "make || substr(model, 1, 6)", "substr(model, 1, 6) || substr(model, 8)" })
            await db.Database.ExecuteSqlRawAsync($"insert into bench_words select id, {word} from applications");
        await db.Database.ExecuteSqlRawAsync("insert into machine_words (word, beginning) select distinct word, substr(word, 1, 2) from bench_words order by 1");
        await db.Database.ExecuteSqlRawAsync("insert into application_words (word_id, application_id) select distinct machine_words.id, application_id from bench_words join machine_words on machine_words.word = bench_words.word");
        await db.Database.ExecuteSqlRawAsync("drop table bench_words");
        await transaction.CommitAsync();
        if (shop.Address.Database.Scheme == "postgresql") await db.Database.ExecuteSqlRawAsync("analyze");
        return true;
    });
#pragma warning restore EF1002
}
