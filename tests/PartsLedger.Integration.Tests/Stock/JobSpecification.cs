using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Stock;

namespace PartsLedger.Integration.Tests.Stock;

/// <summary>What the specifications of a job's acts say in the same words; answers are compared as they are stored, as JSON.</summary>
public abstract class JobSpecification<TStore>(TStore store) : StockSpecification<TStore>(store) where TStore : Store
{
    protected static readonly Caller Bench = new("bench", Role.Counter, Role.Warehouse, Role.Rebuilder);

    protected DateOnly Today => DateOnly.FromDateTime(Store.Clock.GetUtcNow().UtcDateTime);

    /// <summary>Sends the act twice: the second answer is the first, and nothing happens twice.</summary>
    protected async Task<TAnswer> Done<TAct, TAnswer>(TAct act, Caller? caller = null) where TAct : IAct<TAnswer> where TAnswer : notnull
    {
        var first = await Store.Dispatcher.Send<TAct, TAnswer>(act, caller ?? Counter, CancellationToken.None);
        Assert.True(first.Succeeded, first.Refusal?.ToString());
        var picture = await Shelves();
        var second = await Store.Dispatcher.Send<TAct, TAnswer>(act, caller ?? Counter, CancellationToken.None);
        Assert.Equal(JsonSerializer.Serialize(first.Result, ShopJson.Options), JsonSerializer.Serialize(second.Result, ShopJson.Options));
        Assert.Equal(picture, await Shelves());
        await ReservedIsWhatIsOpen();
        return first.Result;
    }

    protected async Task<Refusal> RefusedAs<TAct, TAnswer>(string code, TAct act) where TAct : IAct<TAnswer> where TAnswer : notnull
    {
        var before = await Shelves();
        var outcome = await Store.Dispatcher.Send<TAct, TAnswer>(act, Counter, CancellationToken.None);
        Assert.False(outcome.Succeeded, $"Expected {code}.");
        Assert.Equal(code, outcome.Refusal.Code);
        Assert.NotEmpty(outcome.Refusal.Sentence);
        Assert.NotEmpty(outcome.Refusal.WhatToDo);
        Assert.Equal(before, await Shelves());
        return outcome.Refusal;
    }

    protected Task<ReserveForJob.Answer> Reserve(string job, string part, long pieces, DateTimeOffset? until = null, Caller? caller = null) =>
        Done<ReserveForJob.Command, ReserveForJob.Answer>(new(NewId(), job, [new(part, Pieces(pieces))], ExpiresAt: until), caller);

    protected Task<PullStock.Answer> Pull(string job, string part, long pieces, PullFrom from = PullFrom.Either) =>
        Done<PullStock.Command, PullStock.Answer>(new(NewId(), job, part, Pieces(pieces), from));

    protected Task ReceiveLot(long pieces, string lot, int expiresInDays, string place = "A-01", StockCondition condition = StockCondition.New) =>
        Accepted(new ReceiveStock.Command(NewId(), "DN 1",
            [new(LotSeal, place, Pieces(pieces), null, lot, null, Today.AddDays(expiresInDays), condition)]));

    protected Task<Quantity> Available(string part) => Store.With(async db =>
    {
        var id = await db.Parts.Where(row => row.Number == part).Select(row => row.Id).SingleAsync();
        return (await Availability.Of(db, [id], Store.Clock.GetUtcNow(), CancellationToken.None)).GetValueOrDefault(id);
    });

    protected Task<Quantity> ReservedOf(string part) => Store.With(async db =>
        (await db.StockBalances.Where(row => row.Part.Number == part).Select(row => row.Reserved).ToListAsync()).Total(reserved => reserved));

    protected static string[] Told(IEnumerable<PiecesAt> pieces) =>
        [.. pieces.Select(one => FormattableString.Invariant($"{one.Part} {one.Place} {one.Lot} {one.Condition} {one.Quantity}"))];

    /// <summary>Ledger, balances, worth and reservations, as text.</summary>
    protected Task<string> Shelves() => Store.With(async db => JsonSerializer.Serialize(new
    {
        Lines = await db.StockLines.OrderBy(row => row.Id).Select(row => new { row.Id, row.Quantity, row.Value }).ToListAsync(),
        Balances = await db.StockBalances.OrderBy(row => row.Id).Select(row => new { row.Id, row.OnHand, row.Reserved }).ToListAsync(),
        Worth = await db.StockParts.Where(row => row.OnHand != Quantity.Zero).OrderBy(row => row.PartId)
            .Select(row => new { row.PartId, row.OnHand, row.Value }).ToListAsync(),
        Reserved = await db.ReservationLines.OrderBy(row => row.Id).Select(row => new { row.Id, row.Reserved, row.Open }).ToListAsync(),
    }, ShopJson.Options));

    private async Task ReservedIsWhatIsOpen()
    {
        var (balances, lines) = await Store.With(async db => (
            await db.StockBalances.Where(row => row.Reserved != Quantity.Zero).OrderBy(row => row.Id)
                .Select(row => new { row.Id, row.Reserved.Thousandths }).ToListAsync(),
            await db.ReservationLines.Where(row => row.Open != Quantity.Zero)
                .Select(row => new { row.BalanceId, row.Open }).ToListAsync()));
        Assert.Equal(balances, lines.GroupBy(line => line.BalanceId).OrderBy(group => group.Key)
            .Select(group => new { Id = group.Key, group.Total(line => line.Open).Thousandths }).ToList());
    }
}
