using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Domain.Jobs;

/// <summary>
/// The course of a job, and the only place that knows it: taken in → identified → torn down → list accepted → assembled → tested →
/// released, or called off on the way. A changed finding takes it back to torn down, a failed bench run back to assembled.
/// </summary>
public static class JobCourse
{
    public static bool IsOver(JobState state) => state is JobState.Released or JobState.CalledOff;

    /// <summary>From which states a step may be taken at all.</summary>
    public static IReadOnlyList<JobState> From(JobStep step) => step switch
    {
        JobStep.SettleVariant => [JobState.TakenIn, JobState.Identified, JobState.TornDown],
        JobStep.RecordFindings => [JobState.Identified, JobState.TornDown, JobState.ListAccepted],
        JobStep.AcceptList => [JobState.TornDown, JobState.ListAccepted],
        JobStep.Pull or JobStep.FitPair or JobStep.Assemble => [JobState.ListAccepted],
        JobStep.Check => [JobState.ListAccepted, JobState.Assembled, JobState.Tested],
        JobStep.Test => [JobState.Assembled, JobState.Tested],
        JobStep.Release => [JobState.Tested],
        JobStep.OpenAgain => [JobState.Assembled, JobState.Tested],
        JobStep.CallOff => [.. Enum.GetValues<JobState>().Where(state => !IsOver(state))],
        _ => throw new ArgumentOutOfRangeException(nameof(step)),
    };

    /// <summary>
    /// Everything that is missing before the step can be taken, in the order in which the shop does it; empty when it can be taken now.
    /// </summary>
    public static IReadOnlyList<string> Missing(JobStanding job, JobStep step)
    {
        var missing = new List<string>();
        if (IsOver(job.State)) return [$"it is {Say(job.State)}"];
        if (job.Stopped is { } why && step != JobStep.CallOff) missing.Add($"it is stopped: {why}");
        if (step == JobStep.CallOff) return [.. job.InHand.Select(pieces => $"give back {pieces}")];
        if (step == JobStep.OpenAgain)
        {
            if (!MayFrom(job, step)) missing.Add("it is not assembled");
            return missing;
        }
        if (Reaches(step, JobStep.RecordFindings) && !job.VariantSettled) missing.Add("settle the variant");
        if (Reaches(step, JobStep.RecordFindings) && job.CoreToTearDown is { } core) missing.Add($"tear down core {core}");
        if (Reaches(step, JobStep.AcceptList) && job.State is JobState.TakenIn or JobState.Identified
            && !job.IsExchange) missing.Add("record the findings at tear-down");
        if (Reaches(step, JobStep.Pull) && job.State < JobState.ListAccepted) missing.Add("accept the kit list");
        if (Reaches(step, JobStep.Assemble))
        {
            missing.AddRange(job.ToPull.Select(line => $"pull {line}, or say why it stays short"));
            missing.AddRange(job.PairFaults);
            missing.AddRange(job.OtherClassParts);
        }
        if (Reaches(step, JobStep.Test) && job.State < JobState.Assembled) missing.Add("finish the assembly");
        if (step == JobStep.Release)
        {
            missing.AddRange(job.SurplusLeft.Select(pieces => $"put away {pieces}"));
            missing.AddRange(job.ChecksToDo.Select(check => $"do {check}, or say why it is skipped"));
            missing.AddRange(job.ChecksToSign.Select(check => $"a supervisor must sign {check}"));
            if (job.Bench != BenchVerdict.Passed) missing.Add(job.Bench is null ? "test it on the bench"
                : "it has not passed its last run on the bench");
        }

        // What is behind it cannot be done again.
        if (missing.Count == 0 && !MayFrom(job, step)) missing.Add($"it is {Say(job.State)} already");
        return missing;
    }

    /// <summary>Null when the step may be taken; else one refusal that names all that is missing.</summary>
    public static Refusal? Refuse(JobStanding job, JobStep step)
    {
        var missing = Missing(job, step);
        if (missing.Count == 0) return null;
        if (job.State == JobState.Released)
            return new("ALREADY_RELEASED", $"Job {job.Number} is released.",
                "Nothing can be changed any more; look at its history, or start a new job.");
        if (job.State == JobState.CalledOff) return new("CALLED_OFF", $"Job {job.Number} was called off.", "Start a new job.");
        if (job.Stopped is { } why && step != JobStep.CallOff)
            return new("JOB_STOPPED", $"STOP: job {job.Number}: {why}",
                "Do not go on. A supervisor looks at the pump and lifts the stop with a reason.");
        if (step == JobStep.Test && job.State < JobState.Assembled)
            return new("NOT_ASSEMBLED",
                $"Job {job.Number} is {Say(job.State)}: nothing can be on the bench before it is assembled. Missing: {Listed(missing)}.",
                "Finish the assembly first.");
        return new("JOB_STEP_NOT_POSSIBLE",
            $"Job {job.Number} is {Say(job.State)}; to {Say(step)} is not possible yet. Missing: {Listed(missing)}.",
            missing.Count == 1 ? "Do that first." : "Do those first, in this order.");
    }

    public static string Say(JobState state) => Words.Of(state).Replace('-', ' ');

    /// <summary>As in "to … is not possible".</summary>
    public static string Say(JobStep step) => step switch
    {
        JobStep.SettleVariant => "settle the variant",
        JobStep.RecordFindings => "record findings",
        JobStep.AcceptList => "accept the kit list",
        JobStep.Pull => "pull parts",
        JobStep.FitPair => "fit the pair",
        JobStep.Check => "check the assembly",
        JobStep.Assemble => "finish the assembly",
        JobStep.Test => "test it on the bench",
        JobStep.Release => "release it",
        JobStep.OpenAgain => "open it again",
        JobStep.CallOff => "call it off",
        _ => throw new ArgumentOutOfRangeException(nameof(step)),
    };

    // An exchange unit's list may be accepted as soon as its variant is known: nothing of the customer's is opened for it.
    private static bool MayFrom(JobStanding job, JobStep step) =>
        From(step).Contains(job.State) || (step == JobStep.AcceptList && job.IsExchange && job.State == JobState.Identified);

    private static bool Reaches(JobStep step, JobStep at) => step >= at;

    private static string Listed(IReadOnlyList<string> missing) => string.Join("; ", missing);
}
