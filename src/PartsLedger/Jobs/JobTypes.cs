using System.ComponentModel;
using GraphQL;
using GraphQL.Types;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Cores;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Kits;
using PartsLedger.Kits;
using PartsLedger.Stock;

namespace PartsLedger.Jobs;

[Name("JobActed")]
[Description("What an act on a job did.")]
public sealed class JobActedView(JobActed acted)
{
    [Description("The job's own number.")]
    public string Job => acted.Job;

    [Description("How far the job is now.")]
    public JobState State => acted.State;

    [Description("What was done, for the person at the bench.")]
    public string Done => acted.Done;
}

[Name("AcceptedList")]
[Description("The kit list that a job has accepted.")]
public sealed class AcceptedListView(AcceptList.Answer answer)
{
    [Description("What was done.")]
    public string Done => answer.Acted.Done;

    [Description("Which list of the job it is, from 1.")]
    public int Revision => answer.Revision;

    [Description("What the job had reserved beyond it, free again.")]
    public IEnumerable<PiecesAtView> Freed => answer.Freed.Select(pieces => new PiecesAtView(pieces));
}

[Name("JobSummary")]
[Description("A job in a few words.")]
public sealed class JobSummaryView(FindJobs.Summary job)
{
    [Description("The job's own number.")]
    public string Number => job.Number;

    [Description("How far it is.")]
    public JobState State => job.State;

    [Description("Which jobs go first.")]
    public JobPriority Priority => job.Priority;

    [Description("When it is due.")]
    public DateOnly? DueOn => job.DueOn;

    [Description("The customer's own reference.")]
    public string? CustomerReference => job.CustomerReference;

    [Description("The machine the pump comes from.")]
    public string? Machine => job.Machine;

    [Description("The tag of the core.")]
    public string? Core => job.Core;

    [Description("A unit out of the shop's own parts goes out.")]
    public bool Exchange => job.IsExchange;

    [Description("The variant; null while it is not settled.")]
    public string? Variant => job.Variant;

    [Description("The variant's pressure class.")]
    public string? PressureClass => job.PressureClass;

    [Description("How far the job goes.")]
    public JobScope Scope => job.Scope;

    [Description("The price that was promised.")]
    public decimal? PromisedPrice => job.PromisedPrice?.ToDecimal();

    [Description("Why nothing may go on; null when it may.")]
    public string? Stopped => job.Stopped;

    [Description("When it came in, in UTC.")]
    public DateTimeOffset StartedAt => job.StartedAt;

    [Description("When it was released, in UTC.")]
    public DateTimeOffset? ReleasedAt => job.ReleasedAt;
}

[Name("Job")]
[Description("A job, whole.")]
public sealed class JobView(JobByNumber.Answer job)
{
    [Description("The job in a few words.")]
    public JobSummaryView Summary => new(job.Summary);

    [Description("Which variants it may be, while it is not settled.")]
    public IReadOnlyList<string> Candidates => job.Candidates;

    [Description("Every step and what is missing before it can be taken; empty when the job is over.")]
    public IEnumerable<JobNextStepView> Next => job.Next.Select(step => new JobNextStepView(step));

    [Description("What tear-down showed, by position; the last finding of each.")]
    public IEnumerable<JobFindingView> Findings => job.Findings.Select(finding => new JobFindingView(finding));

    [Description("The accepted kit list; null before the first.")]
    public KitAnswerView? List => job.List is null ? null : new(job.List);

    [Description("Which list of the job that is, from 1; 0 before the first.")]
    public int ListRevision => job.ListRevision;

    [Description("What it has taken out of stock and not given back.")]
    public IEnumerable<PiecesInHandView> InHand => job.InHand.Select(pieces => new PiecesInHandView(pieces));

    [Description("What it has reserved, by part.")]
    public IEnumerable<ListedPiecesView> Reserved =>
        job.Reserved.OrderBy(part => part.Key, StringComparer.Ordinal)
            .Select(part => new ListedPiecesView(new ListedPieces(part.Key, part.Value)));
}

[Name("JobNextStep")]
[Description("A step of a job's course.")]
public sealed class JobNextStepView(JobByNumber.NextStep step)
{
    [Description("The step.")]
    public JobStep Step => step.Step;

    [Description("Everything before it can be taken, in order; empty when it can be taken now.")]
    public IReadOnlyList<string> Missing => step.Missing;
}

[Name("JobFinding")]
[Description("What was found at a position.")]
public sealed class JobFindingView(JobByNumber.FoundAt found)
{
    [Description("Grows with every finding; see `recordFindings`.")]
    public long Number => found.Id;

    [Description("The position's number on the parts list.")]
    public int Position => found.Position;

    [Description("What stands there.")]
    public string Name => found.Name;

