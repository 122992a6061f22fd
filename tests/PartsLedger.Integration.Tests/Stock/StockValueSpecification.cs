using System.CommandLine;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Commands;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Stock;

namespace PartsLedger.Integration.Tests.Stock;

/// <summary>How the shop values its stock, what that adds up to, and when it may be chosen.</summary>
public abstract class StockValueSpecification<TStore>(TStore store) : JobSpecification<TStore>(store) where TStore : Store
{
    [Fact]
    public async Task An_empty_shop_is_worth_nothing()
    {
        var value = await Value();
        Assert.Equal((Money.Zero, 0), (value.Value, value.Parts.Count));
    }

    [Fact]
    public async Task The_report_says_what_each_part_is_worth_and_where_it_lies()
    {
        await Receive(Seal, 2, cost: 1.00m);
        await Receive(Seal, 1, cost: 0.0001m);
        await Accepted(new MoveStock.Command(NewId(), Seal, "A-01", "A-02", Pieces(1)));
        await Accepted(new QuarantineStock.Command(NewId(), Seal, "A-01", Pieces(1), "bent", "HOLD"));
        await Receive(Oil, 3, cost: 7.00m);
        var value = await Value(byPlace: true);
        Assert.Equal((Each(23.0001m), Costing.Average), (value.Value, value.Costing));
        Assert.Equal([(Seal, Pieces(3), Each(2.0001m), Each(0.6667m)), (Oil, Pieces(3), Each(21), Each(7))],
            value.Parts.Select(part => (part.Part, part.Quantity, part.Value, part.UnitCost)));
        Assert.Equal([("A-01", Pieces(1), Each(0.6667m)), ("A-02", Pieces(1), Each(0.6667m)), ("HOLD", Pieces(1), Each(0.6667m))],
            value.Parts[0].Places.Select(place => (place.Place, place.Quantity, place.Value)));
        Assert.All((await Value()).Parts, part => Assert.Empty(part.Places));
    }

    [Theory]
    [InlineData(Costing.Average, 20310312)]
    [InlineData(Costing.Fifo, 20310313)]
    public async Task After_any_acts_the_report_is_the_sum_of_the_ledgers_lines_inside_the_shop(Costing costing, int seed)
    {
        await Done<SetShopChoice.Command, SetShopChoice.Answer>(new(NewId(), "costing", costing == Costing.Fifo ? "FIFO" : "average"), Supervisor);
        var random = new Random(seed);
        var accepted = 0;
        for (var act = 0; act < 120; act++)
        {
            if (await RandomAct(random)) accepted++;
            if (act % 20 == 19) await Reconciles(costing);
        }
        Assert.True(accepted > 60, $"Only {accepted} acts of seed {seed} were accepted.");
        await Reconciles(costing);
    }

    [Fact]
    public async Task How_stock_is_valued_is_settled_by_the_first_booking()
    {
        Assert.Equal("fifo", (await Choose("Costing", " FIFO ")).Value);
        Assert.Equal("average", (await Choose("costing", "average")).Value);
        await Receive(Seal, 1);
        await RefusedChoice("COSTING_SETTLED", "costing", "fifo");
        await RefusedAs<SetShopChoice.Command, SetShopChoice.Answer>("NOT_ALLOWED", new(NewId(), "recount-above", "7"));
        Assert.Equal("average", (await Choose("costing", "average")).Value);
        Assert.Equal("7.5", (await Choose("recount-above", "7.5")).Value);
    }

    [Fact]
    public async Task How_stock_is_valued_cannot_be_chosen_while_the_first_piece_is_booked()
    {
        for (var round = 0; round < 5; round++)
        {
            await InitializeAsync();
            var booking = Receive(Seal, 3, cost: 2.00m);
            var choosing = Store.Dispatcher.Send<SetShopChoice.Command, SetShopChoice.Answer>(new(NewId(), "costing", "fifo"), Supervisor, CancellationToken.None);
            await Task.WhenAll(booking, choosing);
            var layers = await Store.With(db => db.CostLayers.CountAsync());
            Assert.Equal((await choosing).Succeeded ? 1 : 0, layers);
        }
    }

    [Fact]
    public async Task Bad_choices_are_refused_with_what_to_do()
    {
        await RefusedChoice("UNKNOWN_CHOICE", "colour", "blue");
        await RefusedChoice("UNKNOWN_WORD", "costing", "lifo");
        await RefusedChoice("QUANTITY_OUT_OF_RANGE", "recount-above", "-1");
        await RefusedChoice("QUANTITY_OUT_OF_RANGE", "recount-above", "many");
        await RefusedChoice("QUANTITY_OUT_OF_RANGE", "recount-above", "1000000001");
        await RefusedChoice("NAME_MISSING", "", "5");
        await RefusedChoice("NAME_MISSING", "costing", "");
        await RefusedChoice("TEXT_TOO_LONG", "costing", new string('x', 10_000));
    }

    [Fact]
    public async Task Worth_that_no_number_can_keep_is_refused()
    {
        var most = Quantity.FromWhole(1_000_000_000);
        await Refused("TOO_LARGE", new ReceiveStock.Command(NewId(), "DN 1", [new(Seal, "A-01", most, Each(1_000_000_000))]));
    }

    [Fact]
    public async Task The_command_line_says_it_as_a_table_and_as_json()
    {
        await Receive(Seal, 4, cost: 1.25m);
        var table = await Run("--by-place");
        Assert.Contains("5.00", table, StringComparison.Ordinal);
        Assert.Contains("in A-01", table, StringComparison.Ordinal);
        Assert.Contains("1 parts, valued at moving average.", table, StringComparison.Ordinal);
        using var json = JsonDocument.Parse(await Run("--json"));
        Assert.Equal(5m, json.RootElement.GetProperty("value").GetDecimal());
        Assert.Equal("average", json.RootElement.GetProperty("costing").GetString());
        Assert.Equal(Seal, json.RootElement.GetProperty("parts")[0].GetProperty("part").GetString());
    }

