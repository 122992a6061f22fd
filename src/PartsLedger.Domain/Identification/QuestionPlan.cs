namespace PartsLedger.Domain.Identification;

public enum PlanStatus
{
    /// <summary>No plan has fewer expected seconds.</summary>
    Optimal,

    /// <summary>A good plan; none has fewer expected seconds than <see cref="QuestionPlan.LowerBoundSeconds"/>.</summary>
    WithinBound,
}

/// <summary>An answer that is possible, the plan's chance that it is given, and the variants that it leaves.</summary>
public sealed record PlannedAnswer(string Value, double Share, IReadOnlyList<string> Left);

/// <summary>The next question and what the whole plan is expected to cost. See <see cref="QuestionPlanning"/> for what is minimised.</summary>
/// <param name="Next">The question to ask now; null when the candidates are settled or nothing recorded tells them apart.</param>
/// <param name="Answers">The values recorded for it among the candidates, in ordinal order. "Don't know" is always another answer.</param>
/// <param name="ExpectedSeconds">The plan's; 0 when nothing is left to ask.</param>
/// <param name="LowerBoundSeconds">No plan has fewer; the plan's own when it is optimal.</param>
/// <param name="ExpectedLooks">Questions the plan is expected to ask.</param>
/// <param name="ExpectedTeardowns">How many of them need the pump opened.</param>
/// <param name="Settled">One variant is left, or all that are left need the same kit.</param>
/// <param name="SameKit">All that are left need the same kit; false where no job is in question.</param>
/// <param name="AlwaysSettles">Whatever is answered, the plan ends settled; false when some candidates with different kits have nothing recorded that tells them apart.</param>
/// <param name="EntropyBits">What there is to find out, in bits: the entropy of the kits (of the variants where no job is in question). 0 when settled.</param>
/// <param name="InformationSeconds">
/// What information theory proves that any plan costs at least; 0 where a value is missing, because then nothing is proved. With binary
/// features of one second each it is at least <paramref name="EntropyBits"/>.
/// </param>
public sealed record QuestionPlan(
    PlanStatus Status,
    Feature? Next,
    IReadOnlyList<PlannedAnswer> Answers,
    double ExpectedSeconds,
    double LowerBoundSeconds,
    double ExpectedLooks,
    double ExpectedTeardowns,
    bool Settled,
    bool SameKit,
    bool AlwaysSettles,
    double EntropyBits,
    double InformationSeconds);
