using System.Collections.Concurrent;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Measures;
using PartsLedger.Fit;
using PartsLedger.Hosting;
using PartsLedger.Integration.Tests.Databases;

namespace PartsLedger.Integration.Tests.Fit;

/// <summary>
/// Random sequences of every request that changes what becomes of units and pairs, by many callers at once: form, part, condemn, move, keep,
/// re-rate, measure and release; propose and hold, accept in whole or in part, let go. Whatever was accepted: no pair is in two places, in two
/// jobs or made of anything but one housing and one valve of its family and class, no half is anywhere its pair is not, what is condemned is
/// in no pair and nowhere, and no half is held by two proposals.
/// </summary>
public abstract class PairModelSpecification<TStore>(TStore store) : BenchSpecification<TStore>(store) where TStore : Store
{
    private static readonly int Acts = int.TryParse(Environment.GetEnvironmentVariable("PARTSLEDGER_PAIR_ACTS"), out var acts) ? acts : 400;
    private static readonly int Seed = int.TryParse(Environment.GetEnvironmentVariable("PARTSLEDGER_SEED"), out var seed) ? seed : Random.Shared.Next();

    private readonly ConcurrentBag<long> _proposals = [];
    private int _halves = 5, _accepted, _joined, _condemned;

    [Theory]
    [InlineData(1)]
    [InlineData(8)]
    public async Task No_sequence_of_requests_parts_or_mixes_a_pair(int callers)
    {
        await Store.With(db => db.Families.Where(row => row.Code == "VS30").ExecuteUpdateAsync(row => row
            .SetProperty(family => family.ClearanceMin, Length.FromNanometres(6_000)).SetProperty(family => family.ClearanceTarget, Length.FromNanometres(12_000))
            .SetProperty(family => family.ClearanceMax, Length.FromNanometres(20_000)).SetProperty(family => family.FormLimit, Length.FromNanometres(4_000))));
        for (var at = 1; at <= 5; at++)
        {
            await Loose($"H-{at}", UnitRole.Housing, at == 5 ? "OM45" : "VS30", at == 4 ? "P070" : null);
            await Loose($"V-{at}", UnitRole.Valve, at == 5 ? "OM45" : "VS30", at >= 3 ? "P070" : "P055");
        }
        foreach (var tag in (string[])["H-1", "V-1", "H-2", "V-2", "H-3", "V-3"]) await Measure(tag);

        TestContext.Current.TestOutputHelper?.WriteLine($"PARTSLEDGER_SEED={Seed}");
        await Task.WhenAll(Enumerable.Range(0, callers).Select(caller => Task.Run(async () =>
        {
            var random = new Random(Seed + caller);
            for (var act = 0; act < Acts / callers; act++)
            {
                if (await Any(random)) Interlocked.Increment(ref _accepted);
                if (act % 20 == 0 || callers == 1) await Sound();
            }
        })));
        await Sound();

        // The sequences do something: among the acts some are taken, the rare ones among them.
        TestContext.Current.TestOutputHelper?.WriteLine($"{_accepted} of {Acts} acts accepted; {_joined} pairs out of proposals, {_condemned} condemned.");
        Assert.True(_accepted > Acts / 50, $"Only {_accepted} acts were accepted (seed {Seed}).");
        Assert.True(_condemned + _joined > 0, $"Nothing was condemned or joined out of a proposal (seed {Seed}).");
    }

