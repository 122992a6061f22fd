using System.Data.Common;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Measures;
using PartsLedger.Fit;
using PartsLedger.Integration.Tests.Databases;

namespace PartsLedger.Integration.Tests.Fit;

public abstract class PairSpecification<TStore>(TStore store) : BenchSpecification<TStore>(store) where TStore : Store
{
    [Fact]
    public async Task Halves_of_one_core_stay_a_pair_and_have_no_place_of_their_own()
    {
        await PairOutOfACore("1");
        var halves = await Store.With(db => db.Units.Include(row => row.Pair!.Location).ToListAsync());
        Assert.Equal(2, halves.Count);
        Assert.All(halves, half =>
        {
            Assert.Null(half.LocationId);
            Assert.Equal("P-1", half.Pair?.Code);
            Assert.Equal("S-01", half.Pair?.Location?.Code);
        });
    }

    [Fact]
    public async Task Moving_either_half_moves_the_pair()
    {
        await PairOutOfACore("1");
        var acted = await Accepted(new MoveUnit.Command(NewId(), "v-1", "S-02"));
        Assert.Contains("H-1 and V-1 together", acted.Done, StringComparison.Ordinal);
        Assert.Equal("S-02", await Store.With(db => db.Pairs.Select(row => row.Location!.Code).SingleAsync()));
    }

    [Theory]
    [InlineData("update units set location_id = (select min(id) from locations)")]
    [InlineData("update units set location_id = (select max(id) from locations) where role = 'valve'")]
    [InlineData("update units set job = 'J-1' where role = 'housing'")]
    [InlineData("update units set pressure_class_id = null where role = 'valve'")]
    [InlineData("update units set pressure_class_id = (select id from pressure_classes where code = 'P070') where role = 'valve'")]
    [InlineData("update units set pressure_class_id = (select id from pressure_classes where code = 'P070') where role = 'housing'")]
    [InlineData("update units set family_id = (select id from families where code = 'OM45')")]
    [InlineData("update units set pair_id = (select min(id) from pairs)")]
    [InlineData("update units set role = 'housing'")]
    [InlineData("update pairs set family_id = (select id from families where code = 'OM45')")]
    [InlineData("update pairs set pressure_class_id = (select id from pressure_classes where code = 'P070')")]
    [InlineData("update pairs set state = 'taken-apart'")]
    [InlineData("update pairs set state = 'lost'")]
    [InlineData("delete from pairs")]
    [InlineData("update unit_events set what = 'nothing'")]
    [InlineData("delete from unit_events")]
    public async Task The_database_itself_refuses_to_part_or_mix_halves(string sql)
    {
        await PairOutOfACore("1");
        await PairOutOfACore("2");
        await Assert.ThrowsAnyAsync<DbException>(() => Store.With(db => db.Database.ExecuteSqlRawAsync(sql)));
    }

    [Fact]
    public async Task Taking_a_pair_apart_needs_a_supervisor_a_reason_and_a_quarantine_place()
    {
        await PairOutOfACore("1");
        await Refused("NOT_ALLOWED", new TakePairApart.Command(NewId(), "P-1", "Q-01", "valve sticks"));
        await Refused("REASON_MISSING", new TakePairApart.Command(NewId(), "P-1", "Q-01", " "), Supervisor);
        await Refused("NOT_A_QUARANTINE_PLACE", new TakePairApart.Command(NewId(), "P-1", "S-02", "valve sticks"), Supervisor);
        await Accepted(new TakePairApart.Command(NewId(), "H-1", "Q-01", "valve sticks"), Supervisor);

        var halves = await Store.With(db => db.Units.Include(row => row.Location).ToListAsync());
        Assert.All(halves, half =>
        {
            Assert.Equal(UnitState.Quarantine, half.State);
            Assert.Equal("Q-01", half.Location?.Code);
            Assert.Null(half.PairId);
        });
        await Refused("PAIR_NOT_TOGETHER", new TakePairApart.Command(NewId(), "P-1", "Q-01", "again"), Supervisor);
    }

