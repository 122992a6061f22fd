using Microsoft.EntityFrameworkCore;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Stock;

namespace PartsLedger.Integration.Tests.Stock;

public abstract class ReservationSpecification<TStore>(TStore store) : JobSpecification<TStore>(store) where TStore : Store
{
    [Fact]
    public async Task A_whole_list_is_reserved_line_by_line_and_no_longer_available()
    {
        await Receive(Seal, 10);
        await Receive(Housing, 1, lot: "S 1");
        var answer = await Send(List("J-1", new(Seal, Pieces(4)), new(Housing, Pieces(1))));
        Assert.Equal([$"{Seal} A-01  New 4", $"{Housing} A-01 S 1 New 1"], Told(answer.Reserved));
        Assert.Empty(answer.Missing);
        Assert.Equal(Store.Clock.GetUtcNow().AddDays(14), answer.ExpiresAt);
        Assert.Equal(Pieces(6), await Available(Seal));
        Assert.Equal(Pieces(0), await Available(Housing));
        Assert.Equal(Pieces(10), await OnHand(Seal, "A-01"));
    }

    [Fact]
    public async Task Lots_that_expire_first_come_first_and_expired_ones_never()
    {
        await ReceiveLot(2, "OLD", -1);
        await ReceiveLot(2, "LATER", 90);
        await ReceiveLot(2, "SOON", 5, "A-02");
        await ReceiveLot(2, "LAST-DAY", 0);
        await Receive(LotSeal, 5, lot: "AGELESS");
        var answer = await Reserve("J-1", LotSeal, 7);
        Assert.Equal(
        [
            $"{LotSeal} A-01 LAST-DAY New 2", $"{LotSeal} A-02 SOON New 2", $"{LotSeal} A-01 LATER New 2", $"{LotSeal} A-01 AGELESS New 1",
        ], Told(answer.Reserved));
    }

    [Fact]
    public async Task New_pieces_come_before_rebuilt_ones_and_those_before_used_ones_and_then_the_place_decides()
    {
        await In("A-01", StockCondition.Used);
        await In("A-01", StockCondition.Rebuilt);
        await In("A-02", StockCondition.New);
        await In("A-01", StockCondition.New);
        await In("A-01", StockCondition.Quarantine);
        await In("HOLD", StockCondition.New);
        var answer = await Reserve("J-1", Seal, 4);
        Assert.Equal([$"{Seal} A-01  New 1", $"{Seal} A-02  New 1", $"{Seal} A-01  Rebuilt 1", $"{Seal} A-01  Used 1"], Told(answer.Reserved));
        Assert.Equal(Quantity.Zero, await Available(Seal));

        Task<StockPosted> In(string place, StockCondition condition) =>
            Accepted(new ReceiveStock.Command(NewId(), "DN 1", [new(Seal, place, Pieces(1), Condition: condition)]));
    }

    [Fact]
    public async Task A_line_that_names_its_lot_gets_it_although_a_line_before_it_could_take_any()
    {
        await ReceiveLot(2, "L1", 5);
        await ReceiveLot(2, "L2", 50);
        var answer = await Send(List("J-1", new(LotSeal, Pieces(2)), new(LotSeal, Pieces(2), "l1")));
        Assert.Equal([$"{LotSeal} A-01 L2 New 2", $"{LotSeal} A-01 L1 New 2"], Told(answer.Reserved));
    }

    [Fact]
    public async Task A_list_that_is_short_is_refused_whole_and_told_who_has_the_rest_until_when()
    {
        await Receive(Seal, 5);
        await Receive(Oil, 1);
        var until = Store.Clock.GetUtcNow().AddDays(3);
        await Reserve("J-7", Seal, 4, until, Bench);
        var refusal = await Refused("NOT_ENOUGH_FREE", List("J-8", new(Oil, Pieces(1)), new(Seal, Pieces(2)), new(Housing, Pieces(1))));
        Assert.Equal(FormattableString.Invariant($"Only 1 of {Seal} are free; 2 were asked for. Reserved: 4 for job J-7 by bench until {until.UtcDateTime:yyyy-MM-dd HH:mm} UTC. 1 more of the list's lines are short too."), refusal.Sentence);
        Assert.Equal(Pieces(1), await Available(Oil));
    }

