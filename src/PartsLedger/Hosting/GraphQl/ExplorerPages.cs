using System.Text.Encodings.Web;
using System.Text.Json;
using GraphQL;
using Microsoft.Extensions.Primitives;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting.Pages;

namespace PartsLedger.Hosting.GraphQl;

/// <summary>A place to read what can be asked and to try it, for whoever writes a program that asks here.</summary>
public static class ExplorerPages
{
    private static readonly JsonSerializerOptions Readable = new() { WriteIndented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    public static void MapExplorer(this IEndpointRouteBuilder routes)
    {
        routes.MapGet(ExplorerPage.Path, IResult (HttpContext http, ServeSettings settings, CurrentCaller current) => !settings.TellsSchemaTo(current.Caller)
            ? Results.NotFound() : ShopPages.Page<ExplorerPage>(http, (nameof(ExplorerPage.Question), (string?)http.Request.Query["question"]), (nameof(ExplorerPage.Type), (string?)http.Request.Query["type"])));
        routes.MapTellingForm<ExplorerPage, string>(ExplorerPage.Path, Answer,
            (post, answer) => [(nameof(ExplorerPage.Question), post.Text("question")), (nameof(ExplorerPage.Variables), post.Text("variables")), (nameof(ExplorerPage.Answer), answer)],
            post => [(nameof(ExplorerPage.Question), post.Text("question")), (nameof(ExplorerPage.Variables), post.Text("variables"))]);
    }

    /// <summary>The answer as it would have come over the wire, indented: in the asker's own name and within the same limits.</summary>
    private static async Task<Outcome<string>> Answer(FormPost post, CancellationToken cancellation)
    {
        var services = post.Http.RequestServices;
        var limits = services.GetRequiredService<GraphQlLimits>();
        using var time = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        time.CancelAfter(limits.Time);
        try
        {
            var asked = services.GetRequiredService<GraphQlRequestReader>().FromAddress(new QueryCollection(new Dictionary<string, StringValues>
            {
                ["query"] = post.Text("question"), ["variables"] = post.Text("variables"),
            })).Requests[0];
            var result = await services.GetRequiredService<GraphQlEndpoint>().Answer(asked.Query, asked.Variables, post.Caller, time.Token);
            using var json = JsonDocument.Parse(services.GetRequiredService<IGraphQLTextSerializer>().Serialize(result));
            return JsonSerializer.Serialize(json.RootElement, Readable);
        }
        catch (UnusableRequest problem)
        {
            return problem.Refusal;
        }
        catch (OperationCanceledException) when (!cancellation.IsCancellationRequested)
        {
            return new Refusal("TIMED_OUT", $"The answer was not found within {limits.Time.TotalSeconds:0.###} seconds.", "Ask for less at a time.");
        }
    }
}
