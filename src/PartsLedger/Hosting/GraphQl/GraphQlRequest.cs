using System.Buffers;
using System.Text.Json;
using GraphQL;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Hosting.GraphQl;

/// <summary>One question as it came over the wire.</summary>
public sealed record GraphQlRequest(string Query, string? OperationName, Inputs Variables, Inputs Extensions);

/// <summary>What a body or an address held: one question, or several as a batch.</summary>
public sealed record GraphQlRequests(IReadOnlyList<GraphQlRequest> Requests, bool IsBatch);

/// <summary>Why a request was not understood, with the status that says so.</summary>
public sealed class UnusableRequest(int status, Refusal refusal) : Exception(refusal.ToString())
{
    public int Status { get; } = status;
    public Refusal Refusal { get; } = refusal;
    public string Code => Refusal.Code;
}

/// <summary>Reads questions out of HTTP requests.</summary>
public sealed class GraphQlRequestReader(IGraphQLTextSerializer serializer, GraphQlLimits limits)
{
    private const string AskLikeThis = "Send {\"query\": \"…\", \"variables\": {…}, \"operationName\": \"…\"} as application/json in UTF-8.";

    /// <exception cref="UnusableRequest">The address holds no usable question.</exception>
    public GraphQlRequests FromAddress(IQueryCollection address)
    {
        var query = address["query"].ToString();
        if (query.Length == 0) throw Bad("The address has no query.");
        return new([new(query, address["operationName"].ToString() is { Length: > 0 } name ? name : null,
            Map(address["variables"].ToString(), "variables"), Map(address["extensions"].ToString(), "extensions"))], IsBatch: false);
    }

    /// <exception cref="UnusableRequest">The body holds no usable question.</exception>
    public async Task<GraphQlRequests> FromBody(HttpRequest request, CancellationToken cancellation)
    {
        if (!MediaTypes.IsJsonBody(request.ContentType))
            throw new UnusableRequest(StatusCodes.Status415UnsupportedMediaType,
                new("UNSUPPORTED_MEDIA_TYPE", "The body is not declared as JSON in UTF-8.", AskLikeThis));
        var bytes = await ReadBounded(request, cancellation);
        try
        {
            using var body = JsonDocument.Parse(bytes);
            if (body.RootElement.ValueKind != JsonValueKind.Array) return new([One(body.RootElement)], IsBatch: false);
            var count = body.RootElement.GetArrayLength();
            if (count == 0 || count > limits.Batch)
                throw new UnusableRequest(StatusCodes.Status400BadRequest,
                    new("BAD_BATCH", $"A batch of {count} cannot be answered.", $"Send 1 to {limits.Batch} questions at a time."));
            return new([.. body.RootElement.EnumerateArray().Select(One)], IsBatch: true);
        }
        catch (JsonException)
        {
            throw Bad("The body is not JSON.");
        }
    }

    private async Task<ReadOnlyMemory<byte>> ReadBounded(HttpRequest request, CancellationToken cancellation)
    {
        // The length is checked while reading as well: a chunked body does not announce it.
        if (request.ContentLength > limits.BodyBytes) throw TooLarge();
        var bytes = new ArrayBufferWriter<byte>(Math.Max(256, (int)(request.ContentLength ?? 4096)));
        try
        {
            for (int read; (read = await request.Body.ReadAsync(bytes.GetMemory(4096), cancellation)) > 0;)
            {
                bytes.Advance(read);
                if (bytes.WrittenCount > limits.BodyBytes) throw TooLarge();
            }
        }
        catch (BadHttpRequestException problem)
        {
            throw problem.StatusCode == StatusCodes.Status413PayloadTooLarge ? TooLarge()
                : problem.StatusCode == StatusCodes.Status408RequestTimeout ? TooSlow : Bad("The body broke off.");
        }
        catch (OperationCanceledException) when (!request.HttpContext.RequestAborted.IsCancellationRequested)
        {
            throw TooSlow;
        }
        return bytes.WrittenMemory;
    }

    private GraphQlRequest One(JsonElement element)
    {
        if (element.ValueKind != JsonValueKind.Object) throw Bad("A question is a JSON object.");
        var query = Text(element, "query");
        if (string.IsNullOrEmpty(query)) throw Bad("The question has no query.");
        return new(query, Text(element, "operationName"), Map(element, "variables"), Map(element, "extensions"));
    }

    private static string? Text(JsonElement element, string name) =>
        !element.TryGetProperty(name, out var value) || value.ValueKind == JsonValueKind.Null ? null
        : value.ValueKind == JsonValueKind.String ? value.GetString()
        : throw Bad($"'{name}' is not a text.");

    private Inputs Map(JsonElement element, string name) =>
        !element.TryGetProperty(name, out var value) || value.ValueKind == JsonValueKind.Null ? Inputs.Empty
        : value.ValueKind == JsonValueKind.Object ? serializer.ReadNode<Inputs>(value)!
        : throw Bad($"'{name}' is not a JSON object.");

    private Inputs Map(string json, string name)
    {
        if (json.Length == 0) return Inputs.Empty;
        try
        {
            using var value = JsonDocument.Parse(json);
            return value.RootElement.ValueKind switch
            {
                JsonValueKind.Null => Inputs.Empty,
                JsonValueKind.Object => serializer.ReadNode<Inputs>(value.RootElement)!,
                _ => throw Bad($"'{name}' is not a JSON object."),
            };
        }
        catch (JsonException)
        {
            throw Bad($"'{name}' is not JSON.");
        }
    }

    private UnusableRequest TooLarge() => new(StatusCodes.Status413PayloadTooLarge,
        new("BODY_TOO_LARGE", $"The body is larger than {limits.BodyBytes} bytes.", "Ask for less at a time."));

    private static UnusableRequest TooSlow => new(StatusCodes.Status408RequestTimeout,
        new("BODY_TOO_SLOW", "The body came too slowly.", "Send it again, at once."));

    private static UnusableRequest Bad(string sentence) => new(StatusCodes.Status400BadRequest, new("BAD_REQUEST", sentence, AskLikeThis));
}
