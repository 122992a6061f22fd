using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Stock;

namespace PartsLedger.Integration.Tests.Stock;

/// <summary>Blind counts; the shop of these tests counts again above 5.</summary>
public abstract class CountSpecification<TStore>(TStore store) : JobSpecification<TStore>(store) where TStore : Store
{
    [Fact]
    public async Task A_count_that_agrees_posts_nothing()
    {
        await Receive(Seal, 10);
        var answer = await Count(new CountStock.Line(Seal, Pieces(10)));
        Assert.Null(answer.Transaction);
        Assert.Equal([(CountVerdict.Agreed, Quantity.Zero)], answer.Lines.Select(line => (line.Verdict, line.Difference!.Value)));
    }

    [Fact]
    public async Task A_small_difference_is_posted_and_found_pieces_are_worth_what_one_costs()
    {
        await Receive(Seal, 10, cost: 2.00m);
        await Receive(LotSeal, 10, cost: 4.00m, lot: "L1");
        var answer = await Count(new CountStock.Line(Seal, Pieces(12)), new CountStock.Line(LotSeal, Pieces(7), "L1"));
        Assert.Equal([(CountVerdict.Posted, Pieces(2)), (CountVerdict.Posted, Pieces(-3))],
            answer.Lines.Select(line => (line.Verdict, line.Difference!.Value)));
        Assert.Equal([(Seal, Pieces(12), Each(24)), (LotSeal, Pieces(7), Each(28))], (await Store.With(db =>
            db.StockParts.Include(row => row.Part).OrderBy(row => row.Part.Number).ToListAsync())).Select(row => (row.Part.Number, row.OnHand, row.Value)));
        Assert.Equal("count", await Store.With(db => db.StockTransactions.Where(row => row.Id == answer.Transaction).Select(row => row.Act).SingleAsync()));
    }

    [Fact]
    public async Task Nothing_counted_where_something_was_empties_the_place()
    {
        await Receive(Seal, 5);
        await Count(new CountStock.Line(Seal, Quantity.Zero));
        Assert.Equal(Quantity.Zero, await OnHand(Seal, "A-01"));
        Assert.Equal(Money.Zero, await Store.With(db => db.StockParts.Select(row => row.Value).SingleAsync()));
    }

    [Fact]
    public async Task Pieces_found_where_the_ledger_had_none_are_worth_what_the_part_costs()
    {
        var answer = await Count(new CountStock.Line(Seal, Pieces(2), Condition: StockCondition.Used));
        Assert.Equal(CountVerdict.Posted, answer.Lines.Single().Verdict);
        Assert.Equal(Each(5.00m), await Store.With(db => db.StockParts.Select(row => row.Value).SingleAsync()));
    }

