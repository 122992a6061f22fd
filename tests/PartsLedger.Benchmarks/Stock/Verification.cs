using System.Diagnostics;
using System.Globalization;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Domain.Measures;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Benchmarks.Stock;

/// <summary>What verifying costs on a long ledger: everything, and what a hundred new transactions add, as a share of it.</summary>
internal static class Verification
{
    private const int Parts = 1_000;

    /// <param name="args">Lines in the ledger (1,000,000).</param>
    public static async Task Run(string[] args)
    {
        var lines = args.Length > 0 ? long.Parse(args[0], CultureInfo.InvariantCulture) : 1_000_000;
        await foreach (var shop in BenchmarkShop.All())
        {
            var parts = await shop.MakeParts(Parts);
            await Fill(shop, parts[0].Id, lines / 2);
            var full = await Verify(shop, full: true);
            await Book(shop, parts, 100);
            var next = await Verify(shop, full: false);
            var idle = await Verify(shop, full: false);
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"{shop.Address.Database.Scheme}: {lines} lines: full {full:0.00} s, a hundred new transactions {next:0.000} s ({next / full:0.0000} of it), nothing new {idle:0.000} s"));
        }
    }

    private static async Task<double> Verify(BenchmarkShop shop, bool full)
    {
        var clock = Stopwatch.StartNew();
        var outcome = await shop.Dispatcher.Ask<VerifyLedger.Query, VerifyLedger.Answer>(new(full), Caller.CommandLine, CancellationToken.None);
        if (!outcome.Succeeded || !outcome.Result.Sound)
            throw new InvalidOperationException(outcome.Refusal?.ToString() ?? string.Join('\n', outcome.Result.Breaches.Take(5)));
        return clock.Elapsed.TotalSeconds;
    }

    private static async Task Book(BenchmarkShop shop, List<(int Id, string Number)> parts, int count)
    {
        foreach (var (_, number) in parts.Take(count))
            await shop.Dispatcher.Send<ReceiveStock.Command, StockPosted>(
                new(Guid.NewGuid().ToString(), "DN 1", [new(number, "A-01", Quantity.FromWhole(1))]), Caller.CommandLine, CancellationToken.None);
    }

    /// <summary>Receipts of one piece at one unit of money, written straight into the tables: no request could make millions in a minute.</summary>
    private static Task<bool> Fill(BenchmarkShop shop, int firstPart, long transactions) => shop.With(async db =>
    {
        db.Database.SetCommandTimeout(TimeSpan.FromHours(1));
        const string Numbers = "with recursive n(i) as (select 0 union all select i + 1 from n where i + 1 < {0})";
        await using var transaction = await db.Database.BeginTransactionAsync();
        await db.Database.ExecuteSqlRawAsync($$"""
            insert into requests (request_id, kind, fingerprint, answer, at, who)
            {{Numbers}} select 'b-' || i, 'ReceiveStock', '', '', 0, 'bench' from n
            """, transactions);
        await db.Database.ExecuteSqlRawAsync($$"""
            insert into stock_transactions (act, request_id, at, who) {{Numbers}} select 'receive', 'b-' || i, 0, 'bench' from n
            """, transactions);
        await db.Database.ExecuteSqlRawAsync("""
            insert into stock_feed (position, transaction_id) select row_number() over (order by id), id from stock_transactions
            """);
        await db.Database.ExecuteSqlRawAsync("""
            insert into stock_lines (transaction_id, part_id, outside, condition, quantity, unit_cost, value)
            select id, {0} + id % 1000, 'supplier', 'new', -1000, 10000, -10000 from stock_transactions
            """, firstPart);
        await db.Database.ExecuteSqlRawAsync("""
            insert into stock_lines (transaction_id, part_id, location_id, condition, quantity, unit_cost, value)
            select id, {0} + id % 1000, {1}, 'new', 1000, 10000, 10000 from stock_transactions
            """, firstPart, shop.LocationId);
        await db.Database.ExecuteSqlRawAsync("""
            insert into stock_parts (part_id, on_hand, value, verified_value, version)
            select part_id, sum(quantity), sum(value), 0, 1 from stock_lines where location_id is not null group by part_id
            """);
        await db.Database.ExecuteSqlRawAsync("""
            insert into stock_balances (part_id, location_id, lot_slot, condition, on_hand, reserved, verified_on_hand)
            select part_id, location_id, 0, 'new', sum(quantity), 0, 0 from stock_lines where location_id is not null group by part_id, location_id
            """);
        await transaction.CommitAsync();

        // PostgreSQL counts its tables again by itself within minutes of such a load; the measurement does not wait for that.
        if (shop.Address.Database.Scheme == "postgresql") await db.Database.ExecuteSqlRawAsync("analyze");
        return true;
    });
}
