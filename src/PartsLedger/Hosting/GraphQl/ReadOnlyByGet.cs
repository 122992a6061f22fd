using GraphQL.Validation;
using GraphQLParser.AST;

namespace PartsLedger.Hosting.GraphQl;

/// <summary>A request by GET may only read: a link or a prefetching browser must not be able to change anything.</summary>
public sealed class ReadOnlyByGet : ValidationRuleBase
{
    /// <summary>Present in the user context of a request that came by GET.</summary>
    public const string Mark = "by-get";

    public const string Code = "MUTATION_BY_GET";

    public override ValueTask<INodeVisitor?> GetPreNodeVisitorAsync(ValidationContext context)
    {
        if (context.UserContext.ContainsKey(Mark) && context.Operation.Operation != OperationType.Query)
            context.ReportError(new ValidationError("A request by GET may only read. Send this one by POST.") { Code = Code });
        return default;
    }
}
