using System.ComponentModel;
using GraphQL;
using GraphQL.Types;
using PartsLedger.Hosting.GraphQl;
using PartsLedger.Stock;

namespace PartsLedger.Kits;

// Building and breaking down the shop's own kits, as the API is told and answers.

/// <summary>What happens when not all kits can be built, described for the API.</summary>
public sealed class BuildRuleGraphType : EnumerationGraphType<BuildRule>
{
    public BuildRuleGraphType()
    {
        Name = "BuildRule";
        Description = "What happens when the components are not enough for all the kits that were asked for.";
        Values["ALL_OR_NOTHING"]!.Description = "None is built.";
        Values["AS_MANY_AS_POSSIBLE"]!.Description = "As many as there can be, at least one; the answer names what limits.";
    }
}

/// <summary>What the API can do with kits of the house in stock.</summary>
public sealed class KitBuildActs
{
    private KitBuildActs() { }

    [Description("Kits are put together by the recipe in force: free, new components, first to expire first, become a lot of kits worth exactly what they were.")]
    public static Task<Payload<BuiltKitsView>> BuildKit([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId, [Description(RecipeFields.KitText)] string kit,
        [Description("How many, 1 to 10000.")] int count, [Description("The place the kits are put in.")] string to,
        [Description("What happens when too few can be built; ALL_OR_NOTHING when left out.")] BuildRule? rule = null,
        [Description("The recipe's version as it was read: refused when another is in force.")] int? version = null,
        [Description("A lot code that no lot of the kit has yet; made of the kit, the day and a number when left out.")] string? lot = null,
        [Description("Where too few are free, also take what jobs have reserved.")] bool fromJobs = false,
        [Description("A remark that stays with the transaction.")] string? note = null, CancellationToken cancellation = default) =>
        acting.Act<BuildKit.Command, BuildKit.Answer, BuiltKitsView>(
            new BuildKit.Command(requestId, kit, count, to, rule ?? BuildRule.AllOrNothing, version, lot, fromJobs, note), answer => new(answer), cancellation);

    [Description("Kits become components again. What came out of one lot goes back to it; else it goes into a lot that names the kit.")]
    public static Task<Payload<BrokenKitsView>> BreakDownKit([FromServices] Acting acting,
        [Description(ActingExtensions.RequestId)] string requestId, [Description(RecipeFields.KitText)] string kit,
        [Description("The lot the kits are of.")] string lot, [Description("How many, 1 to 10000.")] int count,
        [Description("The place they are in.")] string from, [Description("The place the components are put in.")] string to,
        [Description("A remark that stays with the transaction.")] string? note = null, CancellationToken cancellation = default) =>
        acting.Act<BreakDownKit.Command, BreakDownKit.Answer, BrokenKitsView>(
            new BreakDownKit.Command(requestId, kit, lot, count, from, to, note), answer => new(answer), cancellation);
}

[Name("BuiltKits")]
[Description("Kits that were built in one go.")]
public sealed class BuiltKitsView(BuildKit.Answer answer)
{
    [Id]
    [Description("The ledger transaction's number.")]
    public long Transaction => answer.Transaction;

    [Description("When, in UTC.")]
    public DateTimeOffset At => answer.At;

    [Description("The kit's number, as written.")]
    public string Kit => answer.Kit;

    [Description("The version of the recipe they were built by.")]
    public int Version => answer.Version;

    [Description("Their lot: what a label is printed for.")]
    public string Lot => answer.Lot;

    [Description("How many were built.")]
    public int Count => answer.Count;

    [Description("The place they are in.")]
    public string Place => answer.Place;

    [Description("The earliest known cure date of what is in them.")]
    public DateOnly? CuredOn => answer.CuredOn;

    [Description("The last day on which they may be used: the earliest of what is in them.")]
    public DateOnly? ExpiresOn => answer.ExpiresOn;

    [Description("What they are worth together: exactly what went into them, in the shop's currency.")]
    public decimal Value => answer.Value.ToDecimal();

    [Description("What was taken, and from where.")]
    public IEnumerable<PiecesAtView> Used => answer.Used.Select(pieces => new PiecesAtView(pieces));

    [Description("What of it jobs had reserved.")]
    public IEnumerable<TakenFromJobView> FromJobs => answer.FromJobs.Select(taken => new TakenFromJobView(taken));

    [Description("The components that were enough for no more; empty where everything asked for was built.")]
    public IEnumerable<string> LimitedBy => answer.LimitedBy;
}

[Name("BrokenKits")]
[Description("Kits that became components again.")]
public sealed class BrokenKitsView(BreakDownKit.Answer answer)
{
    [Id]
    [Description("The ledger transaction's number.")]
    public long Transaction => answer.Transaction;

    [Description("When, in UTC.")]
    public DateTimeOffset At => answer.At;

    [Description("The kit's number, as written.")]
    public string Kit => answer.Kit;

    [Description("The lot they were of.")]
    public string Lot => answer.Lot;

    [Description("How many were broken down.")]
    public int Count => answer.Count;

    [Description("What they were worth together: exactly what the pieces are worth now, in the shop's currency.")]
    public decimal Value => answer.Value.ToDecimal();

    [Description("What came out, and where it is.")]
    public IEnumerable<PiecesAtView> Pieces => answer.Pieces.Select(pieces => new PiecesAtView(pieces));
}
