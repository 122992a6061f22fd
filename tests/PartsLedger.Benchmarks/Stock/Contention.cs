using System.Diagnostics;
using System.Globalization;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Domain.Measures;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Benchmarks.Stock;

/// <summary>
/// Callers who all pull from the same 20 parts until nothing is left, against hand-written transactions on the same database in the same
/// run: one of the three statements that no pull can do without, and one that leaves every row behind that the program's pull leaves (see
/// <see cref="HandWritten"/>). Rounds alternate, so that all meet the same machine.
/// </summary>
internal static class Contention
{
    private const int Parts = 20;

    /// <param name="args">Callers (8), pieces of each part in a round (50), rounds (4).</param>
    public static async Task Run(string[] args)
    {
        var callers = Number(args, 0, 8);
        var pieces = Number(args, 1, 50);
        var rounds = Number(args, 2, 4);
        Pull[] ways = [ByProgram, HandWritten.SameRows, HandWritten.ThreeStatements];
        await foreach (var shop in BenchmarkShop.All())
        {
            // Until the runtime has compiled each way for good.
            foreach (var way in ways) await Round(shop, callers, 100, way);
            var seconds = new double[ways.Length];
            for (var round = 0; round < rounds; round++)
                for (var way = 0; way < ways.Length; way++)
                    seconds[way] += await Round(shop, callers, pieces, ways[way]);
            var pulls = Parts * pieces * rounds;
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"""
                {shop.Address.Database.Scheme}: {callers} callers, {pulls} pulls each way: program {pulls / seconds[0]:0} a second
                    by hand, the same rows    {pulls / seconds[1],6:0}  ratio {seconds[1] / seconds[0]:0.00}
                    by hand, three statements {pulls / seconds[2],6:0}  ratio {seconds[2] / seconds[0]:0.00}
                """));
        }
    }

    private delegate Task<bool> Pull(BenchmarkShop shop, (int Id, string Number) part);

    /// <returns>Seconds until every piece was pulled and every caller has been told there are no more.</returns>
    private static async Task<double> Round(BenchmarkShop shop, int callers, int pieces, Pull pull)
    {
        var parts = await shop.MakeParts(Parts);
        foreach (var (_, number) in parts)
        {
            var received = await shop.Dispatcher.Send<ReceiveStock.Command, StockPosted>(
                new(Guid.NewGuid().ToString(), "DN 1", [new(number, "A-01", Quantity.FromWhole(pieces))]), Caller.CommandLine, CancellationToken.None);
            if (!received.Succeeded) throw new InvalidOperationException(received.Refusal.ToString());
        }
        var clock = Stopwatch.StartNew();
        var pulled = await Task.WhenAll(Enumerable.Range(0, callers).Select(caller => Task.Run(async () =>
        {
            var accepted = 0;
            var left = parts.ToList();
            for (var at = caller; left.Count > 0; at++)
            {
                var part = left[at % left.Count];
                if (await pull(shop, part)) accepted++;
                else left.Remove(part);
            }
            return accepted;
        })));
        var seconds = clock.Elapsed.TotalSeconds;
        var ids = parts.ConvertAll(part => part.Id);
        var onHand = await shop.With(db => db.StockBalances.Where(row => ids.Contains(row.PartId)).Select(row => row.OnHand).ToListAsync());
        if (pulled.Sum() != Parts * pieces || onHand.Exists(left => left != Quantity.Zero))
            throw new InvalidOperationException($"{pulled.Sum()} pulls were accepted of {Parts * pieces} pieces.");
        return seconds;
    }

    private static async Task<bool> ByProgram(BenchmarkShop shop, (int Id, string Number) part)
    {
        var outcome = await shop.Dispatcher.Send<PullStock.Command, PullStock.Answer>(
            new(Guid.NewGuid().ToString(), "J-1", part.Number, Quantity.FromWhole(1)), Caller.CommandLine, CancellationToken.None);
        return outcome.Succeeded || (outcome.Refusal.Code is "NOT_ENOUGH" or "NOT_ENOUGH_FREE" ? false : throw new InvalidOperationException(outcome.Refusal.ToString()));
    }

    private static int Number(string[] args, int at, int otherwise) => args.Length > at ? int.Parse(args[at], CultureInfo.InvariantCulture) : otherwise;
}
