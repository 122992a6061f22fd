using System.CommandLine;
using System.Globalization;
using System.Text.Json;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Commands;

/// <summary><c>partsledger stock-value [--by-place] [--json] [--db CONNECTION]</c>: what everything on the shelves is worth.</summary>
public static class StockValueCommand
{
    public static Command Make()
    {
        var byPlace = new Option<bool>("--by-place") { Description = "Also say where it lies, each place at the part's average." };
        var json = new Option<bool>("--json") { Description = "For another program to read." };
        var database = ShopCommand.Database();
        var command = new Command("stock-value", "Say what everything on the shelves is worth.") { byPlace, json, database };
        command.SetAction((parsed, cancellation) => parsed.OnDatabase(database, async services =>
        {
            var value = await services.GetRequiredService<Asking>()
                .Ask<StockValue.Query, StockValue.Answer>(new(parsed.GetValue(byPlace)), cancellation);
            if (!value.Succeeded) return value.Refusal;
            await parsed.InvocationConfiguration.Output.WriteLineAsync(parsed.GetValue(json) ? JsonSerializer.Serialize(value.Result, ShopJson.Indented) : Table(value.Result));
            return 0;
        }, cancellation));
        return command;
    }

    private static string Table(StockValue.Answer answer)
    {
        var rows = new List<string[]> { (string[])["part", "name", "quantity", "unit", "unit cost", "value"] };
        foreach (var part in answer.Parts)
        {
            rows.Add([part.Part, part.Name, part.Quantity.ToString(), part.Unit, part.UnitCost.ToString(), part.Value.ToString()]);
            rows.AddRange(part.Places.Select(place => (string[])["", "  in " + place.Place, place.Quantity.ToString(), part.Unit, "", place.Value.ToString()]));
        }
        rows.Add(["", "total", "", "", "", answer.Value.ToString()]);
        var widths = Enumerable.Range(0, 6).Select(column => rows.Max(row => row[column].Length)).ToArray();
        var lines = rows.Select(row => string.Join("  ", row.Select((cell, column) =>
            column is 2 or 4 or 5 ? cell.PadLeft(widths[column]) : cell.PadRight(widths[column]))).TrimEnd());
        var costing = answer.Costing == Domain.Stock.Costing.Average ? "at moving average" : "first in, first out";
        return string.Create(CultureInfo.InvariantCulture, $"{string.Join('\n', lines)}\n{answer.Parts.Count} parts, valued {costing}.");
    }
}
