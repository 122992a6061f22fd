using System.ComponentModel;
using GraphQL;
using GraphQL.Types;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;

namespace PartsLedger.Kits;

// The kit answer as the API shows it: the contract's field names and words, money and quantities as decimal numbers.

[Name("KitAnswer")]
[Description("What kit a job needs: the best list that can be had, what it cannot cover, and what to mind while working.")]
public sealed class KitAnswerView(KitAnswer answer)
{
    [Description("The variant's code.")]
    public string Variant => answer.Variant;

    [Description("The code of the variant's family.")]
    public string Family => answer.Family;

    [Description("The code of the variant's pressure class.")]
    public string PressureClass => answer.PressureClass;

    [Description("How far the job goes, as asked.")]
    public JobScope Scope => answer.Scope;

    [Description("Which of cost and stock came first.")]
    public KitPreference Prefer => answer.Prefer;

    [Description("Nothing is left uncovered.")]
    public bool Complete => answer.Complete;

    [Description("The positions the job renews.")]
    public IEnumerable<KitNeedView> Needs => answer.Needs.Select(need => new KitNeedView(need));

    [Description("What to pull from the shelf or to order.")]
    public IEnumerable<KitLineView> Lines => answer.Lines.Select(line => new KitLineView(line));

    [Description("Pieces that come in packs and that nobody needs in this job.")]
    public IEnumerable<KitSurplusView> Surplus => answer.Surplus.Select(surplus => new KitSurplusView(surplus));

    [Description("What cannot be had, and why.")]
    public IEnumerable<KitUncoveredView> Uncovered => answer.Uncovered.Select(uncovered => new KitUncoveredView(uncovered));

    [Description("The sum of the lines' cost, in the shop's currency.")]
    public decimal TotalCost => answer.TotalCost.ToDecimal();

    [Description("Pieces to order beyond what is available.")]
    public int PiecesShort => checked((int)answer.PiecesShort);

    [Description("Pieces that nobody needs in this job.")]
    public decimal SurplusPieces => answer.SurplusPieces.ToDecimal();

    [Description("What to beware of, gravest first.")]
    public IEnumerable<KitCautionView> Cautions => answer.Cautions.Select(caution => new KitCautionView(caution));

    [Description("What to check while assembling and testing, in order.")]
    public IEnumerable<KitCheckView> Checks => answer.Checks.Select(check => new KitCheckView(check));

    [Description("The special tools the job needs.")]
    public IEnumerable<KitToolView> Tools => answer.Tools.Select(tool => new KitToolView(tool));
}

[Name("KitNeed")]
[Description("One position the job renews.")]
public sealed class KitNeedView(KitNeed need)
{
    [Description("The position's number on the parts list.")]
    public int Position => need.Position;

    [Description("What stands at the position.")]
    public string Name => need.Name;

    [Description("The number the parts list names, as written.")]
    public string Part => need.Part;

    [Description("Pieces of `part`.")]
    public decimal Quantity => need.Quantity.ToDecimal();

    [Description("Why the job renews it and how its number was followed to today's.")]
    public string Why => need.Why;
}

[Name("KitLine")]
[Description("One thing to pull from the shelf or to order.")]
public sealed class KitLineView(KitLine line)
{
    [Description("The part number, or a matched pair's tag, as written.")]
    public string Part => line.Part;

    [Description("What it is called.")]
    public string Name => line.Name;

    [Description("What it is by nature.")]
    public string Kind => line.Kind;

    [Description("Whole pieces.")]
    public int Quantity => checked((int)line.Quantity);

    [Description("The positions it covers, wholly or in part, ascending.")]
    public IReadOnlyList<int> Covers => line.Covers;

    [Description("What one costs the shop, in the shop's currency.")]
    public decimal UnitCost => line.UnitCost.ToDecimal();

    [Description("What the line costs the shop, in the shop's currency.")]
    public decimal Cost => line.Cost.ToDecimal();

    [Description("Pieces on the shelf that may be used.")]
    public decimal Available => line.Available.ToDecimal();

    [Description("Pieces to order beyond what is available.")]
    public int Short => checked((int)line.Short);

    [Description("Why this line is on the list.")]
    public string Why => line.Why;
}

[Name("KitSurplus")]
[Description("Pieces that come in packs and that nobody needs in this job.")]
public sealed class KitSurplusView(KitSurplus surplus)
{
    [Description("The part number, as written.")]
    public string Part => surplus.Part;

    [Description("Pieces left over.")]
    public decimal Quantity => surplus.Quantity.ToDecimal();

    [Description("A housing whose fitted valve comes with it: the two go into the pump together, never to stock apart.")]
    public bool StaysWithValve => surplus.StaysWithValve;
}

[Name("KitUncovered")]
[Description("A need that cannot be met.")]
public sealed class KitUncoveredView(KitUncovered uncovered)
{
    [Description("The position's number on the parts list.")]
    public int Position => uncovered.Position;

    [Description("The current number that cannot be had, as written.")]
    public string Part => uncovered.Part;

    [Description("Pieces that are missing.")]
    public decimal Quantity => uncovered.Quantity.ToDecimal();

    [Description("Why, and what could be done.")]
    public string Why => uncovered.Why;
}

[Name("KitCaution")]
[Description("Something to beware of.")]
public sealed class KitCautionView(KitCaution caution)
{
    [Description("`note`, `caution` or `warning`.")]
    public string Severity => Words.Of(caution.Severity);

    [Description("The caution.")]
    public string Text => caution.Text;
}

[Name("KitCheck")]
[Description("Something to check while assembling or testing.")]
public sealed class KitCheckView(KitCheck check)
{
    [Description("Its place in the order of work.")]
    public int Sequence => check.Sequence;

    [Description("What to check.")]
    public string Text => check.Text;

    [Description("What should be found, in words.")]
    public string? Expected => check.Expected;

    [Description("The unit of `low` and `high`.")]
    public string? Unit => check.Unit;

    [Description("Lowest acceptable value.")]
    public decimal? Low => check.Low;

    [Description("Highest acceptable value.")]
    public decimal? High => check.High;
}

[Name("KitTool")]
[Description("A special tool the job needs.")]
public sealed class KitToolView(KitTool tool)
{
    [Description("What the tool is called.")]
    public string Name => tool.Name;

    [Description("What else to know about it.")]
    public string? Note => tool.Note;
}

/// <summary>The scope of a job, described for the API.</summary>
public sealed class JobScopeGraphType : EnumerationGraphType<JobScope>
{
    public JobScopeGraphType()
    {
        Name = "JobScope";
        Description = "How far a job goes. Every job renews the positions that are always renewed.";
        Values["RESEAL"]!.Description = "Nothing besides.";
        Values["ROTATING"]!.Description = "The rotating group besides.";
        Values["VALVE"]!.Description = "The valve group besides.";
        Values["FULL"]!.Description = "The rotating, valve and hardware groups besides.";
    }
}

/// <summary>What comes first in choosing a kit, described for the API.</summary>
public sealed class PreferenceGraphType : EnumerationGraphType<KitPreference>
{
    public PreferenceGraphType()
    {
        Name = "Preference";
        Description = "Which comes first when a complete kit can be had in several ways.";
        Values["COST"]!.Description = "The lowest cost, then the fewest pieces to order.";
        Values["STOCK"]!.Description = "The fewest pieces to order, then the lowest cost.";
    }
}
