using System.Globalization;
using CsCheck;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data.Catalog;
using PartsLedger.Data.Stock;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Stock;

namespace PartsLedger.Integration.Tests.Stock;

/// <summary>
/// Random acts on a part kept by lot against a small model: what is accepted, which lots a pull takes in which order, what lies and is reserved
/// where, how long each lot is good. <c>CsCheck_Seed</c> replays a failure; a fifth of <c>PARTSLEDGER_MODEL_ACTS</c> is done.
/// </summary>
public abstract class LotModelSpecification<TStore>(TStore store) : Specification<TStore>(store) where TStore : Store
{
    private const int Bins = 3, Jobs = 2, Length = 60;
    private static readonly long Acts =
        (long.TryParse(Environment.GetEnvironmentVariable("PARTSLEDGER_MODEL_ACTS"), CultureInfo.InvariantCulture, out var acts) ? acts : 4_000) / 5;

    private static readonly DateOnly Today = new(2031, 3, 12);

    // Good for ever, until yesterday, through today, for long.
    private static readonly DateOnly?[] GoodUntil = [null, Today.AddDays(-1), Today, Today.AddYears(1)];

    private static readonly Gen<LotAct> Act = Gen.Select(
        Gen.Frequency((3, Gen.Const(LotActKind.Receive)), (8, Gen.Enum<LotActKind>())), Gen.Int[0, 7], Gen.Int[0, 7], Gen.Int[1, 5],
        Gen.Int[0, Bins - 1], Gen.Int[0, Bins - 1], Gen.Int[0, Jobs - 1]).Select((kind, lot, other, pieces, from, to, job) =>
            new LotAct(kind, lot, other, pieces, from, to, job));

    private static readonly Caller Nobody = new("model", Role.Counter, Role.Warehouse, Role.Rebuilder);

    private int _part;

    [Fact]
    public async Task Lots_do_exactly_what_the_model_says()
    {
        await Store.With(async db =>
        {
            for (var bin = 0; bin < Bins; bin++) db.Add(new LocationRow { Code = Bin(bin), CodeKey = Bin(bin), Name = Bin(bin) });
            await db.SaveChangesAsync();
        });
        var (done, refused) = (0, 0);
        await Act.Array[Length].SampleAsync(async sequence =>
        {
            var part = await MakePart();
            var model = new LotModel(Today);
            for (var at = 0; at < GoodUntil.Length; at++)
            {
                await Send(new ReceiveStock.Command(Id(), "DN 1", [new(part, Bin(at % Bins), Quantity.FromWhole(3), Lot: $"L{at}", ExpiresOn: GoodUntil[at])]));
                model.Do(new LotAct(LotActKind.Receive, model.Make($"L{at}", GoodUntil[at]), 0, 3, 0, at % Bins, 0), "");
            }
            for (var at = 0; at < sequence.Length; at++)
            {
                var act = sequence[at] with { Lot = sequence[at].Lot % model.Lots.Count, Other = sequence[at].Other % model.Lots.Count };
                var name = string.Create(CultureInfo.InvariantCulture, $"S{at}");
                var codes = model.Lots.Select(lot => lot.Code).ToList();
                var expected = model.Do(act, name);
                var (refusal, pulled) = await Do(part, act, codes, name);
                Assert.True(expected is null == refusal is not null, $"Act {at}, {act}: {refusal?.ToString() ?? "accepted"}");
                if (expected is null) refused++;
                else done++;
                if (pulled is not null) Assert.Equal(expected!.Select(pick => $"{pick.Pieces} of {model.Lots[pick.Lot].Code} in {Bin(pick.Bin)}"), pulled);
            }
            await Compare(part, model);
        }, iter: Math.Max(Acts / Length / (Store.Name == "sqlite" ? 1 : 10), 1), threads: 1);
        Assert.True(done > refused / 4 && refused > 0, $"{done} acts were accepted, {refused} refused.");
    }

    private static string Bin(int bin) => $"B-{bin}";

    private static string Id() => Guid.NewGuid().ToString();

