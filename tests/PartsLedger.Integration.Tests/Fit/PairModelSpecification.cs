using Microsoft.EntityFrameworkCore;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Measures;
using PartsLedger.Fit;
using PartsLedger.Hosting;
using PartsLedger.Integration.Tests.Databases;

namespace PartsLedger.Integration.Tests.Fit;

/// <summary>
/// Random sequences of the requests that form, part, move, keep, re-rate, measure and release units and pairs, by many callers at once
/// (condemning and accepting a held proposal are not among them). Whatever was accepted: no pair is in two places, in two
/// jobs or made of anything but one housing and one valve of its family and class, and no half is anywhere its pair is not.
/// </summary>
public abstract class PairModelSpecification<TStore>(TStore store) : BenchSpecification<TStore>(store) where TStore : Store
{
    private static readonly int Acts = int.TryParse(Environment.GetEnvironmentVariable("PARTSLEDGER_PAIR_ACTS"), out var acts) ? acts : 400;
    private static readonly int Seed = int.TryParse(Environment.GetEnvironmentVariable("PARTSLEDGER_SEED"), out var seed) ? seed : Random.Shared.Next();

    [Theory]
    [InlineData(1)]
    [InlineData(8)]
    public async Task No_sequence_of_requests_parts_or_mixes_a_pair(int callers)
    {
        for (var at = 1; at <= 5; at++)
        {
            await Loose($"H-{at}", UnitRole.Housing, at == 5 ? "OM45" : "VS30", at == 4 ? "P070" : null);
            await Loose($"V-{at}", UnitRole.Valve, at == 5 ? "OM45" : "VS30", at >= 3 ? "P070" : "P055");
        }
        foreach (var tag in (string[])["H-1", "V-1", "H-2", "V-2", "H-3", "V-3"]) await Measure(tag);

        TestContext.Current.TestOutputHelper?.WriteLine($"PARTSLEDGER_SEED={Seed}");
        var accepted = await Task.WhenAll(Enumerable.Range(0, callers).Select(caller => Task.Run(async () =>
        {
            var random = new Random(Seed + caller);
            var count = 0;
            for (var act = 0; act < Acts / callers; act++)
            {
                if ((await Any(random)).Succeeded) count++;
                if (act % 20 == 0 || callers == 1) await Sound();
            }
            return count;
        })));
        await Sound();

        // The sequences do something: among the acts some are taken.
        Assert.True(accepted.Sum() > Acts / 50, $"Only {accepted.Sum()} acts were accepted (seed {Seed}).");
    }

    private Task<Domain.Outcomes.Outcome<UnitActed>> Any(Random random)
    {
        var one = $"{(random.Next(2) == 0 ? "H" : "V")}-{random.Next(1, 6)}";
        var housing = $"H-{random.Next(1, 6)}";
        var valve = $"V-{random.Next(1, 6)}";
        var job = $"J-{random.Next(1, 3)}";
        var ofClass = random.Next(2) == 0 ? "P055" : "P070";
        var place = random.Next(4) switch { 0 => "Q-01", 1 => "S-02", _ => "S-01" };
        return random.Next(9) switch
        {
            0 or 1 or 2 => Send(new FormPair.Command(NewId(), $"P-{random.Next(1_000_000)}", housing, valve, PairOrigin.BySelection, place, Money.Zero), Supervisor),
            3 => Send(new TakePairApart.Command(NewId(), one, "Q-01", "random"), Supervisor),
            4 => Send(new MoveUnit.Command(NewId(), one, place), Supervisor),
            5 => Send(new KeepPairForJob.Command(NewId(), one, job, ofClass, LetGo: random.Next(2) == 0), Supervisor),
            6 => Send(new ReleasePair.Command(NewId(), one), Supervisor),
            7 => Send(new ReRateValve.Command(NewId(), valve, ofClass, ofClass == "P055" ? 5_500_000 : 7_000_000, "bench", 3, 1_200_000, "random"), Supervisor),
            _ => MeasureAndRelease(one),
        };
    }

    private async Task<Domain.Outcomes.Outcome<UnitActed>> MeasureAndRelease(string tag)
    {
        try
        {
            await Measure(tag);
        }
        catch (DbUpdateException)
        {
            // Two callers measured the same half in the same minute of the stopped clock; one measurement is enough.
        }
        return await Send(new ReleaseUnit.Command(NewId(), tag, "S-01"), Supervisor);
    }

    private async Task Sound()
    {
        var pairs = await Store.With(db => db.Pairs.AsNoTracking().Include(row => row.Halves).ToListAsync());
        foreach (var pair in pairs)
        {
            if (pair.State != PairState.Together)
            {
                Assert.True(pair.Halves.Count == 0 && pair.LocationId is null && pair.Job is null, $"{pair.Code} has ended and still has something (seed {Seed}).");
                continue;
            }
            Assert.True(pair.Halves.Count == 2 && pair.Housing() is not null && pair.Valve() is not null, $"{pair.Code} is not one housing and one valve (seed {Seed}).");
            Assert.True(pair.LocationId is not null, $"{pair.Code} is nowhere (seed {Seed}).");
            Assert.All(pair.Halves, half => Assert.True(half.LocationId is null && half.Job is null && half.FamilyId == pair.FamilyId
                && (half.PressureClassId is null || half.PressureClassId == pair.PressureClassId), $"{half.Tag} is not where its pair is (seed {Seed})."));
        }
        var loose = await Store.With(db => db.Units.AsNoTracking().Where(row => row.PairId == null).ToListAsync());
        Assert.All(loose, unit => Assert.True(unit.LocationId is not null || unit.State is UnitState.Condemned or UnitState.Gone, $"{unit.Tag} is nowhere (seed {Seed})."));
    }
}

public sealed class PairModelOnSqlite(SqliteStore store) : PairModelSpecification<SqliteStore>(store);

public sealed class PairModelOnPostgreSql(PostgreSqlStore store) : PairModelSpecification<PostgreSqlStore>(store);

public sealed class PairModelOnSqlServer(SqlServerStore store) : PairModelSpecification<SqlServerStore>(store);
