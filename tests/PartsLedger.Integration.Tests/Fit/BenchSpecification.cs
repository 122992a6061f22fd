using Microsoft.EntityFrameworkCore;
using PartsLedger.Cores;
using PartsLedger.Data.Catalog;
using PartsLedger.Data.Fit;
using PartsLedger.Data.Stock;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Cores;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Fit;
using PartsLedger.Hosting;
using PartsLedger.Integration.Tests.Databases;

namespace PartsLedger.Integration.Tests.Fit;

/// <summary>A bench with two families, two classes, a shelf, a second shelf and a quarantine shelf. Speaks in requests.</summary>
public abstract class BenchSpecification<TStore>(TStore store) : Specification<TStore>(store) where TStore : Store
{
    protected static readonly Caller Rebuilder = new("rebuilder", Role.Counter, Role.Warehouse, Role.Rebuilder);
    protected static readonly Caller Supervisor = new("supervisor", Role.Supervisor);

    public override async ValueTask InitializeAsync()
    {
        await base.InitializeAsync();
        await Store.With(async db =>
        {
            var low = Class("P055", 5_500_000);
            var high = Class("P070", 7_000_000);
            var vane = Family("VS30");
            var other = Family("OM45");
            db.AddRange(low, high, vane, other,
                new VariantRow { Code = "VS30-055", CodeKey = "VS30-055", Family = vane, PressureClass = low },
                new LocationRow { Code = "S-01", CodeKey = "S-01", Name = "Shelf 1" }, new LocationRow { Code = "S-02", CodeKey = "S-02", Name = "Shelf 2" },
                new LocationRow { Code = "Q-01", CodeKey = "Q-01", Name = "Hold", Kind = LocationKind.Quarantine },
                Part("30-HSG", PartKind.Housing), Part("30-VLV", PartKind.Valve), Part("30-ROT", PartKind.Rotating),
                new GaugeRow { Code = "AG-1", CodeKey = "AG-1", Kind = "air gauge", Uncertainty = Length.FromNanometres(500) });
            await db.SaveChangesAsync();
        });
    }

    protected static string NewId() => Guid.NewGuid().ToString();

    protected Task<Outcome<UnitActed>> Send<TAct>(TAct act, Caller? caller = null) where TAct : IAct<UnitActed> =>
        Store.Dispatcher.Send<TAct, UnitActed>(act, caller ?? Rebuilder, CancellationToken.None);

    protected async Task<UnitActed> Accepted<TAct>(TAct act, Caller? caller = null) where TAct : IAct<UnitActed>
    {
        var outcome = await Send(act, caller);
        Assert.True(outcome.Succeeded, outcome.Refusal?.ToString());
        return outcome.Result;
    }

    protected async Task<Refusal> Refused<TAct>(string code, TAct act, Caller? caller = null) where TAct : IAct<UnitActed>
    {
        var before = await Picture();
        var outcome = await Send(act, caller);
        Assert.False(outcome.Succeeded, $"Expected {code}.");
        Assert.Equal(code, outcome.Refusal.Code);
        Assert.NotEmpty(outcome.Refusal.WhatToDo);
        Assert.Equal(before, await Picture());
        return outcome.Refusal;
    }

    protected async Task<TAnswer> Ask<TQuery, TAnswer>(TQuery query) where TQuery : IQuery<TAnswer> where TAnswer : notnull
    {
        var outcome = await Store.Dispatcher.Ask<TQuery, TAnswer>(query, CancellationToken.None);
        Assert.True(outcome.Succeeded, outcome.Refusal?.ToString());
        return outcome.Result;
    }

    protected async Task<CoreActed> Core<TAct>(TAct act) where TAct : IAct<CoreActed>
    {
        var outcome = await Store.Dispatcher.Send<TAct, CoreActed>(act, Rebuilder, CancellationToken.None);
        Assert.True(outcome.Succeeded, outcome.Refusal?.ToString());
        return outcome.Result;
    }

    /// <summary>A core of the first family taken in, graded and torn down: its halves are a pair, as received.</summary>
    protected async Task PairOutOfACore(string number)
    {
        await Core(new TakeInCore.Command(NewId(), $"C-{number}", "VS30", "VS30-055", null, "dirty", null, "Riverside Lifts", Money.Zero));
        await Core(new GradeCore.Command(NewId(), $"C-{number}", CoreGrade.Worn, []));
        await Core(new TearDownCore.Command(NewId(), $"C-{number}", new($"H-{number}", "30-HSG"), new($"V-{number}", "30-VLV", null, 3, 1_200_000), $"P-{number}", "S-01", []));
    }

    /// <summary>A loose half, as an import brings it.</summary>
    protected Task Loose(string tag, UnitRole role, string family = "VS30", string? ofClass = null) => Store.With(async db =>
    {
        var classId = ofClass is null ? null : (int?)await db.PressureClasses.Where(row => row.Code == ofClass).Select(row => row.Id).SingleAsync();
        db.Units.Add(new UnitRow
        {
            Tag = tag, TagKey = tag, Role = role, FamilyId = await db.Families.Where(row => row.Code == family).Select(row => row.Id).SingleAsync(),
            PressureClassId = classId, LocationId = await db.Locations.Where(row => row.Code == "S-01").Select(row => row.Id).SingleAsync(), ShimCount = 3,
            ShimStack = Length.FromNanometres(1_200_000),
        });
        await db.SaveChangesAsync();
    });

    protected Task Measure(string tag) => Store.With(async db =>
    {
        var unit = await db.Units.SingleAsync(row => row.Tag == tag);
        Store.Clock.Advance(TimeSpan.FromMinutes(1));
        var measurement = new MeasurementRow
        {
            UnitId = unit.Id, Characteristic = unit.Role == UnitRole.Housing ? Characteristic.Bore : Characteristic.Spool, TakenAt = Store.Clock.GetUtcNow(),
            GaugeId = await db.Gauges.Select(row => row.Id).SingleAsync(), MilliCelsius = 20_000, Who = "rebuilder",
        };
        var diameter = unit.Role == UnitRole.Housing ? 15_875_000 : 15_863_000;
        measurement.Readings.Add(new ReadingRow { Sequence = 1, Diameter = Length.FromNanometres(diameter) });
        db.Add(measurement);
        await db.SaveChangesAsync();
    });

    private Task<string> Picture() => Store.With(async db => string.Join(' ',
        (await db.Units.OrderBy(row => row.Id).ToListAsync()).Select(row => $"{row.Tag}:{row.State}/{row.PairId}/{row.LocationId}/{row.PressureClassId}/{row.ShimCount}/{row.Job}")
        .Concat((await db.Pairs.OrderBy(row => row.Id).ToListAsync()).Select(row => $"{row.Code}:{row.State}/{row.LocationId}/{row.Job}/{row.PressureClassId}/{row.Released}"))
        .Append($"events {await db.UnitEvents.CountAsync()}")));

    private static PressureClassRow Class(string code, long pascals) => new()
    {
        Code = code, CodeKey = code, Name = code, Relief = Pressure.FromPascals(pascals), Minus = Pressure.FromPascals(200_000), Plus = Pressure.FromPascals(200_000),
    };

    private static FamilyRow Family(string code) => new() { Code = code, CodeKey = code, Name = code, ValveFit = ValveFit.Selective };

    private static PartRow Part(string number, PartKind kind) =>
        new() { Number = number, NumberKey = PartNumber.Canonical(number), Name = number, Kind = kind, Unit = "pc", Supplied = true };
}