    [Fact]
    public async Task A_large_difference_is_not_posted_and_the_answer_has_no_figures()
    {
        await Receive(Seal, 73);
        var answer = await Count(new CountStock.Line(Seal, Pieces(20)));
        var line = answer.Lines.Single();
        Assert.Equal((CountVerdict.CountAgain, "COUNT_AGAIN", null), (line.Verdict, line.Code, line.Difference));
        Assert.Equal(Pieces(73), await OnHand(Seal, "A-01"));
        var told = JsonSerializer.Serialize(answer, ShopJson.Options);
        Assert.DoesNotContain("73", told, StringComparison.Ordinal);
        Assert.DoesNotContain("53", told, StringComparison.Ordinal);
        Assert.Contains("count-again", told, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_second_count_that_finds_the_same_is_posted()
    {
        await Receive(Seal, 70);
        await Count(new CountStock.Line(Seal, Pieces(20)));
        Assert.Equal(CountVerdict.CountAgain, (await Count(new CountStock.Line(Seal, Pieces(21)))).Lines.Single().Verdict);
        var third = (await Count(new CountStock.Line(Seal, Pieces(20)))).Lines.Single();
        Assert.Equal((CountVerdict.Posted, Pieces(-50)), (third.Verdict, third.Difference!.Value));
        Assert.Equal(Pieces(20), await OnHand(Seal, "A-01"));
        Assert.Equal(0, await Waiting());
    }

    [Theory]
    [InlineData(69)]
    [InlineData(70)]
    public async Task A_second_count_near_the_ledger_closes_the_waiting_one(long counted)
    {
        await Receive(Seal, 70);
        await Count(new CountStock.Line(Seal, Pieces(20)));
        Assert.Equal(1, await Waiting());
        Assert.NotEqual(CountVerdict.CountAgain, (await Count(new CountStock.Line(Seal, Pieces(counted)))).Lines.Single().Verdict);
        Assert.Equal(Pieces(counted), await OnHand(Seal, "A-01"));
        Assert.Equal(0, await Waiting());
        Assert.Equal(CountVerdict.CountAgain, (await Count(new CountStock.Line(Seal, Pieces(20)))).Lines.Single().Verdict);
    }

    [Fact]
    public async Task A_waiting_count_is_confirmed_only_by_the_same_place_lot_and_condition()
    {
        await Receive(LotSeal, 70, lot: "L1");
        await Receive(LotSeal, 70, lot: "L2");
        await Receive(LotSeal, 70, "A-02", lot: "L1");
        await Count(new CountStock.Line(LotSeal, Pieces(20), "L1"));
        Assert.Equal(CountVerdict.CountAgain, (await Count(new CountStock.Line(LotSeal, Pieces(20), "L2"))).Lines.Single().Verdict);
        Assert.Equal(CountVerdict.CountAgain,
            (await Count(new CountStock.Line(LotSeal, Pieces(20), "L1", StockCondition.Used))).Lines.Single().Verdict);
        Assert.Equal(CountVerdict.CountAgain, (await Count("A-02", new CountStock.Line(LotSeal, Pieces(20), "L1"))).Lines.Single().Verdict);
    }

    [Fact]
    public async Task One_line_waits_while_the_others_are_posted()
    {
        await Receive(Seal, 70);
        await Receive(LotSeal, 10, lot: "L1");
        var answer = await Count(new CountStock.Line(Seal, Pieces(1)), new CountStock.Line(LotSeal, Pieces(9), "L1"));
        Assert.Equal([CountVerdict.CountAgain, CountVerdict.Posted], answer.Lines.Select(line => line.Verdict));
        Assert.Equal((Pieces(70), Pieces(9)), (await OnHand(Seal, "A-01"), await OnHand(LotSeal, "A-01")));
    }

    [Fact]
    public async Task Waiting_counts_are_listed_without_their_figures_until_they_were_counted_again()
    {
        await Receive(Seal, 70);
        await Receive(LotSeal, 90, lot: "L1", place: "A-02");
        await Count(new CountStock.Line(Seal, Pieces(1)));
        await Count("A-02", new CountStock.Line(LotSeal, Pieces(1), "L1"));
        Assert.Equal([(Seal, "A-01", null), (LotSeal, "A-02", "L1")], await Listed(null));
        Assert.Equal([(LotSeal, "A-02", "L1")], await Listed("a-02"));
        await Count(new CountStock.Line(Seal, Pieces(1)));
        Assert.Equal([(LotSeal, "A-02", "L1")], await Listed(null));

        async Task<List<(string, string, string?)>> Listed(string? place)
        {
            var found = await Store.Dispatcher.Ask<WaitingCounts.Query, Page<WaitingCounts.Waiting>>(
                new(place, PageRequest.Read("waiting-counts", 10, null).Result), CancellationToken.None);
            return [.. found.Result.Entries.Select(entry => (entry.Item.Part, entry.Item.Place, entry.Item.Lot))];
        }
    }

    [Fact]
    public async Task The_shop_chooses_from_which_difference_it_counts_again()
    {
        await Receive(Seal, 10);
        await Done<SetShopChoice.Command, SetShopChoice.Answer>(new(NewId(), "recount-above", "0"), Supervisor);
        Assert.Equal(CountVerdict.CountAgain, (await Count(new CountStock.Line(Seal, Pieces(9)))).Lines.Single().Verdict);
        await Done<SetShopChoice.Command, SetShopChoice.Answer>(new(NewId(), "Recount-Above", "1"), Supervisor);
        Assert.Equal(CountVerdict.Posted, (await Count(new CountStock.Line(Seal, Pieces(11)))).Lines.Single().Verdict);
    }

    [Fact]
    public async Task A_count_below_what_is_reserved_is_refused_with_who_holds_it()
    {
        await Receive(Seal, 5);
        await Reserve("J-7", Seal, 4);
        var refusal = await RefusedCount("BELOW_RESERVED", new CountStock.Line(Seal, Pieces(3)));
        Assert.Contains("4 for job J-7 by counter", refusal.Sentence, StringComparison.Ordinal);
        await Count(new CountStock.Line(Seal, Pieces(4)));
        Assert.Equal(Pieces(4), await OnHand(Seal, "A-01"));
    }

    [Fact]
    public async Task A_large_count_below_what_is_reserved_tells_nothing_the_first_time()
    {
        await Receive(Seal, 50);
        await Reserve("J-7", Seal, 40);
        Assert.Equal(CountVerdict.CountAgain, (await Count(new CountStock.Line(Seal, Pieces(3)))).Lines.Single().Verdict);
        await RefusedCount("BELOW_RESERVED", new CountStock.Line(Seal, Pieces(3)));
    }

    [Fact]
    public async Task Bad_counts_are_refused_with_what_to_do()
    {
        await Receive(LotSeal, 3, lot: "L1");
        await Receive(Housing, 1, lot: "S 1");
        await RefusedCount("NOTHING_TO_DO");
        await RefusedCount("TOO_MANY_LINES", [.. Enumerable.Repeat(new CountStock.Line(Seal, Pieces(1)), 501)]);
        await RefusedCount("UNKNOWN_PART", new CountStock.Line("no such part", Pieces(1)));
        await RefusedCount("UNKNOWN_LOT", new CountStock.Line(LotSeal, Pieces(1), "L9"));
        await RefusedCount("LOT_OF_ANOTHER_PART", new CountStock.Line(Seal, Pieces(1), "L1"));
        await RefusedCount("LOT_MISSING", new CountStock.Line(LotSeal, Pieces(1)));
        await RefusedCount("QUANTITY_NEGATIVE", new CountStock.Line(Seal, Pieces(-1)));
        await RefusedCount("QUANTITY_TOO_LARGE", new CountStock.Line(Seal, Quantity.FromThousandths(long.MaxValue)));
        await RefusedCount("QUANTITY_NOT_WHOLE", new CountStock.Line(Seal, Quantity.FromThousandths(1500)));
        await RefusedCount("COUNTED_TWICE", new CountStock.Line(Seal, Pieces(1)), new CountStock.Line("104477", Pieces(1)));
        await RefusedCount("SERIAL_IS_ONE", new CountStock.Line(Housing, Pieces(2), "S 1"));
        await RefusedAs<CountStock.Command, CountStock.Answer>("SERIAL_ELSEWHERE", new(NewId(), "A-02", [new(Housing, Pieces(1), "S 1")]));
        await RefusedAs<CountStock.Command, CountStock.Answer>("UNKNOWN_LOCATION", new(NewId(), "Z-99", [new(Seal, Pieces(1))]));
        await RefusedAs<CountStock.Command, CountStock.Answer>("TEXT_TOO_LONG", new(NewId(), new string('x', 10_000), [new(Seal, Pieces(1))]));
        await RefusedAs<CountStock.Command, CountStock.Answer>("TEXT_TOO_LONG", new(NewId(), "A-01", [new(Seal, Pieces(1))], new string('x', 10_000)));
        Assert.Equal(0, await Store.With(db => db.StockCounts.CountAsync()));
    }

    [Fact]
    public async Task Oil_is_counted_in_parts_of_a_litre()
    {
        await Receive(Oil, 20);
        await Count(new CountStock.Line(Oil, Quantity.FromThousandths(18_250)));
        Assert.Equal(Quantity.FromThousandths(18_250), await OnHand(Oil, "A-01"));
    }

    [Fact]
    public async Task Counts_at_once_post_one_difference()
    {
        await Receive(Seal, 10);
        var answers = await Task.WhenAll(Enumerable.Range(0, 6).Select(_ => CountOnce(new CountStock.Line(Seal, Pieces(8)))));
        Assert.Single(answers, answer => answer.Transaction is not null);
        Assert.Equal(Pieces(8), await OnHand(Seal, "A-01"));
    }

    private Task<int> Waiting() => Store.With(db => db.StockCounts.CountAsync(row => row.Waiting));

    private Task<CountStock.Answer> Count(params CountStock.Line[] lines) => Count("A-01", lines);

    private Task<CountStock.Answer> Count(string place, params CountStock.Line[] lines) =>
        Done<CountStock.Command, CountStock.Answer>(new(NewId(), place, lines));

    private async Task<CountStock.Answer> CountOnce(CountStock.Line line)
    {
        var outcome = await Store.Dispatcher.Send<CountStock.Command, CountStock.Answer>(new(NewId(), "A-01", [line]), Counter, CancellationToken.None);
        Assert.True(outcome.Succeeded, outcome.Refusal?.ToString());
        return outcome.Result;
    }

    private Task<Refusal> RefusedCount(string code, params CountStock.Line[] lines) =>
        RefusedAs<CountStock.Command, CountStock.Answer>(code, new(NewId(), "A-01", lines));
}

public sealed class CountOnSqlite(SqliteStore store) : CountSpecification<SqliteStore>(store);

public sealed class CountOnPostgreSql(PostgreSqlStore store) : CountSpecification<PostgreSqlStore>(store);

public sealed class CountOnSqlServer(SqlServerStore store) : CountSpecification<SqlServerStore>(store);