    /// <returns>Why it was refused; what a pull took.</returns>
    private async Task<(Refusal? Refusal, IReadOnlyList<string>? Pulled)> Do(string part, LotAct act, List<string> lots, string newLot)
    {
        var (pieces, lot, job, from, to) = (Quantity.FromWhole(act.Pieces), lots[act.Lot], $"{part}-J{act.Job}", Bin(act.From), Bin(act.To));
        return act.Kind switch
        {
            LotActKind.Receive => await Send(new ReceiveStock.Command(Id(), "DN 2", [new(part, to, pieces, Lot: lot)])),
            LotActKind.Move => await Send(new MoveStock.Command(Id(), part, from, to, pieces, lot)),
            LotActKind.Split => await Send(new SplitLot.Command(Id(), part, lot, from, pieces, newLot)),
            LotActKind.Merge => await Send(new MergeLots.Command(Id(), part, [lot], lots[act.Other])),
            LotActKind.Return => await Send(new ReturnFromJob.Command(Id(), job, part, pieces, to, Lot: lot)),
            LotActKind.Scrap => await Send(new ScrapStock.Command(Id(), part, from, pieces, "bent", lot)),
            LotActKind.PullAny => await Pull(null),
            LotActKind.PullLot => await Pull(lot),
            LotActKind.ReserveAny => await Reserve(null),
            LotActKind.ReserveLot => await Reserve(lot),
            LotActKind.Release => ((await Store.Dispatcher.Send<ReleaseReservation.Command, ReleaseReservation.Answer>(
                new(Id(), job), Nobody, CancellationToken.None)).Refusal, null),
            _ => throw new ArgumentOutOfRangeException(nameof(act)),
        };

        async Task<(Refusal?, IReadOnlyList<string>?)> Pull(string? of)
        {
            var outcome = await Store.Dispatcher.Send<PullStock.Command, PullStock.Answer>(new(Id(), job, part, pieces, Lot: of), Nobody, CancellationToken.None);
            return outcome.Succeeded ? (null, [.. outcome.Result.Pulled.Select(at => $"{at.Quantity} of {at.Lot} in {at.Place}")]) : (outcome.Refusal, null);
        }

        async Task<(Refusal?, IReadOnlyList<string>?)> Reserve(string? of) => ((await Store.Dispatcher.Send<ReserveForJob.Command, ReserveForJob.Answer>(
            new(Id(), job, [new(part, pieces, of)]), Nobody, CancellationToken.None)).Refusal, null);
    }

    private async Task<(Refusal? Refusal, IReadOnlyList<string>? Pulled)> Send<TAct>(TAct act) where TAct : IAct<StockPosted> =>
        ((await Store.Dispatcher.Send<TAct, StockPosted>(act, Nobody, CancellationToken.None)).Refusal, null);

    private Task Compare(string part, LotModel model) => Store.With(async db =>
    {
        var verified = await Store.Dispatcher.Ask<VerifyLedger.Query, VerifyLedger.Answer>(new(), CancellationToken.None);
        Assert.Empty(verified.Result.Breaches);
        var balances = await db.StockBalances.AsNoTracking().Where(row => row.Part.Number == part && row.OnHand != Quantity.Zero)
            .Select(row => new { Lot = row.Lot!.Code, Bin = row.Location.Code, row.OnHand, row.Reserved }).ToListAsync();
        var expected = Enumerable.Range(0, model.Lots.Count).SelectMany(lot => Enumerable.Range(0, Bins).Select(bin => (lot, bin)))
            .Where(at => model.OnHand(at.lot, at.bin) > 0)
            .Select(at => $"{model.Lots[at.lot].Code} {Bin(at.bin)} {model.OnHand(at.lot, at.bin)} {model.Reserved(at.lot, at.bin)}");
        Assert.Equal(expected.Order(), balances.Select(row => $"{row.Lot} {row.Bin} {row.OnHand} {row.Reserved}").Order());
        var lots = await db.Lots.AsNoTracking().Where(row => row.Part.Number == part).Select(row => new { row.Code, row.ExpiresOn }).ToListAsync();
        Assert.Equal(model.Lots.Select(lot => $"{lot.Code} {lot.GoodUntil:O}").Order(), lots.Select(lot => $"{lot.Code} {lot.ExpiresOn:O}").Order());
    });

    /// <summary>A part of its own for each sequence, so that none needs an empty database.</summary>
    private async Task<string> MakePart()
    {
        var number = string.Create(CultureInfo.InvariantCulture, $"L{Interlocked.Increment(ref _part):000000}");
        await Store.With(async db =>
        {
            db.Add(new PartRow { Number = number, NumberKey = number, Name = number, Kind = PartKind.Seal, Tracking = Tracking.Lot, Unit = "pc", Supplied = true });
            await db.SaveChangesAsync();
        });
        return number;
    }
}

public sealed class LotModelOnSqlite(SqliteStore store) : LotModelSpecification<SqliteStore>(store);

public sealed class LotModelOnPostgreSql(PostgreSqlStore store) : LotModelSpecification<PostgreSqlStore>(store);

public sealed class LotModelOnSqlServer(SqlServerStore store) : LotModelSpecification<SqlServerStore>(store);
