using System.Data.Common;
using System.Globalization;
using Microsoft.EntityFrameworkCore;

namespace PartsLedger.Benchmarks.Stock;

/// <summary>
/// A pull as somebody in a hurry would write it: no reading, no deciding, parameters and the driver's own commands. It waits for its turn
/// to write as the program does, over the same connections with the same settings and the same promise: on the disk when acknowledged.
/// </summary>
internal static class HandWritten
{
    /// <summary>The least that is a pull: the guarded balance, the transaction, its two lines. Refusing writes nothing.</summary>
    public static Task<bool> ThreeStatements(BenchmarkShop shop, (int Id, string Number) part) => Transaction(shop, async work =>
    {
        var taken = await TakeFromBalance(work, shop, part.Id);
        if (taken) await Append(work, shop, part.Id, Guid.NewGuid().ToString());
        return (taken, Commit: taken);
    });

    /// <summary>Every row that the program's pull leaves: besides those the part's total, the feed's queue, the request with its answer.</summary>
    public static Task<bool> SameRows(BenchmarkShop shop, (int Id, string Number) part) => Transaction(shop, async work =>
    {
        var requestId = Guid.NewGuid().ToString();
        var answer = Refused;
        var taken = await TakeFromBalance(work, shop, part.Id);
        if (taken)
        {
            await work.Do($"update stock_parts set on_hand = on_hand - 1000, version = version + 1 where part_id = {part.Id}");
            var transaction = await Append(work, shop, part.Id, requestId);
            await work.Do($"insert into stock_unfed (transaction_id) values ({transaction})");
            answer = string.Create(CultureInfo.InvariantCulture, $"{Pulled}{transaction}}}");
        }
        await work.Do($"""
            insert into requests (request_id, kind, fingerprint, answer, at, who)
            values ({requestId}, {"PullStock"}, {Fingerprint}, {answer}, {0L}, {"hand"})
            """);
        return (taken, Commit: true);
    });

    // As long as the program's, give or take a few characters.
    private static readonly string Fingerprint = new('0', 64);
    private static readonly string Pulled = "{" + new string(' ', 250) + "\"transaction\":";
    private static readonly string Refused = "{" + new string(' ', 250) + "\"refusal\":null}";

    private static async Task<bool> TakeFromBalance(Work work, BenchmarkShop shop, int partId) => await work.Do($"""
        update stock_balances set on_hand = on_hand - 1000
        where part_id = {partId} and location_id = {shop.LocationId} and lot_slot = 0 and condition = {"new"} and on_hand - 1000 >= reserved
        """) == 1;

    private static async Task<long> Append(Work work, BenchmarkShop shop, int partId, string requestId)
    {
        var id = await work.Ask($"""
            insert into stock_transactions (act, request_id, at, who, belongs_to, belongs_to_ref)
            values ({"pull"}, {requestId}, {0L}, {"hand"}, {"job"}, {"J-1"}) returning id
            """);
        await work.Do($"""
            insert into stock_lines (transaction_id, part_id, location_id, outside, condition, quantity, unit_cost, value)
            values ({id}, {partId}, {shop.LocationId}, null, {"new"}, -1000, 0, 0), ({id}, {partId}, null, {"job"}, {"new"}, 1000, 0, 0)
            """);
        return id;
    }

    private static Task<bool> Transaction(BenchmarkShop shop, Func<Work, Task<(bool Answer, bool Commit)>> work) => shop.With(async db =>
    {
        using var turn = await shop.Address.Database.TurnToWrite(shop.Address.Connection, CancellationToken.None);
        await db.Database.OpenConnectionAsync();
        var connection = db.Database.GetDbConnection();
        await using var transaction = await connection.BeginTransactionAsync();
        var (answer, commit) = await work(new Work(connection, transaction));
        if (commit) await transaction.CommitAsync();
        return answer;
    });

    private sealed class Work(DbConnection connection, DbTransaction transaction)
    {
        public async Task<int> Do(FormattableString sql)
        {
            await using var command = Command(sql);
            return await command.ExecuteNonQueryAsync();
        }

        public async Task<long> Ask(FormattableString sql)
        {
            await using var command = Command(sql);
            return Convert.ToInt64(await command.ExecuteScalarAsync(), CultureInfo.InvariantCulture);
        }

        // What stands in the text's holes travels beside it, so that the text stays the same and a driver that prepares may.
        private DbCommand Command(FormattableString sql)
        {
            var command = connection.CreateCommand();
            command.Transaction = transaction;
            var names = sql.GetArguments().Select((value, at) =>
            {
                var parameter = command.CreateParameter();
                (parameter.ParameterName, parameter.Value) = ($"@p{at}", value);
                command.Parameters.Add(parameter);
                return (object)parameter.ParameterName;
            }).ToArray();
#pragma warning disable CA2100 // Only names of parameters are put into it.
            command.CommandText = string.Format(CultureInfo.InvariantCulture, sql.Format, names);
#pragma warning restore CA2100
            return command;
        }
    }
}
