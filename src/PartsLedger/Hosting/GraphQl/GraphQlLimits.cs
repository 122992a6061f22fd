namespace PartsLedger.Hosting.GraphQl;

/// <summary>
/// What one request may cost. All of it is checked before a query runs, in time that grows with the request's length and no faster:
/// the library's own rules are quadratic or worse in places and do not listen to a time-out.
/// </summary>
public sealed record GraphQlLimits
{
    /// <summary>Bytes of a request's body.</summary>
    public int BodyBytes { get; init; } = 1024 * 1024;

    /// <summary>From a request's head to its body's last byte.</summary>
    public TimeSpan BodyTime { get; init; } = TimeSpan.FromSeconds(30);

    /// <summary>Requests in one batch.</summary>
    public int Batch { get; init; } = 10;

    /// <summary>From the last byte read to the answer, a whole batch together.</summary>
    public TimeSpan Time { get; init; } = TimeSpan.FromSeconds(20);

    /// <summary>Brackets within brackets while a document is read.</summary>
    public int Nesting { get; init; } = 64;

    /// <summary>Nodes of the syntax tree: names, fields, arguments, values, directives.</summary>
    public int Nodes { get; init; } = 6_000;

    /// <summary>Fields written in a document.</summary>
    public int Fields { get; init; } = 1_000;

    /// <summary>Fields after every fragment is put in its place.</summary>
    public int ExpandedFields { get; init; } = 10_000;

    /// <summary>Fields within fields after every fragment is put in its place. The usual introspection query needs 13.</summary>
    public int Depth { get; init; } = 16;

    /// <summary>Uses of <c>__schema</c> and <c>__type</c>.</summary>
    public int Introspections { get; init; } = 5;

    /// <summary>Uses of one response name for different things.</summary>
    public int Homonyms { get; init; } = 50;

    /// <summary>Estimated values in the answer: a list counts as its <c>first</c>, a list without one as <see cref="ListEstimate"/>.</summary>
    public int Complexity { get; init; } = 50_000;

    /// <summary>So many estimated values count as one heavy request; see <see cref="PartsLedger.Access.Rates"/>.</summary>
    public int ComplexityOfHeavy { get; init; } = 4_000;

    public int ListEstimate { get; init; } = 10;

    /// <summary>Errors named in one answer; the rest are left out.</summary>
    public int Errors { get; init; } = 20;

    /// <summary>Characters of one error's message.</summary>
    public int MessageLength { get; init; } = 600;

    /// <summary>Characters of documents that are kept parsed and validated.</summary>
    public int CachedCharacters { get; init; } = 2_000_000;
}
