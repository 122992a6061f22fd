using System.ComponentModel;
using GraphQL;
using PartsLedger.Domain.Identification;
using PartsLedger.Domain.Kits;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;
using PartsLedger.Kits;

namespace PartsLedger.Identification;

// Identification as the API shows it: the contract's field names, and besides them what a page tells the person.

[Name("SeenInput")]
[Description("Something seen of the pump.")]
public sealed class SeenInput
{
    [Description("The feature's code, as in the guide.")]
    public required string Feature { get; init; }

    [Description("What was seen.")]
    public required string Value { get; init; }
}

[Name("Identification")]
[Description("What everything known of a pump leaves, and what to ask next.")]
public sealed class IdentifyView(Identify.Answer answer, JobScope? scope)
{
    [Description("The variants that are left, most often met first.")]
    public IEnumerable<CandidateView> Candidates => answer.Shown.Candidates.Select(candidate => new CandidateView(candidate));

    [Description("The question to ask now; null when it is settled or nothing recorded tells the rest apart.")]
    public QuestionView? Next => answer.Shown.Next is { } next ? new QuestionView(next, answer.Plan) : null;

    [Description("One variant is left, or all that are left need the same kit.")]
    public bool Settled => answer.Shown.Settled;

    [Description("All that are left need the same kit; false where no job is in question.")]
    public bool SameKit => answer.Shown.SameKit;

    [Description("Sentences for the person: how something was read, what fits nothing, what to beware of.")]
    public IReadOnlyList<string> Notes => answer.Notes;

    [Description("The other choice while it is not settled: one list for all that are left. Null where no job is in question, when it is settled, or when "
        + "more than sixteen are left.")]
    public async Task<CoveringKitView?> Cover([FromServices] Asking asking, CancellationToken cancellation) =>
        Identify.MayBeCovered(answer.Shown) && scope is { } known
            ? new(await asking.Answer<KitForAny.Query, CoveringKit>(new([.. answer.Shown.Candidates.Select(candidate => candidate.Variant)], known), cancellation))
            : null;

    [Description("Where nothing is left: every smallest set of what was given without which something remains.")]
    public IEnumerable<RetractionView> LookAgain => answer.Contradiction?.Smallest.Select(way => new RetractionView(way)) ?? [];
}

[Name("Candidate")]
[Description("A variant that the pump may be.")]
public sealed class CandidateView(Identify.CandidateShown candidate)
{
    [Description("The variant's code.")]
    public string Variant => candidate.Variant;

    [Description("Its family's code.")]
    public string Family => candidate.Family;

    [Description("Its pressure class's code.")]
    public string PressureClass => candidate.PressureClass;

    [Description("How often it is met: the applications that point to it, at least 1.")]
    public int Weight => checked((int)candidate.Weight);

    [Description("What speaks for it, in words.")]
    public string Why => candidate.Why;
}

[Name("NextQuestion")]
[Description("The question that begins the plan of least expected seconds. \"Don't know\" is an answer to every question: send it as `unknown`.")]
public sealed class QuestionView(Identify.QuestionShown next, QuestionPlan plan)
{
    [Description("The feature's code: send it back in `seen`.")]
    public string Feature => next.Feature;

    [Description("What to look at, as a question.")]
    public string Question => next.Question;

    [Description("The answers recorded among what is left.")]
    public IReadOnlyList<string> Values => next.Values;

    [Description("Seconds of looking that the whole plan is expected to take.")]
    public double ExpectedSeconds => next.ExpectedSeconds;

    [Description("No plan takes fewer seconds than these; the same as `expectedSeconds` where the plan is the best there is.")]
    public double LeastSeconds => plan.LowerBoundSeconds;

    [Description("The pump must be opened to see it.")]
    public bool Teardown => plan.Next!.Teardown;
}

[Name("LookAgain")]
[Description("What may be wrong, and what would remain without it.")]
public sealed class RetractionView(Retraction way)
{
    [Description("What was given, as `feature = value`.")]
    public IEnumerable<string> Given => way.Dropped.Select(seen => seen.ToString());

    [Description("The variants that would remain.")]
    public IReadOnlyList<string> Left => way.Left;
}

[Name("VariantComparison")]
[Description("Variants side by side.")]
public sealed class ComparisonView(VariantComparison comparison)
{
    [Description("The variants' codes, in the order given.")]
    public IReadOnlyList<string> Variants => comparison.Variants;

    [Description("One row for each thing compared.")]
    public IEnumerable<ComparedRowView> Rows => comparison.Rows.Select(row => new ComparedRowView(row));

    [Description("How many rows are the same for all, shown or not.")]
    public int Same => comparison.Same;
}

[Name("ComparedRow")]
[Description("What each of the variants has in one respect.")]
public sealed class ComparedRowView(ComparedRow row)
{
    [Description("`family`, `pressure class`, `position`, `feature` or `used in`.")]
    public string Aspect => row.Aspect switch
    {
        ComparedAspect.PressureClass => "pressure class",
        ComparedAspect.UsedIn => "used in",
        var plain => plain.ToString().ToLowerInvariant(),
    };

    [Description("The position's number and name, the feature, or the machine.")]
    public string Name => row.Name;

    [Description("In the order of the variants; null where one has nothing.")]
    public IReadOnlyList<string?> Values => row.Values;

    [Description("Not all the same.")]
    public bool Differs => row.Differs;
}
