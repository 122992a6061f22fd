using System.ComponentModel;
using GraphQL;

namespace PartsLedger.Fit;

[Name("UnitActed")]
[Description("What an act on a unit or a pair did.")]
public sealed class UnitActedView(UnitActed acted)
{
    [Description("The pair's code or the unit's tag.")]
    public string Code => acted.Code;

    [Description("What was done, for the person at the bench.")]
    public string Done => acted.Done;
}

[Name("Scan")]
[Description("What a scanned code turned out to be.")]
public sealed class ScanView(Scan.Answer answer)
{
    [Description("housing, valve, pair, core, part, place or job.")]
    public string Kind => answer.Kind;

    [Description("As it is printed.")]
    public string Code => answer.Code;

    [Description("What it is, in one sentence.")]
    public string What => answer.What;

    [Description("Where it is.")]
    public string? Where => answer.Where;

    [Description("What belongs with it, with its place.")]
    public string? With => answer.With;

    [Description("One line that must not be overlooked.")]
    public string? Alert => answer.Alert;

    [Description("What may be done with it now.")]
    public IReadOnlyList<string> MayDo => answer.MayDo;

    [Description("What must not be done with it.")]
    public IReadOnlyList<string> MustNot => answer.MustNot;
}

[Name("Together")]
[Description("Whether two halves belong together.")]
public sealed class TogetherView(BelongTogether.Answer answer)
{
    [Description("They are one pair.")]
    public bool Together => answer.Together;

    [Description("In one line.")]
    public string Why => answer.Why;
}

[Name("UnitHistory")]
[Description("A unit's history.")]
public sealed class UnitHistoryView(UnitHistory.Answer answer)
{
    [Description("The unit's tag.")]
    public string Tag => answer.Tag;

    [Description("Tags of the other halves of every pair it has ever been in, in that order.")]
    public IReadOnlyList<string> Partners => answer.Partners;

    [Description("What happened, oldest first.")]
    public IReadOnlyList<UnitEventView> Events => [.. answer.Entries.Select(entry => new UnitEventView(entry))];
}

[Name("UnitEvent")]
[Description("Something that happened to a unit or its pair.")]
public sealed class UnitEventView(UnitHistory.Entry entry)
{
    [Description("When, in UTC.")]
    public DateTimeOffset At => entry.At;

    [Description("Who did it.")]
    public string Who => entry.Who;

    [Description("What happened.")]
    public string What => entry.What;

    [Description("More about it.")]
    public string? Detail => entry.Detail;

    [Description("Why.")]
    public string? Why => entry.Why;

    [Description("The pair it was about.")]
    public string? Pair => entry.Pair;
}
