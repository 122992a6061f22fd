using GraphQL.Execution;
using GraphQLParser;
using GraphQLParser.AST;
using GraphQLParser.Exceptions;
using GraphQLParser.Visitors;

namespace PartsLedger.Hosting.GraphQl;

/// <summary>
/// Reads a document and refuses one that is too large to be worth validating, in one pass over it. Stands before validation because
/// the validation rules themselves can be made to run for seconds by a kilobyte of doubling fragments or of clashing names.
/// </summary>
public sealed class DocumentGuard(GraphQlLimits limits) : IDocumentBuilder
{
    public GraphQLDocument Build(string body)
    {
        var document = Parse(body);
        var tally = new Tally(body, limits);
        new Counter().VisitAsync(document, tally).AsTask().GetAwaiter().GetResult(); // Never waits: nothing in it is asynchronous.
        new Expansion(document, limits).Check();
        return document;
    }

    private GraphQLDocument Parse(string body)
    {
        try
        {
            return Parser.Parse(body, new ParserOptions { Ignore = IgnoreOptions.Comments, MaxDepth = limits.Nesting });
        }
        catch (GraphQLMaxDepthExceededException)
        {
            throw Refuse("DOCUMENT_TOO_DEEP", $"The document is nested deeper than {limits.Nesting} brackets.");
        }
        catch (GraphQLSyntaxErrorException problem)
        {
            throw new SyntaxError(problem);
        }
    }

    private static DocumentRefused Refuse(string code, string what) => new(code, $"{what} Ask for less at a time, or in several requests.");

    private sealed class Tally(string body, GraphQlLimits limits) : IASTVisitorContext
    {
        private readonly Dictionary<string, (string Meaning, int Uses, bool Differs)> _names = new(StringComparer.Ordinal);
        private int _nodes, _fields, _introspections;

        public CancellationToken CancellationToken => CancellationToken.None;

        public void Count(ASTNode node)
        {
            if (++_nodes > limits.Nodes) throw Refuse("DOCUMENT_TOO_LARGE", $"The document has more than {limits.Nodes} parts.");
            if (node is not GraphQLField field) return;
            if (++_fields > limits.Fields) throw Refuse("DOCUMENT_TOO_LARGE", $"The document names more than {limits.Fields} fields.");
            var name = field.Name.StringValue;
            if (name is "__schema" or "__type" && ++_introspections > limits.Introspections)
                throw Refuse("TOO_MUCH_INTROSPECTION", $"The document asks about the schema more than {limits.Introspections} times.");
            Name(field.Alias?.Name.StringValue ?? name, name + Arguments(field));
        }

        private string Arguments(GraphQLField field) =>
            field.Arguments is { Location: var location } ? body[location.Start..location.End] : "";

        private void Name(string response, string meaning)
        {
            var seen = _names.GetValueOrDefault(response, (meaning, 0, false));
            var now = (seen.Item1, seen.Item2 + 1, seen.Item3 || seen.Item1 != meaning);
            if (now.Item3 && now.Item2 > limits.Homonyms)
                throw Refuse("DOCUMENT_TOO_LARGE", $"The document uses one name for different things more than {limits.Homonyms} times.");
            _names[response] = now;
        }
    }

    private sealed class Counter : ASTVisitor<Tally>
    {
        public override ValueTask VisitAsync(ASTNode? node, Tally context)
        {
            if (node is not null) context.Count(node);
            return base.VisitAsync(node, context);
        }
    }

    /// <summary>How large and deep the document is once every fragment stands in its place; each fragment is measured once.</summary>
    private sealed class Expansion(GraphQLDocument document, GraphQlLimits limits)
    {
        // Two fragments of one name are validation's to report; here the first counts.
        private readonly Dictionary<string, GraphQLFragmentDefinition> _fragments = document.Definitions.OfType<GraphQLFragmentDefinition>()
            .GroupBy(fragment => fragment.FragmentName.Name.StringValue).ToDictionary(group => group.Key, group => group.First());
        private readonly Dictionary<string, (int Fields, int Depth)> _measured = new(StringComparer.Ordinal);
        private readonly HashSet<string> _measuring = new(StringComparer.Ordinal);

        public void Check()
        {
            foreach (var definition in document.Definitions)
                if (definition is GraphQLOperationDefinition operation) Measure(operation.SelectionSet);
                else if (definition is GraphQLFragmentDefinition fragment) Measure(fragment.FragmentName.Name.StringValue);
        }

        private (int Fields, int Depth) Measure(GraphQLSelectionSet? set)
        {
            var (fields, depth) = (0, 0);
            foreach (var selection in set?.Selections ?? [])
            {
                var (more, deeper) = selection switch
                {
                    GraphQLField field => Measure(field.SelectionSet) is var below ? (below.Fields + 1, below.Depth + 1) : default,
                    GraphQLInlineFragment inline => Measure(inline.SelectionSet),
                    GraphQLFragmentSpread spread => Measure(spread.FragmentName.Name.StringValue),
                    _ => default,
                };
                (fields, depth) = (fields + more, Math.Max(depth, deeper));
                if (fields > limits.ExpandedFields)
                    throw Refuse("DOCUMENT_TOO_LARGE", $"The document asks for more than {limits.ExpandedFields} fields once its fragments are put in.");
                if (depth > limits.Depth) throw Refuse("DOCUMENT_TOO_DEEP", $"The document asks for more than {limits.Depth} levels.");
            }
            return (fields, depth);
        }

        private (int Fields, int Depth) Measure(string fragment)
        {
            if (_measured.TryGetValue(fragment, out var known)) return known;

            // An unknown fragment is validation's to report. So would be one that contains itself, but of a long circle it would make seconds' work.
            if (!_fragments.TryGetValue(fragment, out var definition)) return default;
            if (!_measuring.Add(fragment)) throw new DocumentRefused("NO_FRAGMENT_CYCLES", $"The fragment {fragment} contains itself.");
            var size = Measure(definition.SelectionSet);
            _measuring.Remove(fragment);
            return _measured[fragment] = size;
        }
    }
}
