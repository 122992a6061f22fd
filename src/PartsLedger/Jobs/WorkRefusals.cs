using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Jobs;

/// <summary>Every "no" about jobs that does not come from their course (see <see cref="JobCourse"/>).</summary>
public static class WorkRefusals
{
    /// <summary>Somebody else wrote a finding down after this sender had looked.</summary>
    public static Refusal FindingChanged(int position, string found, string who) => new("FINDING_CHANGED",
        $"Meanwhile {who} found position {position} {found}. Nothing was written down.",
        "Look at what stands there now; send yours again if it is to take its place.");

    /// <summary>Somebody else wrote a result down after this sender had looked.</summary>
    public static Refusal CheckChanged(int sequence, string result, string who) => new("CHECK_CHANGED",
        $"Meanwhile {who} wrote check {sequence} down as {result}. Nothing was written down.",
        "Look at what stands there now; send yours again if it is to take its place.");

    public static Refusal UnknownJob(string number, IReadOnlyList<string> known)
    {
        var brief = number.Length <= 60 ? number : number[..60] + "…";
        var nearest = number.Length <= 100 ? Nearest.To(number, known) : [];
        return new("UNKNOWN_JOB", $"There is no job '{brief.Trim()}'.", nearest.Count == 0 ? "Start the job first."
            : $"The nearest known ones are {string.Join(", ", nearest)}.");
    }

    public static Refusal JobExists(string number, JobState state) =>
        new("JOB_EXISTS", $"There is a job {number} already: it is {JobCourse.Say(state)}.",
            "Take the next number; no number is used twice.");

    public static Refusal CoreInJob(string core, string job) => new("CORE_IN_JOB", $"Core {core} belongs to job {job}.",
        "A core is rebuilt in one job: scan the tag again.");

    public static Refusal CoreGone(string core, string state) => new("CORE_NOT_HERE", $"Core {core} is {state}.",
        "Take another core, or start the job without one as an exchange.");

    public static Refusal UnitMissing() => new("UNIT_MISSING", "It is not said which pump is rebuilt.",
        "Give the tag of the core, or say that an exchange unit goes out.");

    public static Refusal OtherVariant(string core, string ofCore, string wanted) => new("OTHER_VARIANT",
        $"Core {core} was taken in as {ofCore}, not as {wanted}.", "Look at the pump again: one of the two is wrong.");

    public static Refusal UnknownPosition(string variant, int position, IEnumerable<int> known)
    {
        var nearest = known.OrderBy(one => Math.Abs((long)one - position)).ThenBy(one => one).Take(3).Order().ToList();
        return new("UNKNOWN_POSITION", FormattableString.Invariant($"Variant {variant} has no position {position}."),
            nearest.Count == 0 ? "Its parts list has no positions yet." : $"The nearest known ones are {string.Join(", ", nearest)}.");
    }

    public static Refusal ListChanged(string job, string now) => new("LIST_CHANGED",
        $"The kit list of job {job} is no longer the one that was shown; it is {now} by now.", "Look at the list again and accept that.");

    public static Refusal ListNotComplete(string job, IEnumerable<string> uncovered) => new("LIST_NOT_COMPLETE",
        $"The kit list of job {job} leaves uncovered: {string.Join("; ", uncovered)}.",
        "Find another way for these, or accept the list as it is and say why.");
}
