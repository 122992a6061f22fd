using PartsLedger.Domain.Identification.Planning;

namespace PartsLedger.Domain.Identification;

/// <summary>
/// Which question to ask next: the first of the plan with the least expected total seconds until one variant is left, until all that are
/// left need the same kit, or until nothing recorded tells the rest apart.
/// </summary>
/// <remarks>
/// <para>
/// With V(S) the plan's expected seconds for the candidates S: V is 0 when S is settled or no feature has two recorded values in S;
/// otherwise V(S) = min over such features f of seconds(f) + Σ over the values v recorded for f in S of p(v) V(S without those that have
/// another value), p(v) being the weight of those that have v divided by the weight of all that have any value of f in S. Without
/// missing values this is Σ weight / total × seconds of the questions on each candidate's way.
/// </para>
/// <para>
/// A candidate without a recorded value thus answers as the others do and stays, with its full weight, whatever the answer: the same as
/// planning anew, after each answer, for the candidates that are left. It is not asked about again: what was answered leaves one value.
/// </para>
/// <para>
/// Equal seconds (to a part in 10⁹): the plan with fewer expected questions that open the pump, then with fewer expected questions; then
/// the question that does not open it, then the first by name. A guide's seconds contain opening the pump, so nothing is added for it.
/// "Don't know" is an answer to every question: the feature goes to the excluded ones and the plan is made without it.
/// </para>
/// <para>
/// Exact up to 16 candidates and 20 features, and beyond as far as a fixed amount of work reaches (candidates that no feature tells apart
/// count once, features that divide all candidates alike count once); else a good plan with a proved lower bound. The same candidates and features give
/// the same plan, in whatever order they are given.
/// </para>
/// </remarks>
public static class QuestionPlanning
{
    /// <summary>Up to so many candidates and features the plan is always <see cref="PlanStatus.Optimal"/>.</summary>
    public const int ExactCandidates = 16, ExactFeatures = 20;

    // Branches the exact search may take beyond the limits above, and again for the small sets of a plan that is not exact: some tenths
    // of a second. Sets of many candidates take longer, in proportion to their words.
    private const long SearchBudget = 400_000;
    private const int CandidatesPerWord = 64;

    /// <param name="candidates">Variants that what was seen leaves, each once.</param>
    /// <param name="features">The guide, each feature once.</param>
    /// <param name="excluded">Names of features that are not to be asked: somebody does not know.</param>
    /// <exception cref="ArgumentException">A variant or feature stands twice, or a feature takes less than no time.</exception>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public static QuestionPlan Plan(IReadOnlyList<Candidate> candidates, IReadOnlyList<Feature> features,
        IReadOnlyCollection<string>? excluded = null, CancellationToken cancellation = default)
    {
        Check(candidates, features);
        if (candidates.Count == 0) return Ended(settled: false, sameKit: false);
        var sameKit = candidates[0].KitClass is { } kit && candidates.All(candidate => candidate.KitClass == kit);
        if (sameKit || candidates.Count == 1) return Ended(settled: true, sameKit);

        var problem = new PlanProblem(candidates, features, excluded ?? []);
        var information = new PlanInformation(problem);
        var (step, bound) = Search(problem, information, cancellation);
        if (step.Feature is not { } at) return Ended(settled: false, sameKit: false) with { EntropyBits = information.Bits(problem.All) };

        var next = problem.Features[at];
        return new(bound is null ? PlanStatus.Optimal : PlanStatus.WithinBound, next.Feature,
            [.. problem.Split(problem.All, next)!.Select(branch => new PlannedAnswer(next.Values[branch.Value], branch.Share, Variants(problem, branch.Left)))],
            step.Cost.Seconds, bound ?? step.Cost.Seconds, step.Cost.Looks, step.Cost.Teardowns, false, false, !problem.HasInseparable(),
            information.Bits(problem.All), information.LeastSeconds(problem.All));
    }

    /// <summary>The first step and its cost, and a lower bound where it is not known to be the best.</summary>
    private static (PlanStep Step, double? Bound) Search(PlanProblem problem, PlanInformation information, CancellationToken cancellation)
    {
        var isWithinLimits = problem.Groups.Length <= ExactCandidates && problem.Features.Length <= ExactFeatures;
        var search = new PlanSearch(problem, cancellation);
        var budget = SearchBudget / (1 + problem.Groups.Length / CandidatesPerWord);
        if (search.Solve(problem.All, isWithinLimits ? long.MaxValue : budget) is { } best) return (best, null);

        var guess = new PlanGuess(problem, information, search, cancellation).First(problem.All, 2 * budget);
        var bound = new PlanBound(problem, information, cancellation).Of(problem.All);
        return (guess, Math.Min(bound, guess.Cost.Seconds));
    }

    internal static void Check(IReadOnlyList<Candidate> candidates, IReadOnlyList<Feature> features)
    {
        ArgumentNullException.ThrowIfNull(candidates);
        ArgumentNullException.ThrowIfNull(features);
        var twice = candidates.GroupBy(candidate => candidate.Variant, StringComparer.Ordinal).FirstOrDefault(same => same.Skip(1).Any());
        if (twice is not null) throw new ArgumentException($"Variant {twice.Key} stands twice.", nameof(candidates));
    }

    private static QuestionPlan Ended(bool settled, bool sameKit) =>
        new(PlanStatus.Optimal, null, [], 0, 0, 0, 0, settled, sameKit, settled, 0, 0);

    private static List<string> Variants(PlanProblem problem, CandidateSet set)
    {
        var variants = new List<string>();
        foreach (var at in set) variants.AddRange(problem.Groups[at].Select(candidate => candidate.Variant));
        variants.Sort(StringComparer.Ordinal);
        return variants;
    }
}
