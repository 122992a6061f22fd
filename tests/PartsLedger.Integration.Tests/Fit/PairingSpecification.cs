using System.CommandLine;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Commands;
using PartsLedger.Data.Catalog;
using PartsLedger.Data.Fit;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Fit.Conformity;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Fit;
using PartsLedger.Hosting;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Stock;

namespace PartsLedger.Integration.Tests.Fit;

/// <summary>From measuring to pairs: what is recorded, proposed, held and accepted. The family's clearance is 6 to 20 µm, best 12.</summary>
public abstract class PairingSpecification<TStore>(TStore store) : BenchSpecification<TStore>(store) where TStore : Store
{
    private const string Family = "PX40";

    public override async ValueTask InitializeAsync()
    {
        await base.InitializeAsync();
        await Store.With(async db =>
        {
            db.Add(new FamilyRow
            {
                Code = Family, CodeKey = Family, Name = Family, ValveFit = ValveFit.Selective, Bore = Mm(16), ClearanceMin = Um(6), ClearanceTarget = Um(12),
                ClearanceMax = Um(20), FormLimit = Um(4), LandLength = Mm(12), HousingMaterial = "cast iron", ValveMaterial = "steel",
                Displacement = Volume.FromMicrolitres(9_600),
            });
            db.Add(new GaugeRow { Code = "FINE", CodeKey = "FINE", Kind = "air gauge", Uncertainty = Um(0.3m), CalibratedOn = new DateOnly(2031, 1, 10), DueOn = new DateOnly(2032, 1, 10) });
            db.Add(new GaugeRow { Code = "COARSE", CodeKey = "COARSE", Kind = "bore gauge", Uncertainty = Um(5) });
            db.Add(new GaugeRow { Code = "BLUNT", CodeKey = "BLUNT", Kind = "calliper", Uncertainty = Um(20) });
            db.Add(new GaugeRow { Code = "OVERDUE", CodeKey = "OVERDUE", Kind = "air gauge", Uncertainty = Um(0.3m), CalibratedOn = new DateOnly(2030, 1, 10), DueOn = new DateOnly(2031, 3, 11) });
            await db.SaveChangesAsync();
        });
    }

    [Fact]
    public async Task A_measurement_is_kept_and_told_at_20_degrees()
    {
        await Unit("H-1", UnitRole.Housing);

        // Cast iron 10.5e-6 per K, 6 K warm, 16.001008 mm: 1.008 µm of it is warmth (contract, section 4; check values, section C).
        var answer = await Measured(new RecordMeasurements.Line("h-1", "fine", 26_000, "16.001008; 16.001008"));
        Assert.Equal((16.000000m, 0m), (answer.Units[0].SizeMm, answer.Units[0].FormUm));
        Assert.Empty(answer.Units[0].Warnings);
        Assert.Null(answer.Units[0].Agreement);

        Store.Clock.Advance(TimeSpan.FromMinutes(5));
        var repeat = await Measured(new RecordMeasurements.Line("H-1", "FINE", 20_000, "16.0001;16.0003"));
        Assert.StartsWith("It agrees", repeat.Units[0].Agreement, StringComparison.Ordinal);
        Store.Clock.Advance(TimeSpan.FromMinutes(5));
        var far = await Measured(new RecordMeasurements.Line("H-1", "FINE", 20_000, "16.004;16.004"));
        Assert.StartsWith("IT DOES NOT AGREE", far.Units[0].Agreement, StringComparison.Ordinal);

        var history = await Ask<MeasurementsOf.Query, MeasurementsOf.Answer>(new("H-1"));
        Assert.Equal([16.004m, 16.0002m, 16m], history.Entries.Select(entry => entry.SizeMm));
        Assert.Equal([false, true, null], history.Entries.Select(entry => entry.Agrees));
    }