    [Fact]
    public async Task A_half_leaves_quarantine_only_after_it_was_measured_again()
    {
        await PairOutOfACore("1");
        await Measure("V-1");
        Store.Clock.Advance(TimeSpan.FromHours(1));
        await Accepted(new TakePairApart.Command(NewId(), "P-1", "Q-01", "valve sticks"), Supervisor);
        await Refused("NOT_MEASURED_AGAIN", new ReleaseUnit.Command(NewId(), "V-1", "S-01"));
        await Refused("UNIT_NOT_USABLE", new MoveUnit.Command(NewId(), "V-1", "S-01"));
        await Measure("V-1");
        await Refused("A_QUARANTINE_PLACE", new ReleaseUnit.Command(NewId(), "V-1", "Q-01"));
        await Accepted(new ReleaseUnit.Command(NewId(), "V-1", "S-01"));
        await Refused("NOT_IN_QUARANTINE", new ReleaseUnit.Command(NewId(), "V-1", "S-02"));
        await Refused("NOT_MEASURED_AGAIN", new ReleaseUnit.Command(NewId(), "H-1", "S-01"));
    }

    [Fact]
    public async Task Only_a_housing_and_a_valve_of_one_family_and_class_become_a_pair()
    {
        await Loose("H-1", UnitRole.Housing);
        await Loose("H-2", UnitRole.Housing, ofClass: "P070");
        await Loose("H-9", UnitRole.Housing, "OM45");
        await Loose("V-1", UnitRole.Valve, ofClass: "P055");
        await Loose("V-2", UnitRole.Valve, ofClass: "P055");
        await Loose("V-3", UnitRole.Valve);
        await Refused("WRONG_ROLE", Pair("V-1", "V-2"));
        await Refused("WRONG_ROLE", Pair("H-1", "H-2"));
        await Refused("OTHER_FAMILY", Pair("H-9", "V-1"));
        Assert.StartsWith("WRONG PRESSURE CLASS", (await Refused("OTHER_CLASS", Pair("H-2", "V-1"))).Sentence, StringComparison.Ordinal);
        await Refused("CLASS_MISSING", Pair("H-1", "V-3"));
        await Refused("NOT_FROM_ONE_CORE", Pair("H-1", "V-1") with { Origin = PairOrigin.AsReceived });
        await Refused("TAG_TAKEN", Pair("H-1", "V-1") with { Code = "v-2" });
        await Refused("UNKNOWN_TAG", Pair("H-1", "V-77"));
        await Accepted(Pair("H-1", "V-1"));
        Assert.Contains("P-9", (await Refused("ALREADY_PAIRED", Pair("H-1", "V-2") with { Code = "P-10" })).Sentence, StringComparison.Ordinal);
        await Refused("ALREADY_PAIRED", Pair("H-2", "V-1") with { Code = "P-10" });
    }

    [Theory]
    [InlineData("V\u200b-1", "TAG_INVISIBLE")]
    [InlineData("V-\u00a01", "TAG_INVISIBLE")]
    [InlineData("\u0412-1", "TAG_LOOKALIKE")]
    [InlineData("V-1;drop", "TAG_CHARACTER")]
    [InlineData("V", "TAG_LENGTH")]
    [InlineData("V-000000000000000000000000000000000001", "TAG_LENGTH")]
    public async Task A_tag_that_only_looks_right_is_refused(string tag, string code)
    {
        await Loose("H-1", UnitRole.Housing);
        await Loose("V-1", UnitRole.Valve, ofClass: "P055");
        await Refused(code, Pair("H-1", tag));
    }

    [Fact]
    public async Task Condemning_half_of_a_pair_says_what_becomes_of_the_other_half()
    {
        await PairOutOfACore("1");
        await Refused("SUPERVISOR_NEEDED", new CondemnUnit.Command(NewId(), "V-1", "scored"));
        await Refused("OTHER_HALF_MISSING", new CondemnUnit.Command(NewId(), "V-1", "scored"), Supervisor);
        await Refused("NOT_A_QUARANTINE_PLACE", new CondemnUnit.Command(NewId(), "V-1", "scored", "to be measured"), Supervisor);
        await Accepted(new CondemnUnit.Command(NewId(), "V-1", "scored", "to be measured for another valve", Location: "Q-01"), Supervisor);
        Assert.Equal(UnitState.Condemned, await Store.With(db => db.Units.Where(row => row.Tag == "V-1").Select(row => row.State).SingleAsync()));
        Assert.Equal(UnitState.Quarantine, await Store.With(db => db.Units.Where(row => row.Tag == "H-1").Select(row => row.State).SingleAsync()));
        Assert.Equal(PairState.Condemned, await Store.With(db => db.Pairs.Select(row => row.State).SingleAsync()));
        await Refused("UNIT_NOT_USABLE", new CondemnUnit.Command(NewId(), "V-1", "again"), Supervisor);
    }

