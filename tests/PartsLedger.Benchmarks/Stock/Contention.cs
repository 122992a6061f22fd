using System.Data.Common;
using System.Diagnostics;
using System.Globalization;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Domain.Measures;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Benchmarks.Stock;

/// <summary>
/// Callers who all pull from the same 20 parts until nothing is left, against a hand-written minimal transaction on the same database in the
/// same run: guarded update of the balance, the transaction, its two lines. The program besides remembers the request, values the pieces,
/// chooses the lot, writes the feed. Rounds of the two alternate, so that both meet the same machine.
/// </summary>
internal static class Contention
{
    private const int Parts = 20;

    /// <param name="args">Callers (8), pieces of each part in a round (25), rounds (4).</param>
    public static async Task Run(string[] args)
    {
        var callers = Number(args, 0, 8);
        var pieces = Number(args, 1, 25);
        var rounds = Number(args, 2, 4);
        await foreach (var shop in BenchmarkShop.All())
        {
            double program = 0, hand = 0;
            await Round(shop, callers, 5, ByProgram);
            await Round(shop, callers, 5, ByHand);
            for (var round = 0; round < rounds; round++)
            {
                program += await Round(shop, callers, pieces, ByProgram);
                hand += await Round(shop, callers, pieces, ByHand);
            }
            var acts = Parts * pieces * rounds;
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"{shop.Address.Database.Scheme}: {callers} callers, {acts} pulls each way: program {acts / program:0} a second, by hand {acts / hand:0}, ratio {hand / program:0.00}"));
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

    private static Task<bool> ByHand(BenchmarkShop shop, (int Id, string Number) part) => shop.With(async db =>
    {
        await db.Database.OpenConnectionAsync();
        var connection = db.Database.GetDbConnection();
        await using var transaction = await connection.BeginTransactionAsync();
        if (await Do(connection, transaction, $"""
            update stock_balances set on_hand = on_hand - 1000
            where part_id = {part.Id} and location_id = {shop.LocationId} and lot_slot = 0 and condition = 'new' and on_hand - 1000 >= reserved
            """) == 0) return false;
        await using var insert = Command(connection, transaction, $"""
            insert into stock_transactions (act, request_id, at, who, belongs_to, belongs_to_ref)
            values ('pull', '{Guid.NewGuid()}', 0, 'hand', 'job', 'J-1') returning id
            """);
        var id = Convert.ToInt64(await insert.ExecuteScalarAsync(), CultureInfo.InvariantCulture);
        await Do(connection, transaction, $"""
            insert into stock_lines (transaction_id, part_id, location_id, outside, condition, quantity, unit_cost, value)
            values ({id}, {part.Id}, {shop.LocationId}, null, 'new', -1000, 0, 0), ({id}, {part.Id}, null, 'job', 'new', 1000, 0, 0)
            """);
        await transaction.CommitAsync();
        return true;
    });

    private static async Task<int> Do(DbConnection connection, DbTransaction transaction, FormattableString sql)
    {
        await using var command = Command(connection, transaction, sql);
        return await command.ExecuteNonQueryAsync();
    }

    // Numbers and ids of our own only; the text is whole so that both databases take the same.
    private static DbCommand Command(DbConnection connection, DbTransaction transaction, FormattableString sql)
    {
        var command = connection.CreateCommand();
        command.Transaction = transaction;
#pragma warning disable CA2100 // No text of anybody else's is in it.
        command.CommandText = FormattableString.Invariant(sql);
#pragma warning restore CA2100
        return command;
    }

    private static int Number(string[] args, int at, int otherwise) => args.Length > at ? int.Parse(args[at], CultureInfo.InvariantCulture) : otherwise;
}