    [Fact]
    public async Task Expired_pieces_are_on_hand_and_available_nowhere()
    {
        var today = DateOnly.FromDateTime(Store.Clock.GetUtcNow().UtcDateTime);
        await Accepted(new ReceiveStock.Command(NewId(), "DN 1", [new(LotSeal, "A-01", Pieces(3), null, "OLD", null, today.AddDays(-1))]));
        await Accepted(new ReceiveStock.Command(NewId(), "DN 1", [new(LotSeal, "A-01", Pieces(2), null, "LAST-DAY", null, today)]));
        var shown = (await Store.Dispatcher.Ask<OnHandOfPart.Query, OnHandOfPart.Answer>(new(LotSeal), CancellationToken.None)).Result;
        Assert.Equal((Pieces(5), Pieces(2)), (shown.OnHand, shown.Available));
        var offered = await Store.With(async db => await Availability.Of(
            db, [await db.Parts.Where(row => row.Number == LotSeal).Select(row => row.Id).SingleAsync()], Store.Clock.GetUtcNow(), CancellationToken.None));
        Assert.Equal(Pieces(2), offered.Single().Value);
    }

    [Fact]
    public async Task Expired_pieces_are_named_where_they_would_have_been_enough()
    {
        await ReceiveLot(3, "OLD", -1);
        var refusal = await Refused("NOT_ENOUGH_FREE", List("J-1", new ReserveForJob.Line(LotSeal, Pieces(1))));
        Assert.Contains("3 more have expired.", refusal.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public async Task As_far_as_possible_takes_what_is_free_and_says_what_is_missing()
    {
        await Receive(Seal, 5);
        await Reserve("J-7", Seal, 2);
        var answer = await Send(List("J-8", new(Seal, Pieces(4)), new(Oil, Quantity.FromThousandths(500))) with { Rule = ReserveRule.AsFarAsPossible });
        Assert.NotNull(answer.Reservation);
        Assert.Equal([$"{Seal} A-01  New 3"], Told(answer.Reserved));
        Assert.Equal([(Seal, Pieces(1)), (Oil, Quantity.FromThousandths(500))], answer.Missing.Select(one => (one.Part, one.Quantity)));
        Assert.Equal(("J-7", Pieces(2)), answer.Missing[0].HeldBy.Select(held => (held.Job, held.Quantity)).Single());
        Assert.Empty(answer.Missing[1].HeldBy);
    }

    [Fact]
    public async Task As_far_as_possible_with_nothing_free_reserves_nothing()
    {
        var answer = await Send(List("J-1", new ReserveForJob.Line(Seal, Pieces(1))) with { Rule = ReserveRule.AsFarAsPossible });
        Assert.Null(answer.Reservation);
        Assert.Empty(answer.Reserved);
        Assert.Equal(0, await Store.With(db => db.Reservations.CountAsync()));
    }

    [Fact]
    public async Task The_last_piece_goes_to_exactly_one_of_eight_and_the_others_are_told_to_whom()
    {
        await Receive(Seal, 1);
        var outcomes = await Task.WhenAll(Enumerable.Range(1, 8).Select(at => Store.Dispatcher.Send<ReserveForJob.Command, ReserveForJob.Answer>(
            List($"J-{at}", new ReserveForJob.Line(Seal, Pieces(1))), new Caller($"caller {at}", Caller.ThisMachine.Roles), CancellationToken.None)));
        var winner = Assert.Single(outcomes, outcome => outcome.Succeeded).Result;
        Assert.All(outcomes.Where(outcome => !outcome.Succeeded), outcome =>
        {
            Assert.Equal("NOT_ENOUGH_FREE", outcome.Refusal!.Code);
            Assert.Contains($"1 for job {winner.Job} by caller {winner.Job[2..]} until", outcome.Refusal.Sentence, StringComparison.Ordinal);
        });
        Assert.Equal(Pieces(1), await ReservedOf(Seal));
    }

    [Fact]
    public async Task Lists_that_want_the_same_parts_in_opposite_order_do_not_wait_for_each_other_forever()
    {
        await Receive(Seal, 8);
        await Receive(Oil, 8);
        var outcomes = await Task.WhenAll(Enumerable.Range(1, 8).Select(at => Store.Dispatcher.Send<ReserveForJob.Command, ReserveForJob.Answer>(
            at % 2 == 0 ? List($"J-{at}", new(Seal, Pieces(2)), new(Oil, Pieces(2))) : List($"J-{at}", new(Oil, Pieces(2)), new(Seal, Pieces(2))),
            Counter, CancellationToken.None)));
        Assert.Equal(4, outcomes.Count(outcome => outcome.Succeeded));
        Assert.All(outcomes.Where(outcome => !outcome.Succeeded), outcome => Assert.Equal("NOT_ENOUGH_FREE", outcome.Refusal!.Code));
        Assert.Equal((Pieces(8), Pieces(8)), (await ReservedOf(Seal), await ReservedOf(Oil)));
    }

    [Fact]
    public async Task What_has_run_out_is_available_before_and_after_it_is_swept()
    {
        await Receive(Seal, 5);
        await Reserve("J-1", Seal, 5, Store.Clock.GetUtcNow().AddHours(1));
        Assert.Equal(Quantity.Zero, await Available(Seal));
        Store.Clock.Advance(TimeSpan.FromMinutes(59));
        Assert.Equal(Quantity.Zero, await Available(Seal));
        Store.Clock.Advance(TimeSpan.FromMinutes(1));
        Assert.Equal(Pieces(5), await ReservedOf(Seal));
        Assert.Equal(Pieces(5), await Available(Seal));
        await Reserve("J-2", Seal, 2);
        Assert.Equal(Pieces(2), await ReservedOf(Seal));
        Assert.Equal(Pieces(3), await Available(Seal));
    }

    [Fact]
    public async Task Availability_counts_only_good_pieces_of_the_parts_asked_for()
    {
        await Receive(Seal, 5);
        await Receive(Seal, 7, "HOLD");
        await Receive(Oil, 2);
        await Reserve("J-1", Seal, 1, Store.Clock.GetUtcNow().AddHours(1));
        await Reserve("J-2", Seal, 2, Store.Clock.GetUtcNow().AddHours(3));
        Store.Clock.Advance(TimeSpan.FromHours(2));
        var (seal, oil, housing) = (await Id(Seal), await Id(Oil), await Id(Housing));
        var available = await Store.With(db => Availability.Of(db, [seal, housing], Store.Clock.GetUtcNow(), CancellationToken.None));
        Assert.Equal(new Dictionary<int, Quantity> { [seal] = Pieces(3) }, available);
        Assert.DoesNotContain(oil, available.Keys);

        Task<int> Id(string number) => Store.With(db => db.Parts.Where(row => row.Number == number).Select(row => row.Id).SingleAsync());
    }

    [Fact]
    public async Task Reserved_pieces_stay_where_they_are()
    {
        await Receive(Seal, 5);
        await Reserve("J-1", Seal, 4);
        await Refused("NOT_ENOUGH", new MoveStock.Command(NewId(), Seal, "A-01", "A-02", Pieces(2)));
        await Accepted(new MoveStock.Command(NewId(), Seal, "A-01", "A-02", Pieces(1)));
    }

    [Fact]
    public async Task Bad_lists_are_refused_with_what_to_do()
    {
        await ReceiveLot(5, "OLD", -1);
        await Receive(Seal, 5);
        var now = Store.Clock.GetUtcNow();
        var good = List("J-1", new ReserveForJob.Line(Seal, Pieces(1)));
        await Refused("NOTHING_TO_DO", List("J-1"));
        await Refused("TOO_MANY_LINES", List("J-1", [.. Enumerable.Repeat(new ReserveForJob.Line(Seal, Pieces(1)), 501)]));
        await Refused("NAME_MISSING", List(" ", new ReserveForJob.Line(Seal, Pieces(1))));
        await Refused("TEXT_TOO_LONG", List(new string('j', 10_000), new ReserveForJob.Line(Seal, Pieces(1))));
        await Refused("UNKNOWN_PART", List("J-1", new ReserveForJob.Line("no such part", Pieces(1))));
        await Refused("UNKNOWN_LOT", List("J-1", new ReserveForJob.Line(LotSeal, Pieces(1), "L9")));
        await Refused("LOT_OF_ANOTHER_PART", List("J-1", new ReserveForJob.Line(Seal, Pieces(1), "OLD")));
        await Refused("LOT_EXPIRED", List("J-1", new ReserveForJob.Line(LotSeal, Pieces(1), "OLD")));
        await Refused("QUANTITY_NOT_POSITIVE", List("J-1", new ReserveForJob.Line(Seal, Pieces(0))));
        await Refused("QUANTITY_NOT_POSITIVE", List("J-1", new ReserveForJob.Line(Seal, Pieces(-1))));
        await Refused("QUANTITY_NOT_WHOLE", List("J-1", new ReserveForJob.Line(Seal, Quantity.FromThousandths(500))));
        await Refused("QUANTITY_TOO_LARGE", List("J-1", new ReserveForJob.Line(Seal, Quantity.FromThousandths(long.MaxValue))));
        await Refused("EXPIRY_NOT_IN_FUTURE", good with { RequestId = NewId(), ExpiresAt = now });
        await Refused("EXPIRY_TOO_FAR", good with { RequestId = NewId(), ExpiresAt = now.AddDays(366).AddMilliseconds(1) });
        await Send(good with { RequestId = NewId(), ExpiresAt = now.AddDays(366) });
    }

    [Fact]
    public async Task A_job_releases_all_it_has_reserved_over_several_lists()
    {
        await Receive(Seal, 9);
        await Receive(Oil, 3);
        await Reserve("J-1", Seal, 4);
        await Send(List("j-1", new(Seal, Pieces(1)), new(Oil, Pieces(3))));
        await Reserve("J-2", Seal, 2);
        var answer = await Release(new(NewId(), "J-1"));
        Assert.Equal([$"{Oil} A-01  New 3", $"{Seal} A-01  New 5"], Told(answer.Released).Order(StringComparer.Ordinal).Reverse());
        Assert.Equal((Pieces(2), Quantity.Zero), (await ReservedOf(Seal), await ReservedOf(Oil)));
    }

    [Fact]
    public async Task A_job_releases_some_of_a_part_and_keeps_what_it_reserved_first()
    {
        await Receive(Seal, 9);
        await Receive(Oil, 3);
        await Reserve("J-1", Seal, 4);
        await Reserve("J-1", Seal, 2);
        await Reserve("J-1", Oil, 1);
        var answer = await Release(new(NewId(), "J-1", Seal, Pieces(3)));
        Assert.Equal([$"{Seal} A-01  New 3"], Told(answer.Released));
        Assert.Equal([3L, 0L], await Store.With(async db => (await db.ReservationLines.Where(row => row.Part.Number == Seal)
            .OrderBy(row => row.Id).Select(row => row.Open).ToListAsync()).Select(open => open.Thousandths / 1000)));
        await Release(new(NewId(), "J-1", Seal));
        Assert.Equal((Quantity.Zero, Pieces(1)), (await ReservedOf(Seal), await ReservedOf(Oil)));
    }

    [Fact]
    public async Task Bad_releases_are_refused_with_what_to_do()
    {
        await Receive(Seal, 9);
        await Reserve("J-1", Seal, 4, Store.Clock.GetUtcNow().AddHours(1));
        await Refused("NO_RESERVATION", new ReleaseReservation.Command(NewId(), "J-2"));
        await Refused("NO_RESERVATION", new ReleaseReservation.Command(NewId(), "J-1", Oil));
        await Refused("NOT_ENOUGH_RESERVED", new ReleaseReservation.Command(NewId(), "J-1", Seal, Pieces(5)));
        await Refused("QUANTITY_NOT_WHOLE", new ReleaseReservation.Command(NewId(), "J-1", Seal, Quantity.FromThousandths(1)));
        await Refused("QUANTITY_NOT_POSITIVE", new ReleaseReservation.Command(NewId(), "J-1", Seal, Pieces(0)));
        await Refused("NAME_MISSING", new ReleaseReservation.Command(NewId(), "J-1", null, Pieces(1)));
        await Refused("NAME_MISSING", new ReleaseReservation.Command(NewId(), ""));
        await Refused("UNKNOWN_PART", new ReleaseReservation.Command(NewId(), "J-1", "no such part"));
        Store.Clock.Advance(TimeSpan.FromHours(2));
        var late = await Store.Dispatcher.Send<ReleaseReservation.Command, ReleaseReservation.Answer>(
            new(NewId(), "J-1"), Counter, CancellationToken.None);
        Assert.Equal("NO_RESERVATION", late.Refusal?.Code);
        Assert.Equal(Pieces(9), await Available(Seal));
    }

    private static ReserveForJob.Command List(string job, params ReserveForJob.Line[] lines) => new(NewId(), job, lines);

    private Task<ReserveForJob.Answer> Send(ReserveForJob.Command act) => Done<ReserveForJob.Command, ReserveForJob.Answer>(act);

    private Task<ReleaseReservation.Answer> Release(ReleaseReservation.Command act) =>
        Done<ReleaseReservation.Command, ReleaseReservation.Answer>(act);

    private Task<Refusal> Refused(string code, ReserveForJob.Command act) =>
        RefusedAs<ReserveForJob.Command, ReserveForJob.Answer>(code, act);

    private Task<Refusal> Refused(string code, ReleaseReservation.Command act) =>
        RefusedAs<ReleaseReservation.Command, ReleaseReservation.Answer>(code, act);
}

public sealed class ReservationOnSqlite(SqliteStore store) : ReservationSpecification<SqliteStore>(store);

public sealed class ReservationOnPostgreSql(PostgreSqlStore store) : ReservationSpecification<PostgreSqlStore>(store);

public sealed class ReservationOnSqlServer(SqlServerStore store) : ReservationSpecification<SqlServerStore>(store);
