using System.CommandLine;
using System.Text.Json;
using GraphQL;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;

namespace PartsLedger.Commands;

/// <summary>
/// <c>partsledger ask DOCUMENT [--variables JSON] [--db CONNECTION]</c>: everything the API can be asked or told, on the command line and in the
/// name of whoever may use it: a supervisor. Ends with 0 when it was answered, 1 when an act was refused, 2 when the question is of no use.
/// </summary>
public static class AskCommand
{
    public const int Answered = 0;
    public const int Refused = 1;

    /// <summary>In place of a document: read it from the standard input.</summary>
    public const string StandardInput = "-";

    public static Command Make()
    {
        var document = new Argument<string>("DOCUMENT") { Description = $"A GraphQL document, or {StandardInput} to read one from the standard input." };
        var variables = new Option<string?>("--variables") { Description = "The document's variables, as one JSON object.", HelpName = "JSON" };
        var database = ShopCommand.Database();
        var command = new Command("ask", "Ask or do anything the API can, as a supervisor at this machine.") { document, variables, database };
        command.SetAction(async (given, cancellation) =>
        {
            var text = given.GetValue(document)!;
            if (text == StandardInput) text = await Console.In.ReadToEndAsync(cancellation);
            return await given.OnDatabase(database, async services =>
            {
                services.PrepareGraphQl();
                var serializer = services.GetRequiredService<IGraphQLTextSerializer>();
                var read = Read(serializer, given.GetValue(variables));
                if (!read.Succeeded) return read.Refusal;
                var json = serializer.Serialize(await services.GetRequiredService<GraphQlEndpoint>().Answer(text, read.Result, Caller.CommandLine, cancellation));
                await given.InvocationConfiguration.Output.WriteLineAsync(json);
                return Status(json);
            }, cancellation, services => services.AddShopGraphQl(new()));
        });
        return command;
    }

    private static Outcome<Inputs> Read(IGraphQLTextSerializer serializer, string? variables)
    {
        if (variables is null) return Inputs.Empty;
        try
        {
            if (serializer.Deserialize<Inputs>(variables) is { } read) return read;
        }
        catch (JsonException)
        {
            // Answered below: what exactly is wrong with it depends on the reader.
        }
        return new Refusal("BAD_VARIABLES", "What follows --variables is no JSON object.", "Write it like {\"part\": \"10-4477\"}, in quotes for the shell.");
    }

    /// <summary>A question that failed has errors; an act that was refused says so in its own field.</summary>
    private static int Status(string json)
    {
        using var answer = JsonDocument.Parse(json);
        if (answer.RootElement.TryGetProperty("errors", out _) || !answer.RootElement.TryGetProperty("data", out var data)) return CommandLine.Unusable;
        return data.EnumerateObject().Any(field => field.Value.ValueKind == JsonValueKind.Object
            && field.Value.TryGetProperty("refusals", out var refusals) && refusals.GetArrayLength() > 0) ? Refused : Answered;
    }
}