    [Description("What was found.")]
    public Finding Finding => found.Finding;

    [Description("A note.")]
    public string? Note => found.Note;

    [Description("When it was written down, in UTC.")]
    public DateTimeOffset At => found.At;

    [Description("By whom.")]
    public string Who => found.Who;
}

[Name("PiecesInHand")]
[Description("Pieces that a job has taken out of stock and not given back.")]
public sealed class PiecesInHandView(PiecesInHand pieces)
{
    [Description("The part's number, as written.")]
    public string Part => pieces.Part;

    [Description("The lot; null for pieces without a lot.")]
    public string? Lot => pieces.Lot;

    [Description("How many, in the part's unit; below zero for what came out of a pack and went into stock.")]
    public decimal Quantity => pieces.Quantity.ToDecimal();

    [Description("What they were worth when they left.")]
    public decimal Worth => pieces.Worth.ToDecimal();
}

[Name("ListedPieces")]
[Description("So many of a part.")]
public sealed class ListedPiecesView(ListedPieces pieces)
{
    [Description("The part's number, or a matched pair's code.")]
    public string Part => pieces.Part;

    [Description("How many, in the part's unit.")]
    public decimal Quantity => pieces.Quantity.ToDecimal();
}

[Name("JobList")]
[Description("The kit list of a job as it would be accepted now.")]
public sealed class JobListView(JobList.Answer answer)
{
    [Description("The job's own number.")]
    public string Job => answer.Job;

    [Description("Names this list: whoever accepts it sends it back.")]
    public string Mark => answer.Mark;

    [Description("Which list is the accepted one, from 1; 0 before the first.")]
    public int Accepted => answer.Accepted;

    [Description("The accepted list is this one.")]
    public bool IsAccepted => answer.IsAccepted;

    [Description("The list.")]
    public KitAnswerView List => new(answer.List);

    [Description("What accepting it would change.")]
    public IEnumerable<ListChangeView> Changes => answer.Changes.Select(change => new ListChangeView(change));
}

[Name("ListChange")]
[Description("What becomes of one line when a list takes the place of another.")]
public sealed class ListChangeView(ListChange change)
{
    [Description("The part's number, or a matched pair's code.")]
    public string Part => change.Part;

    [Description("On the accepted list.")]
    public decimal Before => change.Before.ToDecimal();

    [Description("On this list.")]
    public decimal After => change.After.ToDecimal();

    [Description("Reserved, and no longer asked for: free again when the list is accepted.")]
    public decimal ToFree => change.ToFree.ToDecimal();

    [Description("Asked for, and neither reserved nor in hand.")]
    public decimal ToReserve => change.ToReserve.ToDecimal();

    [Description("In hand, and no longer asked for.")]
    public decimal ToGiveBack => change.ToGiveBack.ToDecimal();
}

/// <summary>How far a job is, described for the API.</summary>
public sealed class JobStateGraphType : EnumerationGraphType<JobState>
{
    public JobStateGraphType()
    {
        Name = "JobState";
        Description = "How far a job is.";
        foreach (var value in Enum.GetValues<JobState>()) Values[JobWords.OfApi(value)]!.Description = Say(value);
    }

    private static string Say(JobState state) => state switch
    {
        JobState.TakenIn => "Here, and the variant not settled.",
        JobState.Identified => "The variant is known.",
        JobState.TornDown => "Looked over; a kit list is to be accepted.",
        JobState.ListAccepted => "Parts are reserved, pulled and fitted.",
        JobState.Assembled => "Ready for the bench.",
        JobState.Tested => "Passed on the bench.",
        JobState.Released => "Gone out.",
        _ => "Not finished, for a reason.",
    };
}

/// <summary>Which job goes first, described for the API.</summary>
public sealed class JobPriorityGraphType : EnumerationGraphType<JobPriority>
{
    public JobPriorityGraphType()
    {
        Name = "JobPriority";
        Description = "Which job goes first.";
        Values["ORDINARY"]!.Description = "In its turn.";
        Values["SOON"]!.Description = "Before ordinary ones.";
        Values["URGENT"]!.Description = "Before all others.";
    }
}

/// <summary>The steps of a job, described for the API.</summary>
public sealed class JobStepGraphType : EnumerationGraphType<JobStep>
{
    public JobStepGraphType()
    {
        Name = "JobStep";
        Description = "What can be done with a job.";
        foreach (var value in Enum.GetValues<JobStep>())
            Values[JobWords.OfApi(value)]!.Description = $"To {JobCourse.Say(value)}.";
    }
}

internal static class JobWords
{
    /// <summary>An enumeration's word as the API writes it.</summary>
    public static string OfApi<T>(T value) where T : struct, Enum => Words.Of(value).ToUpperInvariant().Replace('-', '_');
}