    [Fact]
    public async Task The_history_names_every_housing_a_valve_was_ever_in()
    {
        await PairOutOfACore("1");
        Store.Clock.Advance(TimeSpan.FromHours(1));
        await Accepted(new TakePairApart.Command(NewId(), "P-1", "Q-01", "bore scored"), Supervisor);
        await Measure("V-1");
        await Accepted(new ReleaseUnit.Command(NewId(), "V-1", "S-01"));
        await Loose("H-2", UnitRole.Housing);
        await Accepted(Pair("H-2", "V-1"));
        var history = await Ask<UnitHistory.Query, UnitHistory.Answer>(new("V-1"));
        Assert.Equal(["H-1", "H-2"], history.Partners);
        Assert.Equal(["torn down", "paired", "taken apart", "released", "paired"], history.Entries.Select(entry => entry.What));
        Assert.Equal("bore scored", history.Entries[2].Why);
    }

    [Fact]
    public async Task Two_scans_say_whether_two_halves_belong_together_and_why_not()
    {
        await PairOutOfACore("1");
        await PairOutOfACore("2");
        await Loose("H-9", UnitRole.Housing, "OM45");
        await Loose("V-8", UnitRole.Valve, ofClass: "P070");
        await Loose("H-8", UnitRole.Housing, ofClass: "P055");
        Assert.Equal(new BelongTogether.Answer(true, "YES: V-1 and H-1 are pair P-1."), await Together("V-1", "H-1"));
        Assert.Contains("twice", (await Together("V-1", "V-1")).Why, StringComparison.Ordinal);
        Assert.Contains("both are valves", (await Together("V-1", "V-2")).Why, StringComparison.Ordinal);
        Assert.Contains("family", (await Together("V-1", "H-9")).Why, StringComparison.Ordinal);
        Assert.Contains("class", (await Together("V-8", "H-8")).Why, StringComparison.Ordinal);
        Assert.Contains("V-1 belongs with H-1", (await Together("V-1", "H-2")).Why, StringComparison.Ordinal);
        await Accepted(new TakePairApart.Command(NewId(), "P-1", "Q-01", "valve sticks"), Supervisor);
        var parted = await Together("V-1", "H-1");
        Assert.False(parted.Together);
        Assert.Contains($"they were pair P-1, which ended on {Store.Clock.GetUtcNow():yyyy-MM-dd}", parted.Why, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Shims_go_back_as_they_came()
    {
        await PairOutOfACore("1");
        var refusal = await Refused("SHIMS_DIFFER", new ConfirmShims.Command(NewId(), "V-1", 2, 800_000));
        Assert.Contains("3 shims, 1.200 mm", refusal.Sentence, StringComparison.Ordinal);
        Assert.Contains("2 shims, 0.800 mm", refusal.Sentence, StringComparison.Ordinal);
        await Refused("SHIMS_ALREADY_RECORDED", new ConfirmShims.Command(NewId(), "V-1", 2, 800_000, Record: true));
        await Refused("SHIMS_OUT_OF_RANGE", new ConfirmShims.Command(NewId(), "V-1", -1, 800_000));
        await Refused("WRONG_ROLE", new ConfirmShims.Command(NewId(), "H-1", 3, 1_200_000));
        await Accepted(new ConfirmShims.Command(NewId(), "V-1", 3, 1_205_000));
    }

    [Fact]
    public async Task A_class_is_changed_only_by_a_supervisor_with_what_the_bench_showed()
    {
        await PairOutOfACore("1");
        var act = new ReRateValve.Command(NewId(), "V-1", "P070", 7_050_000, "bench 2, record 118", 4, 1_600_000, "customer's order");
        await Refused("NOT_ALLOWED", act);
        await Refused("BENCH_SHOWS_OTHER_CLASS", act with { RequestId = NewId(), ReliefPascals = 6_000_000 }, Supervisor);
        await Refused("SAME_CLASS", act with { RequestId = NewId(), NewClass = "P055", ReliefPascals = 5_500_000 }, Supervisor);
        await Refused("UNKNOWN_CLASS", act with { RequestId = NewId(), NewClass = "P999" }, Supervisor);
        await Accepted(act with { RequestId = NewId() }, Supervisor);
        var pair = await Store.With(db => db.Pairs.Include(row => row.PressureClass).Include(row => row.Halves).SingleAsync());
        Assert.Equal("P070", pair.PressureClass.Code);
        Assert.Equal(2, pair.Halves.Count);
        Assert.False(pair.Released);
        Assert.Contains((await Ask<UnitHistory.Query, UnitHistory.Answer>(new("V-1"))).Entries, entry => entry.What == "re-rated" && entry.Detail!.Contains("P055 to P070", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_pair_is_kept_for_a_job_of_its_class_as_one_and_only_once_it_is_released()
    {
        await PairOutOfACore("1");
        var keep = new KeepPairForJob.Command(NewId(), "P-1", "J-1", "P055");
        await Refused("PAIR_NOT_RELEASED", keep);
        await Refused("NOT_MEASURED", new ReleasePair.Command(NewId(), "P-1"));
        await Measure("H-1");
        await Measure("V-1");
        await Accepted(new ReleasePair.Command(NewId(), "P-1"));
        await Refused("OTHER_CLASS", keep with { RequestId = NewId(), PressureClass = "P070" });
        await Accepted(keep with { RequestId = NewId() });
        Assert.Contains("J-1", (await Refused("KEPT_FOR_JOB", keep with { RequestId = NewId(), Job = "J-2" })).Sentence, StringComparison.Ordinal);
        await Refused("KEPT_FOR_JOB", new TakePairApart.Command(NewId(), "P-1", "Q-01", "why not"), Supervisor);
        await Refused("NOT_KEPT", keep with { RequestId = NewId(), Job = "J-2", LetGo = true });
        Store.Clock.Advance(TimeSpan.FromDays(15));
        await Accepted(keep with { RequestId = NewId(), Job = "J-2" });
        await Accepted(keep with { RequestId = NewId(), Job = "J-2", LetGo = true });
    }

    [Fact]
    public async Task A_scan_says_what_it_is_where_it_belongs_and_what_not_to_do()
    {
        await PairOutOfACore("1");
        await Loose("V-8", UnitRole.Valve, ofClass: "P070");
        var half = await Scan("V-1");
        Assert.Equal(("valve", "S-01"), (half.Kind, half.Where));
        Assert.Contains("H-1 (housing), in S-01. KEEP TOGETHER.", half.With, StringComparison.Ordinal);
        Assert.Equal("HALF OF A PAIR: keep with H-1.", half.Alert);
        Assert.StartsWith("WRONG PRESSURE CLASS: V-1 is P055, the job is P070", (await Ask<Scan.Query, Scan.Answer>(new("V-1", "P070"))).Alert, StringComparison.Ordinal);
        Assert.Equal("pair", (await Scan("p-1")).Kind);
        Assert.Equal("core", (await Scan("C-1")).Kind);
        Assert.Equal("place", (await Scan("S-01")).Kind);
        Assert.Equal("part", (await Scan("30ROT")).Kind);
        Assert.StartsWith("QUARANTINE", (await Scan("Q-01")).Alert, StringComparison.Ordinal);
        await ScanRefused("SCAN_RUN_TOGETHER", "V-8V-8");
        await ScanRefused("SCAN_HALF", "V-");
        await ScanRefused("SCAN_UNKNOWN", "ZZZ");
        await ScanRefused("SCAN_EMPTY", "  ");
        await ScanRefused("SCAN_UNREADABLE", "V-\u00031");
        await ScanRefused("SCAN_UNREADABLE", new string('9', 5000));
    }

    private static FormPair.Command Pair(string housing, string valve) =>
        new(NewId(), "P-9", housing, valve, PairOrigin.BySelection, "S-01", Money.FromTenThousandths(250_000));

    private Task<BelongTogether.Answer> Together(string first, string second) => Ask<BelongTogether.Query, BelongTogether.Answer>(new(first, second));

    private Task<Scan.Answer> Scan(string code) => Ask<Scan.Query, Scan.Answer>(new(code));

    private async Task ScanRefused(string code, string scanned)
    {
        var outcome = await Store.Dispatcher.Ask<Scan.Query, Scan.Answer>(new(scanned), CancellationToken.None);
        Assert.Equal(code, outcome.Refusal?.Code);
    }
}

public sealed class PairsOnSqlite(SqliteStore store) : PairSpecification<SqliteStore>(store);

public sealed class PairsOnPostgreSql(PostgreSqlStore store) : PairSpecification<PostgreSqlStore>(store);

public sealed class PairsOnSqlServer(SqlServerStore store) : PairSpecification<SqlServerStore>(store);
