using GraphQL;
using GraphQL.DI;
using GraphQLParser.AST;
using Microsoft.Extensions.Caching.Memory;

namespace PartsLedger.Hosting.GraphQl;

/// <summary>
/// Keeps documents that were found valid and ran, so that a repeated question is not parsed and validated again. What depends on the
/// variables (complexity) or on the request (reading only by GET) is checked all the same: those rules stand in the cached set as well.
/// </summary>
public sealed class DocumentCache(GraphQlLimits limits) : IConfigureExecution, IDisposable
{
    private readonly MemoryCache _documents = new(new MemoryCacheOptions { SizeLimit = limits.CachedCharacters });

    public float SortOrder => 0;

    public async Task<ExecutionResult> ExecuteAsync(ExecutionOptions options, ExecutionDelegate next)
    {
        if (options.Query is not { Length: > 0 } query || options.Document is not null) return await next(options);
        if (_documents.TryGetValue(query, out GraphQLDocument? known))
        {
            options.Document = known;
            options.ValidationRules = options.CachedDocumentValidationRules;
            return await next(options);
        }
        var result = await next(options);
        if (result is { Executed: true, Document: { } document })
            _documents.Set(query, document, new MemoryCacheEntryOptions { Size = query.Length, SlidingExpiration = TimeSpan.FromHours(1) });
        return result;
    }

    public void Dispose() => _documents.Dispose();
}
