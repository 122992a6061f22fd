using System.ComponentModel;
using GraphQL;
using GraphQL.Types;
using PartsLedger.Domain.Cores;

namespace PartsLedger.Cores;

[Name("CoreActed")]
[Description("What an act on a core did.")]
public sealed class CoreActedView(CoreActed acted)
{
    [Description("The core's tag.")]
    public string Tag => acted.Tag;

    [Description("What the core is now.")]
    public string State => acted.State;

    [Description("What was done, for the person at the counter.")]
    public string Done => acted.Done;
}

[Name("CoreBank")]
[Description("The cores in the house and what is owed for them.")]
public sealed class CoreBankView(CoreBank.Answer answer)
{
    [Description("By family, class and grade.")]
    public IReadOnlyList<CoreBankLineView> Lines => [.. answer.Lines.Select(line => new CoreBankLineView(line))];

    [Description("What is owed for all cores, wherever they are.")]
    public decimal Owed => answer.Owed.ToDecimal();

    [Description("The part of it owed for cores that are no longer in the house as cores.")]
    public decimal OwedForLeft => answer.OwedForLeft.ToDecimal();
}

[Name("CoreBankLine")]
[Description("Cores of one family, class and grade.")]
public sealed class CoreBankLineView(CoreBank.Line line)
{
    [Description("The family; null while not known.")]
    public string? Family => line.Family;

    [Description("The pressure class; null while not known.")]
    public string? PressureClass => line.PressureClass;

    [Description("The grade; null while not graded.")]
    public string? Grade => line.Grade;

    [Description("How many.")]
    public int Cores => line.Cores;

    [Description("What is owed for them.")]
    public decimal Owed => line.Owed.ToDecimal();
}

[Description("What was found at a position.")]
public sealed class FindingInput
{
    [Description("The position's number on the parts list.")]
    public int Position { get; set; }

    [Description("What was found there.")]
    public Finding Finding { get; set; }

    [Description("A note.")]
    public string? Note { get; set; }
}

[Description("A housing or a valve out of a core.")]
public sealed class HalfInput
{
    [Description("A tag that nothing carries yet.")]
    public string Tag { get; set; } = "";

    [Description("Its part number, when known.")]
    public string? Part { get; set; }

    [Description("A valve's class; the core's variant's when left out.")]
    public string? PressureClass { get; set; }

    [Description("Shims under the relief spring, as found; a valve only.")]
    public int? ShimCount { get; set; }

    [Description("Thickness of the shim stack in millimetres, as found; a valve only.")]
    public decimal? ShimStackMm { get; set; }
}

[Description("Sound pieces out of a core.")]
public sealed class UsedPartInput
{
    [Description("The part's number.")]
    public string Part { get; set; } = "";

    [Description("How many, in the part's unit.")]
    public decimal Quantity { get; set; }

    [Description("The place they go to.")]
    public string Location { get; set; } = "";

    [Description("The lot or serial number, where the part is tracked.")]
    public string? Lot { get; set; }
}

/// <summary>What a core is good for, described for the API.</summary>
public sealed class CoreGradeGraphType : EnumerationGraphType<CoreGrade>
{
    public CoreGradeGraphType()
    {
        Name = "CoreGrade";
        Description = "What a core is good for.";
        Values["SOUND"]!.Description = "As it is.";
        Values["WORN"]!.Description = "With new wearing parts.";
        Values["PARTS_ONLY"]!.Description = "For its sound pieces only.";
        Values["HOPELESS"]!.Description = "For nothing.";
    }
}

/// <summary>What was found at a position, described for the API.</summary>
public sealed class FindingGraphType : EnumerationGraphType<Finding>
{
    public FindingGraphType()
    {
        Name = "Finding";
        Description = "What was found at a position.";
        Values["GOOD"]!.Description = "Fit for use.";
        Values["WORN"]!.Description = "Worn: renew it.";
        Values["DAMAGED"]!.Description = "Damaged: renew it.";
        Values["MISSING"]!.Description = "Not there.";
        Values["WRONG_PART"]!.Description = "Another part was fitted.";
    }
}
