using System.Globalization;
using CsCheck;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data.Catalog;
using PartsLedger.Data.Hosting;
using PartsLedger.Data.Stock;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Stock;

namespace PartsLedger.Integration.Tests.Stock;

/// <summary>
/// Random sequences of acts against a small model, one caller and eight at once. CsCheck prints the seed of a failure;
/// <c>CsCheck_Seed</c> replays it. <c>PARTSLEDGER_MODEL_ACTS</c> sets how many acts each test does.
/// </summary>
public abstract class LedgerModelSpecification<TStore>(TStore store) : Specification<TStore>(store) where TStore : Store
{
    private const int Bins = 3, Jobs = 3, Length = 50, Callers = 8;
    private static readonly long Acts =
        long.TryParse(Environment.GetEnvironmentVariable("PARTSLEDGER_MODEL_ACTS"), CultureInfo.InvariantCulture, out var acts) ? acts : 4_000;

    private static readonly Gen<ModelAct> Act = Gen.Select(
        Gen.Frequency((4, Gen.Const(ModelKind.Receive)), (5, Gen.Enum<ModelKind>())), Gen.Frequency((5, Gen.Int[1, 4]), (1, Gen.Int[5, 30])),
        Gen.Int[0, Bins - 1], Gen.Int[0, Bins - 1], Gen.Int[0, Jobs - 1]).Select((kind, pieces, from, to, job) => new ModelAct(kind, pieces, from, to, job));

    private int _part;

    // On PostgreSQL an act takes several times as long: a tenth of them there.
    private long Runs => Math.Max(Acts / Length / (Store.Name == "sqlite" ? 1 : 10), 1);

    [Fact]
    public async Task One_caller_gets_exactly_what_the_model_says()
    {
        await MakeBins();
        await Act.Array[Length].SampleAsync(async sequence =>
        {
            var part = await MakePart();
            var model = new LedgerModel(Bins, Jobs);
            var caller = new ModelCaller(part);
            for (var at = 0; at < sequence.Length; at++)
            {
                var (refusal, _) = await Do(caller, sequence[at]);
                Assert.True(model.Do(sequence[at]) == refusal is null, $"Act {at}, {sequence[at]}: {refusal?.ToString() ?? "accepted"}");
            }
            var balances = await Balances(part);
            for (var bin = 0; bin < Bins; bin++)
            {
                Assert.Equal((model.OnHand[bin] * Quantity.PerWhole, model.Reserved(bin) * Quantity.PerWhole), balances.GetValueOrDefault((Bin(bin), StockCondition.New)));
                Assert.Equal((model.SetAside[bin] * Quantity.PerWhole, 0), balances.GetValueOrDefault((Bin(bin), StockCondition.Quarantine)));
            }
            await Sound(part);
        }, iter: Runs, threads: 1);
    }

    [Fact]
    public async Task Eight_callers_at_once_lose_nothing_and_make_nothing()
    {
        await MakeBins();
        var accepted = 0;
        await Act.Array[Length].Array[Callers].SampleAsync(async sequences =>
        {
            var part = await MakePart();
            var sums = await Task.WhenAll(sequences.Select(sequence => Task.Run(async () =>
            {
                var (inside, count, caller) = (0L, 0, new ModelCaller(part));
                foreach (var act in sequence)
                {
                    var (refusal, change) = await Do(caller, act);
                    Assert.NotEqual("BUSY", refusal?.Code);
                    if (refusal is not null) continue;
                    count++;
                    inside += change;
                }
                return (Inside: inside, Count: count);
            })));
            Interlocked.Add(ref accepted, sums.Sum(sum => sum.Count));
            Assert.Equal(sums.Sum(sum => sum.Inside), (await Balances(part)).Values.Sum(balance => balance.OnHand));
            await Sound(part);
        }, iter: Math.Max(Runs / Callers, 1), threads: 1);
        Assert.True(accepted > Runs * Length / 10, $"Only {accepted} acts were accepted.");
    }

    private static string Bin(int bin) => $"B-{bin}";

    /// <summary>Somebody who books on one part and remembers what they booked last, to take it back.</summary>
    private sealed class ModelCaller(string part)
    {
        public string Part => part;

