using Microsoft.EntityFrameworkCore;
using PartsLedger.Data.Catalog;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;
using PartsLedger.Fit;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Kits;

namespace PartsLedger.Integration.Tests.Fit;

/// <summary>A matched pair as a supply: offered once it is measured and released, as one, and to its own family and class only.</summary>
public abstract class PairInKitSpecification<TStore>(TStore store) : BenchSpecification<TStore>(store) where TStore : Store
{
    [Fact]
    public async Task A_released_pair_covers_valve_and_housing_at_once_and_a_kept_one_does_not()
    {
        await Positions();
        await PairOutOfACore("1");
        Assert.Equal([1, 2], (await Kit()).Uncovered.Select(need => need.Position));

        await Measure("H-1");
        await Measure("V-1");
        await Accepted(new ReleasePair.Command(NewId(), "P-1"));
        var answer = await Kit();
        Assert.True(answer.Complete);
        var line = Assert.Single(answer.Lines);
        Assert.Equal(("P-1", 1L, 0L), (line.Part, line.Quantity, line.Short));
        Assert.Equal([1, 2], line.Covers);

        await Accepted(new KeepPairForJob.Command(NewId(), "P-1", "J-1", "P055"));
        Assert.False((await Kit()).Complete);
        Store.Clock.Advance(TimeSpan.FromDays(15));
        Assert.True((await Kit()).Complete);
    }

    [Fact]
    public async Task A_pair_of_another_class_is_never_offered()
    {
        await Positions();
        await PairOutOfACore("1");
        await Accepted(new ReRateValve.Command(NewId(), "V-1", "P070", 7_000_000, "bench 1", 4, 1_600_000, "order"), Supervisor);
        await Measure("H-1");
        await Measure("V-1");
        await Accepted(new ReleasePair.Command(NewId(), "P-1"));
        Assert.Equal([1, 2], (await Kit()).Uncovered.Select(need => need.Position));
    }

    /// <summary>The housing and the valve are assembly-only, and no assembly is sold.</summary>
    private Task Positions() => Store.With(async db =>
    {
        var variant = await db.Variants.SingleAsync();
        foreach (var (number, position, group) in ((string, int, PartGroup)[])[("30-HSG", 1, PartGroup.Body), ("30-VLV", 2, PartGroup.Valve)])
        {
            var part = await db.Parts.SingleAsync(row => row.Number == number);
            part.Service = PartService.AssemblyOnly;
            db.Add(new PositionRow
            {
                VariantId = variant.Id, Position = position, Name = number, PartId = part.Id, Quantity = Quantity.FromWhole(1), PartGroup = group, Renew = RenewRule.IfWorn,
            });
        }
        await db.SaveChangesAsync();
    });

    private Task<KitAnswer> Kit() => Ask<KitFor.Query, KitAnswer>(new("VS30-055", JobScope.Valve, [1], KitPreference.Cost));
}

public sealed class PairInKitOnSqlite(SqliteStore store) : PairInKitSpecification<SqliteStore>(store);

public sealed class PairInKitOnPostgreSql(PostgreSqlStore store) : PairInKitSpecification<PostgreSqlStore>(store);

public sealed class PairInKitOnSqlServer(SqlServerStore store) : PairInKitSpecification<SqlServerStore>(store);
