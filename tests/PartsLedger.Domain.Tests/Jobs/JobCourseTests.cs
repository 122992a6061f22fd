using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Tests.Jobs;

public sealed class JobCourseTests
{
    [Fact]
    public void A_step_names_everything_that_is_missing_in_the_order_of_the_work()
    {
        var job = new JobStanding("J-1", JobState.TakenIn, CoreToTearDown: "C-1");
        Assert.Equal(["settle the variant", "tear down core C-1", "record the findings at tear-down", "accept the kit list",
            "finish the assembly"],
            JobCourse.Missing(job, JobStep.Test));
        var refusal = JobCourse.Refuse(job, JobStep.Test);
        Assert.Equal("NOT_ASSEMBLED", refusal?.Code);
        Assert.Contains("settle the variant; tear down core C-1", refusal?.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Nothing_goes_on_while_a_job_is_stopped_but_calling_it_off()
    {
        var job = new JobStanding("J-1", JobState.Assembled, Stopped: "the bench showed P070", VariantSettled: true);
        foreach (var step in Enum.GetValues<JobStep>().Where(step => step != JobStep.CallOff))
            Assert.Equal("JOB_STOPPED", JobCourse.Refuse(job, step)?.Code);
        Assert.Null(JobCourse.Refuse(job, JobStep.CallOff));
    }

    [Theory]
    [InlineData(JobState.Released, "ALREADY_RELEASED")]
    [InlineData(JobState.CalledOff, "CALLED_OFF")]
    public void What_is_over_is_over(JobState state, string code)
    {
        var job = new JobStanding("J-1", state, VariantSettled: true);
        foreach (var step in Enum.GetValues<JobStep>()) Assert.Equal(code, JobCourse.Refuse(job, step)?.Code);
    }

    [Fact]
    public void Release_wants_everything_at_once()
    {
        var job = new JobStanding("J-1", JobState.Tested, VariantSettled: true)
        {
            PairFaults = ["the shims of V-1 differ"], ChecksToDo = ["check 30"], ChecksToSign = ["check 20 (failed)"],
            OtherClassParts = ["41-SPR is P070"],
            Bench = BenchVerdict.Failed,
        };
        Assert.Equal(["the shims of V-1 differ", "41-SPR is P070", "do check 30, or say why it is skipped",
            "a supervisor must sign check 20 (failed)",
            "it has not passed its last run on the bench"], JobCourse.Missing(job, JobStep.Release));
        Assert.Null(JobCourse.Refuse(new JobStanding("J-1", JobState.Tested, VariantSettled: true) { Bench = BenchVerdict.Passed },
            JobStep.Release));
    }

    /// <summary>From every state there is a step that leads on, and every step can be taken from somewhere.</summary>
    [Fact]
    public void No_state_is_a_dead_end()
    {
        foreach (var state in Enum.GetValues<JobState>().Where(state => !JobCourse.IsOver(state)))
            Assert.Contains(Enum.GetValues<JobStep>(), step => step != JobStep.CallOff && JobCourse.From(step).Contains(state));
    }

    [Fact]
    public void A_list_that_takes_the_place_of_another_frees_what_it_does_not_ask_for()
    {
        var changes = ListChange.Between([Pieces("A", 2), Pieces("B", 1)], [Pieces("A", 2), Pieces("C", 3)], Of(("A", 1), ("B", 1)),
            Of(("A", 1), ("C", 5)));
        Assert.Equal([new("B", Whole(1), Whole(0), Whole(1), Whole(0), Whole(0)), new("C", Whole(0), Whole(3), Whole(0), Whole(0),
            Whole(2))], changes);
    }

    private static ListedPieces Pieces(string part, long pieces) => new(part, Whole(pieces));

    private static Dictionary<string, Quantity> Of(params (string Part, long Pieces)[] parts) =>
        parts.ToDictionary(part => part.Part, part => Whole(part.Pieces));

    private static Quantity Whole(long pieces) => Quantity.FromWhole(pieces);
}