    private async Task<bool> RandomAct(Random random)
    {
        var part = random.Next(2) == 0 ? Seal : LotSeal;
        var lot = part == LotSeal ? "L" + random.Next(3) : null;
        var (place, other) = random.Next(2) == 0 ? ("A-01", "A-02") : ("A-02", "A-01");
        var quantity = Pieces(random.Next(1, 6));
        Money? cost = random.Next(4) == 0 ? null : Money.FromTenThousandths(random.Next(0, 50_000));
        return random.Next(10) switch
        {
            0 or 1 or 2 => (await Send(new ReceiveStock.Command(NewId(), "DN", [new(part, place, quantity, cost, lot)]))).Succeeded,
            3 => (await Send(new MoveStock.Command(NewId(), part, place, other, quantity, lot))).Succeeded,
            4 => (await Send(new ScrapStock.Command(NewId(), part, place, quantity, "bent", lot))).Succeeded,
            5 => (await Send(new ReturnToSupplier.Command(NewId(), "RN", [new(part, place, quantity, lot)]))).Succeeded,
            6 => (await Send(new MergeLots.Command(NewId(), LotSeal, ["L0"], "L1"))).Succeeded,
            7 => (await Store.Dispatcher.Send<CountStock.Command, CountStock.Answer>(
                new(NewId(), place, [new(part, Pieces(random.Next(8)), lot)]), Counter, CancellationToken.None)).Succeeded,
            8 => (await Store.Dispatcher.Send<PullStock.Command, PullStock.Answer>(
                new(NewId(), "J-7", part, quantity), Counter, CancellationToken.None)).Succeeded,
            _ => await ReverseAny(random),
        };
    }

    private async Task<bool> ReverseAny(Random random)
    {
        var ids = await Store.With(db => db.StockTransactions.OrderBy(row => row.Id).Select(row => row.Id).ToListAsync());
        return ids.Count > 0 && (await Send(new ReverseTransaction.Command(NewId(), ids[random.Next(ids.Count)], "wrong"))).Succeeded;
    }

    private async Task Reconciles(Costing costing)
    {
        var value = await Value(byPlace: true);
        Assert.Equal(costing, value.Costing);
        var lines = (await Store.With(db => db.StockLines.Where(row => row.LocationId != null)
                .Select(row => new { row.Part.Number, row.Quantity, row.Value }).ToListAsync()))
            .GroupBy(row => row.Number).Where(part => part.Sum(row => row.Quantity.Thousandths) != 0 || part.Sum(row => row.Value.TenThousandths) != 0)
            .OrderBy(part => part.Key, StringComparer.Ordinal)
            .Select(part => (part.Key, part.Sum(row => row.Quantity.Thousandths), part.Sum(row => row.Value.TenThousandths))).ToList();
        Assert.Equal(lines, value.Parts.Select(part => (part.Part, part.Quantity.Thousandths, part.Value.TenThousandths)));
        Assert.Equal(lines.Sum(part => part.Item3), value.Value.TenThousandths);
        Assert.All(value.Parts, part => Assert.Equal((part.Quantity.Thousandths, part.Value.TenThousandths),
            (part.Places.Sum(place => place.Quantity.Thousandths), part.Places.Sum(place => place.Value.TenThousandths))));
        if (costing == Costing.Average) return;
        var layers = await Store.With(db => db.CostLayers.Where(row => row.Left != Quantity.Zero)
            .Select(row => new { row.Part.Number, row.Left, row.ValueLeft }).ToListAsync());
        Assert.Equal(lines, layers.GroupBy(row => row.Number).OrderBy(part => part.Key, StringComparer.Ordinal)
            .Select(part => (part.Key, part.Sum(row => row.Left.Thousandths), part.Sum(row => row.ValueLeft.TenThousandths))));
    }

    private async Task<StockValue.Answer> Value(bool byPlace = false)
    {
        var outcome = await Store.Dispatcher.Ask<StockValue.Query, StockValue.Answer>(new(byPlace), CancellationToken.None);
        Assert.True(outcome.Succeeded, outcome.Refusal?.ToString());
        return outcome.Result;
    }

    private Task<SetShopChoice.Answer> Choose(string name, string value) =>
        Done<SetShopChoice.Command, SetShopChoice.Answer>(new(NewId(), name, value), Supervisor);

    private async Task RefusedChoice(string code, string name, string value)
    {
        var outcome = await Store.Dispatcher.Send<SetShopChoice.Command, SetShopChoice.Answer>(new(NewId(), name, value), Supervisor, CancellationToken.None);
        Assert.Equal(code, outcome.Refusal?.Code);
    }

    private async Task<string> Run(params string[] arguments)
    {
        await using var output = new StringWriter();
        await using var errors = new StringWriter();
        var root = new RootCommand { StockValueCommand.Make() };
        var status = await root.Parse(["stock-value", .. arguments, "--db", $"{Store.Address.Database.Scheme}:{Store.Address.Connection}"])
            .InvokeAsync(new InvocationConfiguration { Output = output, Error = errors });
        Assert.True(status == 0, errors.ToString());
        return output.ToString();
    }
}

public sealed class StockValueOnSqlite(SqliteStore store) : StockValueSpecification<SqliteStore>(store);

public sealed class StockValueOnPostgreSql(PostgreSqlStore store) : StockValueSpecification<PostgreSqlStore>(store);

public sealed class StockValueOnSqlServer(SqlServerStore store) : StockValueSpecification<SqlServerStore>(store);
