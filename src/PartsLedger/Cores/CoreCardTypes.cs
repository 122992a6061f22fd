using System.ComponentModel;
using GraphQL;
using PartsLedger.Domain.Catalog;

namespace PartsLedger.Cores;

[Name("Core")]
[Description("A used pump that came in, and the checklist it is graded by.")]
public sealed class CoreView(CoreByTag.Answer core)
{
    [Description("The core's tag.")]
    public string Tag => core.Tag;

    [Description("What it is now.")]
    public string State => CoreCourse.Words(core.State);

    [Description("Its grade; null while not graded.")]
    public string? Grade => core.Grade is { } grade ? Words.Of(grade) : null;

    [Description("Its family's code; null while not known.")]
    public string? Family => core.Family;

    [Description("Its variant's code; null while not known.")]
    public string? Variant => core.Variant;

    [Description("Its serial number, as far as it could be read.")]
    public string? Serial => core.Serial;

    [Description("As it looked on arrival.")]
    public string? ConditionOnArrival => core.ConditionOnArrival;

    [Description("The day it came in.")]
    public DateOnly? ReceivedOn => core.ReceivedOn;

    [Description("Who brought it.")]
    public string? ReceivedFrom => core.ReceivedFrom;

    [Description("What was left for it as a deposit, in the shop's currency.")]
    public decimal Deposit => core.Deposit.ToDecimal();

    [Description("What is still owed for it.")]
    public decimal Owed => core.Owed.ToDecimal();

    [Description("Every position to look at, with what was found there so far.")]
    public IEnumerable<CoreCheckView> Checklist => core.Checklist.Select(check => new CoreCheckView(check));
}

[Name("CoreCheck")]
[Description("One position of the grading checklist.")]
public sealed class CoreCheckView(CoreByTag.Check check)
{
    [Description("The position's number on the parts list.")]
    public int Position => check.Position;

    [Description("What stands at the position.")]
    public string Name => check.Name;

    [Description("What was found; null while nobody has looked.")]
    public Domain.Cores.Finding? Finding => check.Finding;

    [Description("A note on what was found.")]
    public string? Note => check.Note;
}