    [Theory]
    [InlineData("FINE", 20_000, "0.630", "READING_UNIT")]
    [InlineData("FINE", 20_000, "16000", "READING_UNIT")]
    [InlineData("FINE", 20_000, "16.0001;1.60001", "READING_UNIT")]
    [InlineData("FINE", 20_000, "16.0001;16.3", "SPREAD_IMPOSSIBLE")]
    [InlineData("FINE", 200_000, "16.0001", "TEMPERATURE_RANGE")]
    [InlineData("FINE", 20_000, "NaN", "READING_UNREADABLE")]
    [InlineData("FINE", 20_000, "", "NO_READINGS")]
    [InlineData("NO-SUCH", 20_000, "16.0001", "UNKNOWN_GAUGE")]
    [InlineData("BLUNT", 20_000, "16.0001", "GAUGE_TOO_COARSE")]
    public async Task A_measurement_that_cannot_be_is_refused_and_none_of_the_lot_is_kept(string gauge, int milliCelsius, string readings, string code)
    {
        await Unit("H-1", UnitRole.Housing);
        await Unit("H-2", UnitRole.Housing);
        var outcome = await Record(new("H-1", "FINE", 20_000, "16.0001"), new("H-2", gauge, milliCelsius, readings));
        Assert.Equal(code, outcome.Refusal?.Code);
        Assert.NotEmpty(outcome.Refusal!.WhatToDo);
        Assert.Equal(0, await Store.With(db => db.Measurements.CountAsync()));
    }

