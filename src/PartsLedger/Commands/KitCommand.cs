using System.CommandLine;
using System.Text.Json;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Kits;

namespace PartsLedger.Commands;

/// <summary>
/// <c>partsledger kit</c>: what kit does this job need. Ends with 0 when the list is complete, 4 when something is left uncovered, 2 when
/// the question cannot be used.
/// </summary>
public static class KitCommand
{
    public const int Complete = 0;
    public const int Unusable = 2;
    public const int SomethingUncovered = 4;

    private static readonly Option<string?> Variant = new("--variant") { Description = "The variant's code.", HelpName = "CODE" };
    private static readonly Option<string?> Scope = new("--scope")
    {
        Description = $"How far the job goes: {string.Join(", ", Words.All<JobScope>())}.", HelpName = "SCOPE",
    };
    private static readonly Option<string?> Worn = new("--worn")
    {
        Description = "Positions found worn, renewed besides what the scope renews.", HelpName = "4,7",
    };
    private static readonly Option<string?> Prefer = new("--prefer")
    {
        Description = "What comes first when the job can be covered in several ways: cost (default) or stock.", HelpName = "cost|stock",
    };
    private static readonly Option<bool> Json = new("--json") { Description = "Write the answer as JSON and nothing else." };
    private static readonly Option<string?> Xlsx = new("--xlsx") { Description = "Write the answer as a workbook.", HelpName = "FILE" };
    private static readonly Option<string?> Database = new("--db")
    {
        Description = $"sqlite:PATH, sqlserver:CONNECTION STRING or postgresql:CONNECTION STRING; else {DatabaseAddress.Variable}.", HelpName = "CONNECTION",
    };

    public static Command Make()
    {
        var command = new Command("kit", "What kit does a job need: the best complete list, and why for every line.")
        {
            Variant, Scope, Worn, Prefer, Json, Xlsx, Database,
        };
        command.SetAction(Run);
        return command;
    }

    private static async Task<int> Run(ParseResult given, CancellationToken cancellation)
    {
        var (output, error) = (given.InvocationConfiguration.Output, given.InvocationConfiguration.Error);
        var question = Question(given);
        if (!question.Succeeded) return Refuse(error, question.Refusal);
        var (json, xlsx) = (given.GetValue(Json), given.GetValue(Xlsx));
        if (json && xlsx is not null)
            return Refuse(error, new Refusal("TWO_FORMS", "--json and --xlsx are both given.", "Ask for one of them."));
        if (xlsx is not null && KitFile.WhyNot(xlsx) is { } unusable) return Refuse(error, unusable);

        var answered = await Ask(question.Result, given.GetValue(Database), cancellation);
        if (!answered.Succeeded) return Refuse(error, answered.Refusal);
        var answer = answered.Result;

        if (json)
            await output.WriteLineAsync(JsonSerializer.Serialize(answer, ShopJson.Indented));
        else if (xlsx is null)
            await output.WriteAsync(KitText.Of(answer));
        else if (KitFile.Write(answer, xlsx) is { } notWritten)
            return Refuse(error, notWritten);
        else
            await output.WriteLineAsync($"{KitPhrases.Verdict(answer)}\nWritten to {Path.GetFullPath(xlsx)}.");
        return answer.Complete ? Complete : SomethingUncovered;
    }

    private static async Task<Outcome<KitAnswer>> Ask(KitFor.Query query, string? database, CancellationToken cancellation)
    {
        var address = DatabaseAddress.Choose(database);
        if (!address.Succeeded) return address.Refusal;
        var opened = await ShopServices.Open(address.Result, cancellation);
        if (!opened.Succeeded) return opened.Refusal;
        await using var services = opened.Result;
        return await services.GetRequiredService<Asking>().Ask<KitFor.Query, KitAnswer>(query, cancellation);
    }

    private static Outcome<KitFor.Query> Question(ParseResult given)
    {
        var variant = given.GetValue(Variant);
        if (string.IsNullOrWhiteSpace(variant))
            return new Refusal("UNKNOWN_VARIANT", "No variant is named.", "Name it by its code after --variant.");
        if (given.GetValue(Scope) is not { } scopeWord)
            return new Refusal("UNKNOWN_SCOPE", "No scope is named.", $"Name one after --scope: {string.Join(", ", Words.All<JobScope>())}.");
        if (!Words.TryParse(scopeWord, out JobScope scope))
            return new Refusal("UNKNOWN_SCOPE", $"There is no scope '{scopeWord}'.",
                $"The nearest known ones are {string.Join(", ", Nearest.To(scopeWord, Words.All<JobScope>()))}.");
        var preferWord = given.GetValue(Prefer) ?? Words.Of(KitPreference.Cost);
        if (!Words.TryParse(preferWord, out KitPreference prefer))
            return new Refusal("UNKNOWN_PREFERENCE", $"There is no preference '{preferWord}'.",
                $"The known ones are {string.Join(" and ", Words.All<KitPreference>())}.");
        return WornPositions.Read(given.GetValue(Worn)).Then<KitFor.Query>(worn => new KitFor.Query(variant, scope, worn, prefer));
    }

    private static int Refuse(TextWriter error, Refusal refusal)
    {
        error.WriteLine(refusal.ToString());
        return Unusable;
    }
}