        public (long Transaction, long Inside)? Last { get; set; }
    }

    /// <summary>Sends the act.</summary>
    /// <returns>Why it was refused, and by how many thousandths what lies in the shop has changed.</returns>
    private async Task<(Refusal? Refusal, long Inside)> Do(ModelCaller caller, ModelAct act)
    {
        var id = Guid.NewGuid().ToString();
        var (part, pieces) = (caller.Part, Quantity.FromWhole(act.Pieces));
        var job = $"{part}-J{act.Job}";
        return act.Kind switch
        {
            ModelKind.Receive => await Posted(new ReceiveStock.Command(id, "DN 1", [new(part, Bin(act.To), pieces, Money.FromTenThousandths(act.Pieces * 3_333))]), +1),
            ModelKind.Move => await Posted(new MoveStock.Command(id, part, Bin(act.From), Bin(act.To), pieces), 0),
            ModelKind.Return => await Posted(new ReturnFromJob.Command(id, job, part, pieces, Bin(act.To)), +1),
            ModelKind.Scrap => await Posted(new ScrapStock.Command(id, part, Bin(act.From), pieces, "bent"), -1),
            ModelKind.Quarantine => await Posted(new QuarantineStock.Command(id, part, Bin(act.From), pieces, "doubtful"), 0),
            ModelKind.ReleaseFromQuarantine =>
                await Posted(new ReleaseFromQuarantine.Command(id, part, Bin(act.From), pieces, StockCondition.New, "looked at"), 0),
            ModelKind.Reverse => await Reverse(),
            ModelKind.Count => await Count(),
            ModelKind.ReserveAll => (await Send<ReserveForJob.Command, ReserveForJob.Answer>(new(id, job, [new(part, pieces)])), 0),
            ModelKind.ReserveSome =>
                (await Send<ReserveForJob.Command, ReserveForJob.Answer>(new(id, job, [new(part, pieces)], ReserveRule.AsFarAsPossible)), 0),
            ModelKind.Release => (await Send<ReleaseReservation.Command, ReleaseReservation.Answer>(new(id, job)), 0),
            ModelKind.PullReserved => await Pull(PullFrom.Reserved),
            ModelKind.PullFree => await Pull(PullFrom.Free),
            ModelKind.PullEither => await Pull(PullFrom.Either),
            _ => throw new ArgumentOutOfRangeException(nameof(act)),
        };

        async Task<(Refusal?, long)> Posted<TAct>(TAct command, int sign) where TAct : IAct<StockPosted>
        {
            var outcome = await Store.Dispatcher.Send<TAct, StockPosted>(command, Nobody, CancellationToken.None);
            return outcome.Succeeded ? Booked(outcome.Result.Transaction, sign * pieces.Thousandths) : (outcome.Refusal, 0);
        }

        async Task<(Refusal?, long)> Pull(PullFrom from)
        {
            var outcome = await Store.Dispatcher.Send<PullStock.Command, PullStock.Answer>(new(id, job, part, pieces, from), Nobody, CancellationToken.None);
            return outcome.Succeeded ? Booked(outcome.Result.Transaction, -pieces.Thousandths) : (outcome.Refusal, 0);
        }

        async Task<(Refusal?, long)> Count()
        {
            var outcome = await Store.Dispatcher.Send<CountStock.Command, CountStock.Answer>(new(id, Bin(act.To), [new(part, pieces)]), Nobody, CancellationToken.None);
            if (!outcome.Succeeded) return (outcome.Refusal, 0);
            return outcome.Result.Transaction is { } transaction ? Booked(transaction, outcome.Result.Lines[0].Difference!.Value.Thousandths) : (null, 0);
        }

        async Task<(Refusal?, long)> Reverse()
        {
            var last = caller.Last ?? (long.MaxValue, 0);
            var outcome = await Store.Dispatcher.Send<ReverseTransaction.Command, StockPosted>(new(id, last.Transaction, "mistake"), Nobody, CancellationToken.None);
            if (!outcome.Succeeded) return (outcome.Refusal, 0);
            caller.Last = null;
            return (null, -last.Inside);
        }

        (Refusal?, long) Booked(long transaction, long inside)
        {
            caller.Last = (transaction, inside);
            return (null, inside);
        }
    }