    [Fact]
    public async Task A_coarse_gauge_and_one_that_is_overdue_are_warned_about()
    {
        await Unit("H-1", UnitRole.Housing);
        Assert.Contains("less than 4 to 1", (await Measured(new RecordMeasurements.Line("H-1", "COARSE", 20_000, "16.0001"))).Units[0].Warnings[0], StringComparison.Ordinal);
        Store.Clock.Advance(TimeSpan.FromMinutes(1));
        Assert.Contains("was due", (await Measured(new RecordMeasurements.Line("H-1", "OVERDUE", 20_000, "16.0001"))).Units[0].Warnings[0], StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_most_pairs_are_proposed_and_every_other_half_says_why_not()
    {
        // Nearest first would give two pairs (check values, section J, first constructed table, moved by 3 µm).
        foreach (var (at, um) in new[] { 1m, 9, 11 }.Index()) await Half($"H-{at}", UnitRole.Housing, 16_000 + um - 3);
        foreach (var (at, um) in new[] { -15m, -8, -7 }.Index()) await Half($"V-{at}", UnitRole.Valve, 16_000 + um);
        await Unit("H-8", UnitRole.Housing);
        await Half("H-9", UnitRole.Housing, 16_100);
        await Half("V-9", UnitRole.Valve, 15_990, form: 9);
        var shown = (await Ask<ProposePairs.Query, ProposePairs.Answer>(new(Family))).Shown;
        Assert.Equal(3, shown.Count);
        Assert.Equal([("H-8", "It has not been measured."), ("H-9", "No valve is left that fits")],
            shown.UnpairedHousings.Select(unit => (unit.Tag, unit.Why.Split(':')[0])));
        Assert.Contains("the family allows 4 µm", Assert.Single(shown.UnpairedValves).Why, StringComparison.Ordinal);
        Check(shown, (housing, valve) => (Sizes[housing].Size - Sizes[valve].Size, Sizes[housing].Guard + Sizes[valve].Guard));
    }

    [Fact]
    public async Task A_class_pairs_only_its_own_valves()
    {
        await Half("H-1", UnitRole.Housing, 16_012);
        await Half("H-2", UnitRole.Housing, 16_012, ofClass: "P070");
        await Half("V-1", UnitRole.Valve, 16_000, ofClass: "P070");
        await Half("V-2", UnitRole.Valve, 16_000);
        Assert.Equal(2, (await Ask<ProposePairs.Query, ProposePairs.Answer>(new(Family))).Shown.Count);
        var low = (await Ask<ProposePairs.Query, ProposePairs.Answer>(new(Family, "p055"))).Shown;
        Assert.Equal(("P055", "H-1", "V-2"), (low.Class, low.Pairs.Single().Housing, low.Pairs.Single().Valve));
        Assert.Equal("UNKNOWN_CLASS", (await Store.Dispatcher.Ask<ProposePairs.Query, ProposePairs.Answer>(new(Family, "P999"), CancellationToken.None)).Refusal?.Code);
        var family = (await Store.Dispatcher.Ask<ProposePairs.Query, ProposePairs.Answer>(new("PX41"), CancellationToken.None)).Refusal;
        Assert.Equal("UNKNOWN_FAMILY", family?.Code);
        Assert.Contains(Family, family!.WhatToDo, StringComparison.Ordinal);
        Assert.Equal("LIMITS_MISSING", (await Store.Dispatcher.Ask<ProposePairs.Query, ProposePairs.Answer>(new("OM45"), CancellationToken.None)).Refusal?.Code);
    }

    [Fact]
    public async Task A_held_proposal_keeps_its_halves_and_becomes_pairs_in_part_and_whole()
    {
        await Two();
        var held = await Hold();
        Assert.Equal(2, held.Shown.Count);
        Assert.All((await Ask<ProposePairs.Query, ProposePairs.Answer>(new(Family))).Shown.UnpairedHousings,
            unit => Assert.Equal($"Proposal {held.Proposal} holds it.", unit.Why));
        await Refused("HELD_BY_PROPOSAL", new FormPair.Command(NewId(), "P-X", "H-1", "V-2", PairOrigin.BySelection, "S-01", Money.Zero));

        var inHand = Assert.Single(await Held());
        Assert.Equal((held.Proposal, Family, "rebuilder", held.HeldUntil), (inHand.Proposal, inHand.Family, inHand.By, inHand.Until));
        Assert.Equal(held.Shown.Pairs, inHand.Pairs);

        var part = await Accept(new(NewId(), held.Proposal, "S-01", ["h-2"]));
        Assert.Equal(("P-H-2", 1), (part.Pairs.Single().Pair, part.StillHeld));
        Assert.Equal("H-1", Assert.Single(Assert.Single(await Held()).Pairs).Housing);
        var rest = await Accept(new(NewId(), held.Proposal, "S-01"));
        Assert.Empty(await Held());
        Assert.Equal(("H-1", 0), (rest.Pairs.Single().Housing, rest.StillHeld));
        Assert.Equal([("P-H-1", PairOrigin.BySelection), ("P-H-2", PairOrigin.BySelection)],
            (await Store.With(db => db.Pairs.OrderBy(row => row.Code).Select(row => new { row.Code, row.Origin }).ToListAsync())).Select(row => (row.Code, row.Origin)));
        Assert.Equal("PROPOSAL_STALE", (await Accepting(new(NewId(), held.Proposal, "S-01"))).Refusal?.Code);
        Assert.Equal("UNKNOWN_PROPOSAL", (await Accepting(new(NewId(), 999_999, "S-01"))).Refusal?.Code);
    }

    [Fact]
    public async Task A_stale_proposal_makes_no_pair_at_all()
    {
        await Two();
        var held = await Hold();
        Store.Clock.Advance(TimeSpan.FromMinutes(1));
        await Measured(new RecordMeasurements.Line("V-1", "FINE", 20_000, "15.9995"));
        var refusal = (await Accepting(new(NewId(), held.Proposal, "S-01"))).Refusal;
        Assert.Equal("PROPOSAL_STALE", refusal?.Code);
        Assert.Contains("V-1 was measured again", refusal!.Sentence, StringComparison.Ordinal);
        Assert.Equal(0, await Store.With(db => db.Pairs.CountAsync()));
        await Accepted(new LetProposalGo.Command(NewId(), held.Proposal));
        Assert.Equal(2, (await Hold()).Shown.Count);

        Store.Clock.Advance(TimeSpan.FromHours(HoldProposal.DefaultHours));
        Assert.Equal(2, (await Hold()).Shown.Count);
    }

    [Fact]
    public async Task Two_who_hold_at_once_never_hold_the_same_half()
    {
        await Two();
        var outcomes = await Task.WhenAll(Enumerable.Range(0, 4).Select(_ => Task.Run(() =>
            Store.Dispatcher.Send<HoldProposal.Command, HoldProposal.Answer>(new(NewId(), Family), Rebuilder, CancellationToken.None))));
        Assert.Equal(2, outcomes.Where(outcome => outcome.Succeeded).Sum(outcome => outcome.Result.Shown.Count));
        Assert.All(outcomes.Where(outcome => !outcome.Succeeded), outcome => Assert.Equal("NOTHING_TO_PAIR", outcome.Refusal?.Code));
    }

    [Fact]
    public async Task A_pair_by_selection_must_fit()
    {
        await Half("H-1", UnitRole.Housing, 16_012);
        await Half("V-1", UnitRole.Valve, 16_008);
        await Half("V-2", UnitRole.Valve, 16_005.8m);
        await Unit("V-3", UnitRole.Valve);
        FormPair.Command With(string valve) => new(NewId(), "P-1", "H-1", valve, PairOrigin.BySelection, "S-01", Money.Zero);
        await Refused("DOES_NOT_FIT", With("V-1"));
        await Refused("CANNOT_TELL", With("V-2"));
        await Refused("NOT_MEASURED", With("V-3"));
        await Half("V-4", UnitRole.Valve, 16_000);
        await Accepted(With("V-4"));
    }

    [Fact]
    public async Task A_shop_that_keeps_no_guard_band_accepts_at_the_limits()
    {
        await Half("H-1", UnitRole.Housing, 16_012);
        await Half("V-1", UnitRole.Valve, 16_005.8m);
        Assert.Equal(FitOutcome.CannotTell, (await Ask<JudgeFit.Query, JudgeFit.Answer>(new("H-1", "V-1"))).Outcome);
        var chosen = await Store.Dispatcher.Send<SetShopChoice.Command, SetShopChoice.Answer>(new(NewId(), "guard-factor", "0"), Supervisor, CancellationToken.None);
        Assert.True(chosen.Succeeded, chosen.Refusal?.ToString());
        Assert.Equal(FitOutcome.Fits, (await Ask<JudgeFit.Query, JudgeFit.Answer>(new("H-1", "V-1"))).Outcome);
        Assert.Equal(1, (await Ask<ProposePairs.Query, ProposePairs.Answer>(new(Family))).Shown.Count);
        Assert.Equal("GUARD_FACTOR_RANGE", (await Store.Dispatcher.Send<SetShopChoice.Command, SetShopChoice.Answer>(
            new(NewId(), "guard-factor", "1.5"), Supervisor, CancellationToken.None)).Refusal?.Code);
    }

    [Fact]
    public async Task Honing_is_planned_for_what_is_left_and_sizes_are_listed_to_order()
    {
        await Half("H-1", UnitRole.Housing, 16_012);
        await Half("V-1", UnitRole.Valve, 16_000);
        await Half("H-2", UnitRole.Housing, 16_004);
        await Half("V-2", UnitRole.Valve, 16_000.5m);
        await Half("H-3", UnitRole.Housing, 16_030);
        var plan = await Ask<PlanHoning.Query, PlanHoning.Answer>(new(Family, null, 2, 20, 1.5m));

        // 3.5 µm now; least clearance 6 and both guards 0.6: two steps of 2 µm give 7.5.
        Assert.Equal([("H-2", "V-2", 4m, 3m, 7.5m)], plan.Plan.Select(pair => (pair.Housing, pair.Valve, pair.EnlargeUm, pair.Cost, pair.ClearanceUm)));
        Assert.Equal([3m], plan.LeastCost);
        Assert.Equal((2, 1), (plan.Sizes.Sum(size => size.Needed), plan.Sizes.Sum(size => size.OnHand)));
        foreach (var (query, code) in new (PlanHoning.Query, string?)[]
        {
            (new(Family, null, 0, 20), "HONING_STEPS"), (new(Family, null, 2, 1), "HONING_STEPS"), (new(Family, null, 0.001m, 2), "HONING_STEPS"),
            (new(Family, null, 2, 20, -1), "COST_OUT_OF_RANGE"), (new(Family, null, 2, 20, PlanHoning.LargestCost + 1), "COST_OUT_OF_RANGE"),
            (new(Family, null, 2, 20, BinUm: 0), "BIN_WIDTH"), (new(Family, null, 1, 1000, PlanHoning.LargestCost), null),
        })
            Assert.Equal(code, (await Store.Dispatcher.Ask<PlanHoning.Query, PlanHoning.Answer>(query, CancellationToken.None)).Refusal?.Code);
    }

    [Fact]
    public async Task A_clearance_is_drawn_with_every_half()
    {
        await Two();
        var answer = await Ask<ProposePairs.Query, ProposePairs.Answer>(new(Family));
        var drawing = System.Xml.Linq.XDocument.Parse(FitPlots.Sizes(answer));
        Assert.All((string[])["H-1", "H-2", "V-1", "V-2"], tag => Assert.Contains(tag, drawing.ToString(), StringComparison.Ordinal));
        Assert.Contains("Clearances of the proposed pairs, family PX40", System.Xml.Linq.XDocument.Parse(FitPlots.Clearances(answer)).ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_a_clearance_means_is_told_warm_and_with_its_leak()
    {
        await Half("H-1", UnitRole.Housing, 16_012);
        await Half("V-1", UnitRole.Valve, 16_000);
        var fit = await Ask<JudgeFit.Query, JudgeFit.Answer>(new("H-1", "V-1"));
        Assert.Equal((FitOutcome.Fits, 12m, 0m), (fit.Outcome, fit.ClearanceUm, fit.DeviationUm));

        // Check values, section C: a cast-iron bore around a steel spool closes by 0.96 µm from 20 to 80 °C on 16 mm; the bore's own 12 µm
        // grow by 0.008 µm more.
        Assert.Equal(11.048m, fit.WarmClearanceUm);
        Assert.InRange(fit.LeakMlPerMinute!.Value, fit.LeakMlPerMinute.Low, fit.LeakMlPerMinute.High);
        Assert.InRange(fit.LeakShareAtIdle!.Value, 0, 0.01);
    }

    [Fact]
    public async Task The_gauges_are_listed_and_an_unknown_one_names_the_nearest()
    {
        await Half("H-1", UnitRole.Housing, 16_012);
        var page = await Ask<FindGauges.Query, Page<FindGauges.Gauge>>(new(PageRequest.Read("gauges", 4, null).Result));
        Assert.Equal(["AG-1", "BLUNT", "COARSE", "FINE"], page.Entries.Select(entry => entry.Item.Code));
        var rest = await Ask<FindGauges.Query, Page<FindGauges.Gauge>>(new(new PageRequest(4, page.Entries[^1].Place)));
        Assert.Equal(("OVERDUE", true, 0), (rest.Entries.Single().Item.Code, rest.Entries[0].Item.Overdue, rest.Entries[0].Item.Measurements));
        Assert.Equal((false, 1), (page.Entries[^1].Item.Overdue, page.Entries[^1].Item.Measurements));
        Assert.Contains("FINE", (await Record(new RecordMeasurements.Line("H-1", "FINES", 20_000, "16.0001"))).Refusal!.WhatToDo, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Nothing_is_released_by_a_gauge_that_is_overdue()
    {
        await Half("H-1", UnitRole.Housing, 16_012, gauge: "OVERDUE");
        await Half("V-1", UnitRole.Valve, 16_000);
        await Store.With(db => db.Units.Where(row => row.Tag == "V-1").ExecuteUpdateAsync(row => row.SetProperty(unit => unit.ShimCount, 2)));
        await Accepted(new FormPair.Command(NewId(), "P-1", "H-1", "V-1", PairOrigin.BySelection, "S-01", Money.Zero));
        await Refused("GAUGE_OVERDUE", new ReleasePair.Command(NewId(), "P-1"));
        Store.Clock.Advance(TimeSpan.FromMinutes(1));
        await Measured(new RecordMeasurements.Line("H-1", "FINE", 20_000, "16.012"));
        await Accepted(new ReleasePair.Command(NewId(), "P-1"));
    }

    [Fact]
    public async Task The_pair_command_answers_as_agreed_and_changes_nothing()
    {
        await Two();
        var (status, output, error) = await Pair("--family", Family, "--class", "P055", "--json");
        Assert.True(status == 0, error);
        var answer = JsonDocument.Parse(output).RootElement;
        Assert.Equal(["family", "class", "pairs", "count", "sumSquaredDeviationUm2", "unpairedHousings", "unpairedValves"],
            answer.EnumerateObject().Select(property => property.Name));
        Assert.Equal(2, answer.GetProperty("count").GetInt32());
        Assert.Equal(["housing", "valve", "clearanceUm", "deviationUm"], answer.GetProperty("pairs")[0].EnumerateObject().Select(property => property.Name));
        Assert.Contains("2 pairs", (await Pair("--family", Family, "--first", "P055=1")).Output, StringComparison.Ordinal);
        Assert.Equal(2, (await Pair("--family", "PX4")).Status);
        Assert.Equal(2, (await Pair()).Status);
        Assert.Equal(2, (await Pair("--family", Family, "--first", "P055")).Status);
        Assert.Equal((0, 0), await Store.With(async db => (await db.Pairs.CountAsync(), await db.Proposals.CountAsync())));
    }

    // What each half was made with: size and guard in µm, worked out here from the contract's formula.
    private Dictionary<string, (decimal Size, decimal Guard)> Sizes { get; } = [];

    /// <summary>Every pair is within the limits by the contract's own formula, no half is used twice, and the sum is the sum.</summary>
    private static void Check(ProposePairs.Shown shown, Func<string, string, (decimal Clearance, decimal Guards)> of)
    {
        Assert.All(shown.Pairs, pair =>
        {
            var (clearance, guards) = of(pair.Housing, pair.Valve);
            Assert.InRange(clearance, 6 + guards, 20 - guards);
            Assert.Equal((clearance, clearance - 12), (pair.ClearanceUm, pair.DeviationUm));
        });
        Assert.Equal(shown.Count, shown.Pairs.Select(pair => pair.Housing).Distinct().Count());
        Assert.Equal(shown.Count, shown.Pairs.Select(pair => pair.Valve).Distinct().Count());
        Assert.Equal(shown.Pairs.Sum(pair => pair.DeviationUm * pair.DeviationUm), shown.SumSquaredDeviationUm2);
    }

    private async Task Two()
    {
        await Half("H-1", UnitRole.Housing, 16_011);
        await Half("H-2", UnitRole.Housing, 16_013);
        await Half("V-1", UnitRole.Valve, 15_999);
        await Half("V-2", UnitRole.Valve, 16_001);
    }

    private Task Unit(string tag, UnitRole role, string? ofClass = null) => Store.With(async db =>
    {
        var name = ofClass ?? (role == UnitRole.Valve ? "P055" : null);
        db.Add(new UnitRow
        {
            Tag = tag, TagKey = tag, Role = role, Family = await db.Families.SingleAsync(row => row.Code == Family), State = UnitState.Serviceable,
            Location = await db.Locations.SingleAsync(row => row.Code == "S-01"),
            PressureClass = name is null ? null : await db.PressureClasses.SingleAsync(row => row.Code == name),
        });
        await db.SaveChangesAsync();
    });

    /// <summary>A half, measured at 20 °C with two readings that lie around its size.</summary>
    private async Task Half(string tag, UnitRole role, decimal sizeUm, decimal form = 0, string? ofClass = null, string gauge = "FINE")
    {
        await Unit(tag, role, ofClass);
        await Measured(new RecordMeasurements.Line(tag, gauge, 20_000, FormattableString.Invariant($"{(sizeUm - (form / 2)) / 1000};{(sizeUm + (form / 2)) / 1000}")));
        Sizes[tag] = (sizeUm, (form / 2) + 0.3m);
    }

    private Task<Outcome<RecordMeasurements.Answer>> Record(params RecordMeasurements.Line[] lines) =>
        Store.Dispatcher.Send<RecordMeasurements.Command, RecordMeasurements.Answer>(new(NewId(), lines), Rebuilder, CancellationToken.None);

    private async Task<RecordMeasurements.Answer> Measured(params RecordMeasurements.Line[] lines)
    {
        var outcome = await Record(lines);
        Assert.True(outcome.Succeeded, outcome.Refusal?.ToString());
        return outcome.Result;
    }

    private async Task<IReadOnlyList<HeldProposals.Held>> Held() =>
        [.. (await Ask<HeldProposals.Query, Page<HeldProposals.Held>>(new(PageRequest.Read("held-proposals", 10, null).Result))).Entries.Select(entry => entry.Item)];

    private async Task<HoldProposal.Answer> Hold()
    {
        var outcome = await Store.Dispatcher.Send<HoldProposal.Command, HoldProposal.Answer>(new(NewId(), Family), Rebuilder, CancellationToken.None);
        Assert.True(outcome.Succeeded, outcome.Refusal?.ToString());
        return outcome.Result;
    }

    private Task<Outcome<AcceptProposal.Answer>> Accepting(AcceptProposal.Command act) =>
        Store.Dispatcher.Send<AcceptProposal.Command, AcceptProposal.Answer>(act, Rebuilder, CancellationToken.None);

    private async Task<AcceptProposal.Answer> Accept(AcceptProposal.Command act)
    {
        var outcome = await Accepting(act);
        Assert.True(outcome.Succeeded, outcome.Refusal?.ToString());
        return outcome.Result;
    }

    private async Task<(int Status, string Output, string Error)> Pair(params string[] more)
    {
        await using var output = new StringWriter();
        await using var error = new StringWriter();
        var status = await CommandLine.Run(["pair", "--db", $"{Store.Address.Database.Scheme}:{Store.Address.Connection}", .. more],
            new InvocationConfiguration { Output = output, Error = error });
        return (status, output.ToString(), error.ToString());
    }

    private static Length Mm(decimal value) => Length.FromNanometres((long)(value * 1_000_000));

    private static Length Um(decimal value) => Length.FromNanometres((long)(value * 1_000));
}

public sealed class PairingOnSqlite(SqliteStore store) : PairingSpecification<SqliteStore>(store);

public sealed class PairingOnPostgreSql(PostgreSqlStore store) : PairingSpecification<PostgreSqlStore>(store);

public sealed class PairingOnSqlServer(SqlServerStore store) : PairingSpecification<SqlServerStore>(store);
