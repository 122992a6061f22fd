using System.CommandLine;
using System.Globalization;
using System.Text;
using System.Text.Json;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Fit;
using PartsLedger.Hosting;

namespace PartsLedger.Commands;

/// <summary>
/// <c>partsledger pair --family CODE [--class CODE]</c>: proposes pairs among loose, measured, serviceable housings and valves and changes
/// nothing. Ends with 0, or 2 when the question is of no use.
/// </summary>
public static class PairCommand
{
    public const int Proposed = 0;

    public static Command Make()
    {
        var family = new Option<string?>("--family") { Description = "The family's code.", HelpName = "CODE" };
        var ofClass = new Option<string?>("--class") { Description = "Only valves of this pressure class.", HelpName = "CODE" };
        var together = new Option<bool>("--keep-together") { Description = "Loose halves that came out of one core and still fit go to each other first." };
        var first = new Option<string[]>("--first") { Description = "Serve so many pairs of a class before the rest; may be repeated.", HelpName = "CLASS=PAIRS" };
        var reserve = new Option<string[]>("--reserve") { Description = "Keep so many housings for a class; may be repeated.", HelpName = "CLASS=HOUSINGS" };
        var json = new Option<bool>("--json") { Description = "For another program to read." };
        var database = ShopCommand.Database();
        var command = new Command("pair", "Which valve goes into which housing: the most pairs that fit, nearest to the best clearance.")
        {
            family, ofClass, together, first, reserve, json, database,
        };
        command.SetAction(async (given, cancellation) =>
        {
            if (string.IsNullOrWhiteSpace(given.GetValue(family)))
                return await given.Refuse(new Refusal("UNKNOWN_FAMILY", "No family is named.", "Name it by its code after --family."));
            var (served, kept) = (Pieces("--first", given.GetValue(first)), Pieces("--reserve", given.GetValue(reserve)));
            if (!served.Succeeded) return await given.Refuse(served.Refusal);
            if (!kept.Succeeded) return await given.Refuse(kept.Refusal);
            return await given.OnDatabase(database, async services =>
            {
                var (output, error) = (given.InvocationConfiguration.Output, given.InvocationConfiguration.Error);
                var proposed = await services.GetRequiredService<Asking>().Ask<ProposePairs.Query, ProposePairs.Answer>(
                    new(given.GetValue(family)!, given.GetValue(ofClass), given.GetValue(together), served.Result, kept.Result), cancellation);
                if (!proposed.Succeeded) return proposed.Refusal;
                await output.WriteLineAsync(given.GetValue(json) ? JsonSerializer.Serialize(proposed.Result.Shown, ShopJson.Indented) : Text(proposed.Result));
                foreach (var warning in proposed.Result.Warnings) await error.WriteLineAsync(warning);
                return Proposed;
            }, cancellation);
        });
        return command;
    }

    private static Outcome<ProposePairs.ClassPieces[]> Pieces(string option, string[]? written)
    {
        var read = new List<ProposePairs.ClassPieces>();
        foreach (var one in written ?? [])
        {
            if (one.Split('=') is not [var name, var number] || !int.TryParse(number, NumberStyles.None, CultureInfo.InvariantCulture, out var pieces))
                return new Refusal("BAD_PIECES", $"'{one}' after {option} is no class with a number.", $"Write it like {option} P9=2.");
            read.Add(new(name, pieces));
        }
        return read.ToArray();
    }

    private static string Text(ProposePairs.Answer answer)
    {
        var shown = answer.Shown;
        var text = new StringBuilder().Append(CultureInfo.InvariantCulture,
            $"Family {shown.Family}, {(shown.Class is null ? "every class" : $"class {shown.Class}")}: {shown.Count} pairs, sum of squared deviations {shown.SumSquaredDeviationUm2:0.######} µm²")
            .Append(answer.IsLeast ? ", the least there is." : FormattableString.Invariant($"; the least there is may be as low as {answer.LeastSumUm2:0.######}."));
        foreach (var pair in shown.Pairs)
            text.Append(CultureInfo.InvariantCulture, $"\n  {pair.Housing} + {pair.Valve}   clearance {pair.ClearanceUm:0.000} µm   from the best {pair.DeviationUm:+0.000;-0.000;0.000} µm");
        foreach (var (heading, left) in new[] { ("Housings left:", shown.UnpairedHousings), ("Valves left:", shown.UnpairedValves) })
        {
            if (left.Count == 0) continue;
            text.Append('\n').Append(heading);
            foreach (var unit in left) text.Append(CultureInfo.InvariantCulture, $"\n  {unit.Tag}: {unit.Why}");
        }
        return text.Append("\nA proposal only: nothing was changed. The maker's service information comes first.").ToString();
    }
}
