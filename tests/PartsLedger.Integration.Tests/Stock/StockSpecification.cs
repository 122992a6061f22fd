using Microsoft.EntityFrameworkCore;
using PartsLedger.Data.Catalog;
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

/// <summary>A small shop to book in: parts tracked each way, two bins, a bench, a quarantine shelf. Speaks in requests.</summary>
public abstract class StockSpecification<TStore>(TStore store) : Specification<TStore>(store) where TStore : Store
{
    protected static readonly Caller Counter = new("counter", Role.Counter, Role.Warehouse, Role.Rebuilder);
    protected static readonly Caller Supervisor = new("supervisor", Role.Supervisor);

    protected const string Seal = "10-4477";
    protected const string LotSeal = "10-4478";
    protected const string Housing = "20-0001";
    protected const string Oil = "90-0001";

    public override async ValueTask InitializeAsync()
    {
        await base.InitializeAsync();
        await Store.With(async db =>
        {
            db.AddRange(
                Part(Seal, PartKind.Seal, Tracking.Bulk), Part(LotSeal, PartKind.Seal, Tracking.Lot), Part(Housing, PartKind.Housing, Tracking.Serial),
                Part(Oil, PartKind.Fluid, Tracking.Bulk, "l"));
            db.AddRange(Place("A-01"), Place("A-02"), Place("BENCH", LocationKind.Bench), Place("HOLD", LocationKind.Quarantine));
            await db.SaveChangesAsync();
        });
    }

    protected static string NewId() => Guid.NewGuid().ToString();

    protected static Quantity Pieces(long pieces) => Quantity.FromWhole(pieces);

    protected static Money Each(decimal amount) => Money.FromTenThousandths((long)(amount * Money.PerUnit));

    protected Task<Outcome<StockPosted>> Send<TAct>(TAct act, Caller? caller = null) where TAct : IAct<StockPosted> =>
        Store.Dispatcher.Send<TAct, StockPosted>(act, caller ?? Counter, CancellationToken.None);

    protected async Task<StockPosted> Accepted<TAct>(TAct act) where TAct : IAct<StockPosted>
    {
        var outcome = await Send(act);
        Assert.True(outcome.Succeeded, outcome.Refusal?.ToString());
        return outcome.Result;
    }

    /// <summary>The act is refused with this code, says what to do, and leaves the ledger as it was.</summary>
    protected async Task<Refusal> Refused<TAct>(string code, TAct act) where TAct : IAct<StockPosted>
    {
        var before = await Picture();
        var outcome = await Send(act);
        Assert.False(outcome.Succeeded, $"Expected {code}.");
        Assert.Equal(code, outcome.Refusal.Code);
        Assert.NotEmpty(outcome.Refusal.Sentence);
        Assert.NotEmpty(outcome.Refusal.WhatToDo);
        Assert.Equal(before, await Picture());
        return outcome.Refusal;
    }

    protected Task Receive(string part, long pieces, string place = "A-01", decimal? cost = null, string? lot = null) =>
        Accepted(new ReceiveStock.Command(NewId(), "DN 1", [new(part, place, Pieces(pieces), cost is { } c ? Each(c) : null, lot)]));

    protected Task<Quantity> OnHand(string part, string place) => Store.With(async db =>
        (await db.StockBalances.Where(row => row.Part.Number == part && row.Location.Code == place).Select(row => row.OnHand).ToListAsync())
        .Aggregate(Quantity.Zero, (sum, quantity) => sum + quantity));

    /// <summary>Everything that an act may change, as text.</summary>
    private Task<string> Picture() => Store.With(async db =>
    {
        var lines = await db.StockLines.OrderBy(row => row.Id).Select(row => $"{row.Id}:{row.Quantity.Thousandths}").ToListAsync();
        var balances = await db.StockBalances.OrderBy(row => row.Id)
            .Select(row => $"{row.Id}:{row.OnHand.Thousandths}/{row.Reserved.Thousandths}").ToListAsync();
        var worth = await db.StockParts.OrderBy(row => row.PartId)
            .Select(row => $"{row.PartId}:{row.OnHand.Thousandths}={row.Value.TenThousandths}").ToListAsync();
        return string.Join(' ', lines.Concat(balances).Concat(worth.Where(text => !text.EndsWith(":0=0", StringComparison.Ordinal))));
    });

    private static PartRow Part(string number, PartKind kind, Tracking tracking, string unit = "pc") => new()
    {
        Number = number, NumberKey = PartNumber.Canonical(number), Name = "Part " + number, Kind = kind, Tracking = tracking, Unit = unit,
        Supplied = true, Cost = Each(2.50m),
    };

    private static LocationRow Place(string code, LocationKind kind = LocationKind.Bin) =>
        new() { Code = code, CodeKey = Code.KeyOf(code), Name = code, Kind = kind };
}