    private static readonly Caller Nobody = new("model", Role.Counter, Role.Warehouse, Role.Rebuilder);

    private async Task<Refusal?> Send<TAct, TAnswer>(TAct act) where TAct : IAct<TAnswer> where TAnswer : notnull =>
        (await Store.Dispatcher.Send<TAct, TAnswer>(act, Nobody, CancellationToken.None)).Refusal;

    private Task<Dictionary<(string Place, StockCondition Condition), (long OnHand, long Reserved)>> Balances(string part) => Store.With(async db =>
        (await db.StockBalances.Where(row => row.Part.Number == part).Select(row => new { row.Location.Code, row.Condition, row.OnHand, row.Reserved })
            .ToListAsync())
        .ToDictionary(row => (row.Code, row.Condition), row => (row.OnHand.Thousandths, row.Reserved.Thousandths)));

    /// <summary>What must always hold, added up here by hand from the lines, and verified by the program's own rules.</summary>
    private Task Sound(string part) => Store.With(async db =>
    {
        var verified = await Store.Dispatcher.Ask<VerifyLedger.Query, VerifyLedger.Answer>(new(), CancellationToken.None);
        Assert.Empty(verified.Result.Breaches);
        var lines = await db.StockLines.AsNoTracking().Include(row => row.Location).Where(row => row.Part.Number == part).ToListAsync();
        Assert.All(lines.GroupBy(line => line.TransactionId), transaction =>
            Assert.Equal((0L, 0L), (transaction.Sum(line => line.Quantity.Thousandths), transaction.Sum(line => line.Value.TenThousandths))));
        var balances = await db.StockBalances.AsNoTracking().Include(row => row.Location).Where(row => row.Part.Number == part).ToListAsync();
        Assert.All(balances, balance =>
        {
            Assert.True(balance.OnHand >= Quantity.Zero && balance.Reserved >= Quantity.Zero && balance.Reserved <= balance.OnHand);
            Assert.Equal(balance.OnHand.Thousandths, lines.Where(line => line.LocationId == balance.LocationId && line.Condition == balance.Condition).Sum(line => line.Quantity.Thousandths));
        });
        var open = await db.ReservationLines.AsNoTracking().Where(row => row.Part.Number == part).ToListAsync();
        Assert.Equal(open.Sum(line => line.Open.Thousandths), balances.Sum(balance => balance.Reserved.Thousandths));
        var owned = await db.StockParts.AsNoTracking().SingleOrDefaultAsync(row => row.Part.Number == part);
        var inside = lines.Where(line => line.LocationId is not null).ToList();
        Assert.Equal((inside.Sum(line => line.Quantity.Thousandths), inside.Sum(line => line.Value.TenThousandths)),
            (owned?.OnHand.Thousandths ?? 0, owned?.Value.TenThousandths ?? 0));
    });

    private Task MakeBins() => Store.With(async db =>
    {
        // Every difference is posted at once: what waits for a second count is the count's own specification.
        db.Add(new SettingRow { Name = ShopSettings.RecountAboveName, Value = "1000" });
        for (var bin = 0; bin < Bins; bin++) db.Add(new LocationRow { Code = Bin(bin), CodeKey = Bin(bin), Name = Bin(bin) });
        await db.SaveChangesAsync();
    });

    /// <summary>A part of its own for each sequence, so that none needs an empty database.</summary>
    private async Task<string> MakePart()
    {
        var number = string.Create(CultureInfo.InvariantCulture, $"M{Interlocked.Increment(ref _part):000000}");
        await Store.With(async db =>
        {
            db.Add(new PartRow { Number = number, NumberKey = number, Name = number, Kind = PartKind.Hardware, Unit = "pc", Supplied = true });
            await db.SaveChangesAsync();
        });
        return number;
    }
}

public sealed class LedgerModelOnSqlite(SqliteStore store) : LedgerModelSpecification<SqliteStore>(store);

public sealed class LedgerModelOnPostgreSql(PostgreSqlStore store) : LedgerModelSpecification<PostgreSqlStore>(store);

public sealed class LedgerModelOnSqlServer(SqlServerStore store) : LedgerModelSpecification<SqlServerStore>(store);
