using GraphQL;
using Microsoft.AspNetCore.Http.Features;
using PartsLedger.Access;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Hosting.GraphQl;

/// <summary>GraphQL over HTTP: what a request's verb, headers and body mean and which status answers them.</summary>
public sealed class GraphQlEndpoint(
    IDocumentExecuter executer, IGraphQLTextSerializer serializer, ShopSchema schema, GraphQlLimits limits, GraphQlRequestReader reader,
    IServiceScopeFactory scopes, AuditDesk audit, Rates rates, ILogger<GraphQlEndpoint> log)
{
    /// <summary>A header that a page of another site cannot send without asking first; with it the browser's own origin mark does not matter.</summary>
    public const string CustomHeader = "X-PartsLedger-Client";

    private const string CrossSite = "CROSS_SITE";

    private static readonly TimeSpan TurnedAway = TimeSpan.FromSeconds(1);

    public async Task Serve(HttpContext http)
    {
        var type = MediaTypes.Choose(http.Request.Headers.Accept);
        var caller = http.RequestServices.GetRequiredService<CurrentCaller>().Caller;
        using var time = CancellationTokenSource.CreateLinkedTokenSource(http.RequestAborted);
        try
        {
            if (!HttpMethods.IsGet(http.Request.Method) && !HttpMethods.IsPost(http.Request.Method))
            {
                http.Response.Headers.Allow = "GET, POST";
                throw Unusable(StatusCodes.Status405MethodNotAllowed, "METHOD_NOT_ALLOWED",
                    $"Nothing is served here by {http.Request.Method}.", "Send questions by POST or GET.");
            }
            if (ComesFromAnotherSite(http.Request))
                throw Unusable(StatusCodes.Status403Forbidden, CrossSite, "A page of another site sent this.",
                    $"Send the header {CustomHeader} with any value if that is meant.");
            if (caller.CameBy is CameBy.Password or CameBy.Badge or CameBy.SignInService && !http.Request.Headers.ContainsKey(CustomHeader))
                throw Unusable(StatusCodes.Status403Forbidden, CrossSite, "A browser sends its session by itself, also for a page of another site.",
                    $"Send the header {CustomHeader} with any value: only a page of this site can.");
            if (type is null)
                throw Unusable(StatusCodes.Status406NotAcceptable, "NOT_ACCEPTABLE", "No media type was accepted that answers are written in.",
                    $"Accept {MediaTypes.Json} or {MediaTypes.GraphQlResponse} in UTF-8.");
            if (rates.WhyNotRead(caller) is { } tooMany)
            {
                // Slowly: whoever floods waits for each answer, and nobody else for the work it would be.
                await Task.Delay(TurnedAway, time.Token);
                http.Response.Headers.RetryAfter = "1";
                await Refuse(http, StatusCodes.Status429TooManyRequests, tooMany);
                return;
            }
            if (http.Features.Get<IHttpMaxRequestBodySizeFeature>() is { IsReadOnly: false } size) size.MaxRequestBodySize = limits.BodyBytes;

            var byGet = HttpMethods.IsGet(http.Request.Method);
            time.CancelAfter(limits.BodyTime);
            var asked = byGet ? reader.FromAddress(http.Request.Query) : await reader.FromBody(http.Request, time.Token);
            time.CancelAfter(limits.Time);
            List<ExecutionResult> results = [];
            foreach (var request in asked.Requests) results.Add(await Execute(request, byGet, caller, time.Token));
            foreach (var result in results)
                if (!result.Executed && result.Errors?.Any(error => error.Code == Rates.TooMany) is not true) rates.WasUseless(caller);
            await Write(http, type, asked.IsBatch ? StatusCodes.Status200OK : Status(results[0], type, http), asked.IsBatch ? results : results[0]);
        }
        catch (UnusableRequest problem)
        {
            rates.WasUseless(caller);
            if (problem.Code == CrossSite) await audit.Refused(caller, "AskApi", problem.Code, http.RequestAborted);
            await Write(http, type ?? MediaTypes.Json, problem.Status, Failure(problem.Code, problem.Message));
        }
        catch (OperationCanceledException) when (!http.RequestAborted.IsCancellationRequested)
        {
            await Write(http, type ?? MediaTypes.Json, StatusCodes.Status503ServiceUnavailable,
                Failure("TIMED_OUT", $"The answer was not found within {limits.Time.TotalSeconds:0.###} seconds. Ask for less at a time."));
        }
        catch (OperationCanceledException)
        {
            // Whoever asked has gone.
        }
    }

    /// <summary>Answers a request that is not let in, in the shape in which it would have been answered.</summary>
    public Task Refuse(HttpContext http, int status, Refusal refusal) =>
        Write(http, MediaTypes.Choose(http.Request.Headers.Accept) ?? MediaTypes.Json, status, Failure(refusal.Code, refusal.ToString()));

    /// <summary>Runs the smallest question once.</summary>
    public Task WarmUp(CancellationToken cancellation) => Answer("{ __typename }", Inputs.Empty, Caller.CommandLine, cancellation);

    /// <summary>Answers one document that did not come over the wire, with the same limits.</summary>
    public Task<ExecutionResult> Answer(string document, Inputs variables, Caller caller, CancellationToken cancellation) =>
        Execute(new(document, null, variables, Inputs.Empty), byGet: false, caller, cancellation);

    private async Task<ExecutionResult> Execute(GraphQlRequest request, bool byGet, Caller caller, CancellationToken cancellation)
    {
        await using var scope = scopes.CreateAsyncScope();
        scope.ServiceProvider.GetRequiredService<CurrentCaller>().Caller = caller;
        var result = await executer.ExecuteAsync(new ExecutionOptions
        {
            Schema = schema,
            Query = request.Query,
            OperationName = request.OperationName,
            Variables = request.Variables,
            Extensions = request.Extensions,
            RequestServices = scope.ServiceProvider,
            CancellationToken = cancellation,
            UserContext = byGet ? new Dictionary<string, object?> { [ReadOnlyByGet.Mark] = true } : [],
            UnhandledExceptionDelegate = unhandled =>
            {
                var reference = Shield.NewReference();
                log.LogError(unhandled.OriginalException, "A GraphQL question failed at {Path}; reference {Reference}",
                    string.Join('.', unhandled.FieldContext?.Path ?? []), reference);
                unhandled.ErrorMessage = Shield.Failed(reference).ToString();
                return Task.CompletedTask;
            },
        });
        if (result.Errors is { } errors && errors.Count > limits.Errors)
        {
            ExecutionErrors first = [];
            foreach (var error in errors.Take(limits.Errors)) first.Add(error);
            result.Errors = first;
        }
        return result;
    }

    /// <summary>
    /// A caller who takes the GraphQL media type learns from the status that nothing was executed; one who takes plain JSON may mistake
    /// such a status for a gateway's, so it gets 200 and the errors.
    /// </summary>
    private static int Status(ExecutionResult result, string type, HttpContext http)
    {
        if (result.Executed) return StatusCodes.Status200OK;
        if (result.Errors?.Any(error => error.Code == ReadOnlyByGet.Code) is true)
        {
            http.Response.Headers.Allow = "POST";
            return StatusCodes.Status405MethodNotAllowed;
        }
        return type == MediaTypes.GraphQlResponse ? StatusCodes.Status400BadRequest : StatusCodes.Status200OK;
    }

    /// <summary>A browser says where a request comes from; what is no browser says nothing and is no puppet of another site.</summary>
    private static bool ComesFromAnotherSite(HttpRequest request) =>
        request.Headers["Sec-Fetch-Site"].ToString() is not ("" or "same-origin" or "none") && !request.Headers.ContainsKey(CustomHeader);

    private async Task Write(HttpContext http, string type, int status, object answer)
    {
        http.Response.StatusCode = status;
        http.Response.ContentType = $"{type}; charset=utf-8";
        await serializer.WriteAsync(http.Response.Body, answer, http.RequestAborted);
    }

    private static ExecutionResult Failure(string code, string message) => new() { Errors = [new ExecutionError(message) { Code = code }] };

    private static UnusableRequest Unusable(int status, string code, string sentence, string whatToDo) =>
        new(status, new(code, sentence, whatToDo));
}
