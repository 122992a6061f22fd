using Microsoft.Net.Http.Headers;

namespace PartsLedger.Hosting.GraphQl;

/// <summary>The two media types in which an answer can be had, and which of them a caller accepts.</summary>
public static class MediaTypes
{
    public const string Json = "application/json";
    public const string GraphQlResponse = "application/graphql-response+json";

    /// <summary>The accepted type with the highest quality, or null for none. Whoever does not say, or takes anything, gets plain JSON.</summary>
    public static string? Choose(IList<string?> accept)
    {
        if (accept.All(string.IsNullOrWhiteSpace)) return Json;
        if (!MediaTypeHeaderValue.TryParseList(accept!, out var wanted)) return null;
        return wanted.Where(type => type.Quality is not 0 && IsUtf8(type)).OrderByDescending(type => type.Quality ?? 1)
            .Select(Match).FirstOrDefault(type => type is not null);
    }

    public static bool IsJsonBody(string? contentType) =>
        MediaTypeHeaderValue.TryParse(contentType, out var type) && type.MediaType.Equals(Json, StringComparison.OrdinalIgnoreCase) && IsUtf8(type);

    private static string? Match(MediaTypeHeaderValue type) =>
        type.MediaType.Equals(GraphQlResponse, StringComparison.OrdinalIgnoreCase) ? GraphQlResponse
        : type.MatchesAllTypes || type.MediaType.Equals("application/*", StringComparison.OrdinalIgnoreCase)
            || type.MediaType.Equals(Json, StringComparison.OrdinalIgnoreCase) ? Json
        : null;

    private static bool IsUtf8(MediaTypeHeaderValue type) =>
        !type.Charset.HasValue || type.Charset.Value.Trim('"').Equals("utf-8", StringComparison.OrdinalIgnoreCase);
}
