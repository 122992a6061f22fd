using GraphQL.Validation;
using GraphQLParser.AST;

namespace PartsLedger.Hosting.GraphQl;

/// <summary>
/// What can be asked is told to those to whom the shop chose to tell it. Stands in the rules for known documents as well: one that somebody
/// else asked before is no leave.
/// </summary>
public sealed class SchemaToSome(ServeSettings settings) : ValidationRuleBase
{
    public const string Code = "SCHEMA_NOT_TOLD";

    public override ValueTask<INodeVisitor?> GetPreNodeVisitorAsync(ValidationContext context) =>
        ValueTask.FromResult(settings.TellsSchemaTo(context.RequestServices!.GetRequiredService<CurrentCaller>().Caller) ? null : Visitor);

    private static INodeVisitor Visitor { get; } = new MatchingNodeVisitor<GraphQLField>((field, context) =>
    {
        if (field.Name.StringValue is "__schema" or "__type")
            context.ReportError(new ValidationError(context.Document.Source, Code,
                "What can be asked is not told here. Sign in as a person, or ask whoever looks after the program.", field) { Code = Code });
    });
}