    private async Task<bool> Any(Random random)
    {
        var (housing, valve) = ($"H-{Half()}", $"V-{Half()}");
        var one = random.Next(2) == 0 ? housing : valve;
        var ofClass = random.Next(2) == 0 ? "P055" : "P070";
        var place = random.Next(4) switch { 0 => "Q-01", 1 => "S-02", _ => "S-01" };
        return random.Next(18) switch
        {
            0 or 1 or 2 => await Taken(new FormPair.Command(NewId(), NewCode(), housing, valve, PairOrigin.BySelection, place, Money.Zero)),
            3 => await Taken(new TakePairApart.Command(NewId(), one, "Q-01", "random")),
            4 => await Taken(new MoveUnit.Command(NewId(), one, place)),
            5 => await Taken(new KeepPairForJob.Command(NewId(), one, $"J-{random.Next(1, 3)}", ofClass, LetGo: random.Next(2) == 0)),
            6 => await Taken(new ReleasePair.Command(NewId(), one)),
            7 => await Taken(new ReRateValve.Command(
                NewId(), valve, ofClass, ofClass == "P055" ? 5_500_000 : 7_000_000, "bench", 3, 1_200_000, "random")),
            8 => random.Next(3) == 0 && await Condemned(),
            9 => random.Next(3) == 0 && await AnotherHalf(),
            10 or 11 => await Held(),
            12 or 13 => Proposal() is { } proposal && await Joined(new AcceptProposal.Command(
                NewId(), proposal, place, random.Next(2) == 0 ? null : [housing], $"{NewCode()}-")),
            14 => random.Next(3) == 0 && Proposal() is { } unwanted && await Taken(new LetProposalGo.Command(NewId(), unwanted)),
            _ => await MeasuredAndReleased(one),
        };

        // Of the halves that came in, the newer ones are met more often: the older are condemned sooner or later.
        int Half() => Math.Max(1, Volatile.Read(ref _halves) - random.Next(6) + 1 - random.Next(2));
        string NewCode() => $"P-{random.Next(1_000_000)}";
        long? Proposal() => _proposals.IsEmpty ? null : _proposals.ElementAt(random.Next(Math.Min(_proposals.Count, 3)));

        async Task<bool> Condemned()
        {
            var condemned = await Taken(new CondemnUnit.Command(NewId(), one, "random", "to quarantine", random.Next(3) == 0, "Q-01"));
            if (condemned) Interlocked.Increment(ref _condemned);
            return condemned;
        }

        async Task<bool> AnotherHalf()
        {
            var at = Interlocked.Increment(ref _halves);
            await Loose($"H-{at}", UnitRole.Housing);
            await Loose($"V-{at}", UnitRole.Valve, ofClass: ofClass);
            return await MeasuredAndReleased($"H-{at}") | await MeasuredAndReleased($"V-{at}");
        }

        async Task<bool> Held()
        {
            var held = await Store.Dispatcher.Send<HoldProposal.Command, HoldProposal.Answer>(
                new(NewId(), "VS30", random.Next(2) == 0 ? null : ofClass, random.Next(2) == 0, Hours: 1), Supervisor, CancellationToken.None);
            if (held.Succeeded) _proposals.Add(held.Result.Proposal);
            return held.Succeeded;
        }

        async Task<bool> Joined(AcceptProposal.Command act)
        {
            var accepted = await Store.Dispatcher.Send<AcceptProposal.Command, AcceptProposal.Answer>(act, Supervisor, CancellationToken.None);
            if (accepted.Succeeded) Interlocked.Add(ref _joined, accepted.Result.Pairs.Count);
            return accepted.Succeeded;
        }
    }

    private async Task<bool> Taken<TAct>(TAct act) where TAct : IAct<UnitActed> => (await Send(act, Supervisor)).Succeeded;

    private async Task<bool> MeasuredAndReleased(string tag)
    {
        if (!await Store.With(db => db.Units.AnyAsync(row => row.Tag == tag))) return false;
        try
        {
            await Measure(tag);
        }
        catch (DbUpdateException)
        {
            // Two callers measured the same half in the same minute of the stopped clock; one measurement is enough.
        }
        return await Taken(new ReleaseUnit.Command(NewId(), tag, "S-01"));
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
        var condemned = await Store.With(db => db.Units.AsNoTracking().Where(row => row.State == UnitState.Condemned).ToListAsync());
        Assert.All(condemned, unit => Assert.True(unit.PairId is null && unit.LocationId is null && unit.Job is null,
            $"{unit.Tag} is condemned and still has something (seed {Seed})."));
        var now = Store.Clock.GetUtcNow();
        var held = await Store.With(db => db.ProposalLines.AsNoTracking().Where(row => row.State == ProposalState.Held && row.Proposal.HeldUntil > now).ToListAsync());
        Assert.True(held.DistinctBy(line => line.HousingId).Count() == held.Count && held.DistinctBy(line => line.ValveId).Count() == held.Count,
            $"A half is held by two proposals (seed {Seed}).");
    }
}

public sealed class PairModelOnSqlite(SqliteStore store) : PairModelSpecification<SqliteStore>(store);

public sealed class PairModelOnPostgreSql(PostgreSqlStore store) : PairModelSpecification<PostgreSqlStore>(store);

public sealed class PairModelOnSqlServer(SqlServerStore store) : PairModelSpecification<SqlServerStore>(store);
