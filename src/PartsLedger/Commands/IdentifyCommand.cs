using System.CommandLine;
using System.Globalization;
using System.Text;
using System.Text.Json;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Identification;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Identification;
using PartsLedger.Kits;

namespace PartsLedger.Commands;

/// <summary>
/// <c>partsledger identify</c>: which variant is this, and what to ask next. Ends with 0 after an answer, also when nothing fits, or 2 when the
/// question is of no use. Notes for the person go to the error output.
/// </summary>
public static class IdentifyCommand
{
    public const int Answered = 0;

    private static readonly Option<string?> Number = new("--number") { Description = "A number off the pump: part, casting, customer's or old." };
    private static readonly Option<string?> MachineMake = new("--make") { Description = "The machine's maker." };
    private static readonly Option<string?> Model = new("--model") { Description = "The machine's model." };
    private static readonly Option<string?> OptionName = new("--option") { Description = "The machine's option or equipment." };
    private static readonly Option<string?> Year = new("--year") { Description = "The machine's model year." };
    private static readonly Option<string?> Machine = new("--machine") { Description = "The machine in words, in any order, slips and all." };
    private static readonly Option<string?> Serial = new("--serial") { Description = "The pump's serial number." };
    private static readonly Option<string?> Built = new("--built") { Description = "When the pump was built: 2004-05-17, 2004-05 or 2004." };
    private static readonly Option<string[]> Seen = new("--seen") { Description = "What was seen; may be repeated.", HelpName = "FEATURE=VALUE" };
    private static readonly Option<string[]> Unknown = new("--unknown") { Description = "A feature nobody can tell; may be repeated.", HelpName = "FEATURE" };
    private static readonly Option<string?> Scope = new("--scope")
    {
        Description = $"The job in question: {string.Join(", ", Words.All<JobScope>())}. Stops asking once all that are left need the same kit.", HelpName = "SCOPE",
    };
    private static readonly Option<bool> Json = new("--json") { Description = "For another program to read." };
    private static readonly Option<string?> Database = ShopCommand.Database();

    public static Command Make()
    {
        var command = new Command("identify", "Which variant is this: what is left, and the cheapest question to ask next.")
        {
            Number, MachineMake, Model, OptionName, Year, Machine, Serial, Built, Seen, Unknown, Scope, Json, Database,
        };
        command.SetAction(async (given, cancellation) =>
        {
            var question = Question(given);
            if (!question.Succeeded) return await given.Refuse(question.Refusal);
            return await given.OnDatabase(Database, async services =>
            {
                var (output, error) = (given.InvocationConfiguration.Output, given.InvocationConfiguration.Error);
                var asking = services.GetRequiredService<Asking>();
                var answered = await asking.Ask<Identify.Query, Identify.Answer>(question.Result, cancellation);
                if (!answered.Succeeded) return answered.Refusal;
                await output.WriteLineAsync(given.GetValue(Json)
                    ? JsonSerializer.Serialize(answered.Result.Shown, ShopJson.Indented)
                    : Text(answered.Result) + await OneListForAll(asking, answered.Result, question.Result.Scope, cancellation));
                foreach (var note in answered.Result.Notes) await error.WriteLineAsync(note);
                return Answered;
            }, cancellation);
        });
        return command;
    }

    private static Outcome<Identify.Query> Question(ParseResult given)
    {
        JobScope? scope = null;
        if (given.GetValue(Scope) is { } word)
        {
            if (!Words.TryParse(word, out JobScope known))
                return new Refusal("UNKNOWN_SCOPE", $"There is no scope '{word}'.", $"The nearest known ones are {string.Join(", ", Nearest.To(word, Words.All<JobScope>()))}.");
            scope = known;
        }
        var seen = new List<Observation>();
        foreach (var one in given.GetValue(Seen) ?? [])
        {
            var at = one.IndexOf('=', StringComparison.Ordinal);
            if (at <= 0 || string.IsNullOrWhiteSpace(one[..at]) || string.IsNullOrWhiteSpace(one[(at + 1)..]))
                return new Refusal("BAD_SEEN", $"'{one}' after --seen is no feature with a value.", "Write it like --seen ports=2.");
            seen.Add(new(one[..at].Trim(), one[(at + 1)..].Trim()));
        }
        return new Identify.Query(given.GetValue(Number), given.GetValue(MachineMake), given.GetValue(Model), given.GetValue(OptionName), given.GetValue(Year),
            given.GetValue(Machine), given.GetValue(Serial), given.GetValue(Built), seen, given.GetValue(Unknown), scope);
    }

    /// <summary>The other choice: to pull for everything that is left instead of asking on.</summary>
    private static async Task<string> OneListForAll(Asking asking, Identify.Answer answer, JobScope? scope, CancellationToken cancellation)
    {
        if (scope is not { } known || !Identify.MayBeCovered(answer.Shown)) return "";
        var covering = await asking.Ask<KitForAny.Query, CoveringKit>(new([.. answer.Shown.Candidates.Select(candidate => candidate.Variant)], known), cancellation);
        if (!covering.Succeeded) return "";
        var kit = covering.Result;
        var text = new StringBuilder().Append(CultureInfo.InvariantCulture, $"\nOr pull one list for all of them: {kit.TotalCost}, {kit.PiecesShort} to order.");
        foreach (var line in kit.Lines) text.Append(CultureInfo.InvariantCulture, $"\n  {line.Quantity} × {line.Part}  {line.Name}  (for {string.Join(", ", line.Serves)})");
        foreach (var outcome in kit.Outcomes)
            text.Append(CultureInfo.InvariantCulture, $"\n  If it is {outcome.Variant}: {outcome.Carried} more than its own kit, {outcome.Returned} of it back to stock unopened.");
        return text.ToString();
    }

    private static string Text(Identify.Answer answer)
    {
        var shown = answer.Shown;
        var text = new StringBuilder().Append(shown.Candidates.Count switch
        {
            0 => "Nothing fits.",
            1 => "One variant fits:",
            var many => string.Create(CultureInfo.InvariantCulture, $"{many} variants fit{(shown.SameKit ? ", and all need the same kit" : "")}:"),
        });
        foreach (var candidate in shown.Candidates)
            text.Append(CultureInfo.InvariantCulture, $"\n  {candidate.Variant}   PRESSURE CLASS {candidate.PressureClass}   family {candidate.Family}   met {candidate.Weight} times\n      {candidate.Why}");
        if (shown.Next is { } next)
            text.Append(CultureInfo.InvariantCulture, $"\nNext: {next.Question}\n  --seen \"{next.Feature}=…\" with one of: {string.Join(", ", next.Values)}; or --unknown \"{next.Feature}\"")
                .Append(CultureInfo.InvariantCulture, $"\n  {next.ExpectedSeconds:0.#} s of looking are expected until it is settled{(answer.Plan.Status == PlanStatus.Optimal ? "" : $", {answer.Plan.LowerBoundSeconds:0.#} s at the least")}.");
        return text.ToString();
    }
}
