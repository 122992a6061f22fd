using PartsLedger.Domain.Identification.Planning;

namespace PartsLedger.Domain.Identification;

/// <summary>What it is expected to cost to ask the guide's questions in the guide's order, to compare a <see cref="QuestionPlan"/> with.</summary>
/// <param name="ExpectedSeconds">Until the candidates are settled or nothing recorded tells the rest apart.</param>
/// <param name="ExpectedLooks">Questions asked until then.</param>
/// <param name="AllSeconds">Asking every question, whatever is answered.</param>
/// <param name="AllLooks">How many questions that are.</param>
public sealed record GuideOrder(double ExpectedSeconds, double ExpectedLooks, long AllSeconds, int AllLooks)
{
    /// <summary>Weighs answers as <see cref="QuestionPlanning"/> does. A question is asked in its turn even when it tells nothing apart.</summary>
    /// <exception cref="ArgumentException">A variant or feature stands twice.</exception>
    public static GuideOrder Of(IReadOnlyList<Candidate> candidates, IReadOnlyList<Feature> features, CancellationToken cancellation = default)
    {
        QuestionPlanning.Check(candidates, features);
        var all = features.Sum(feature => (long)feature.Seconds);
        if (candidates.Count == 0) return new(0, 0, all, features.Count);

        var problem = new PlanProblem(candidates, features, []);
        // What may be left so far, and the chance of it.
        var open = new Dictionary<CandidateSet, double> { [problem.All] = 1 };
        var (seconds, looks) = (0.0, 0.0);
        foreach (var feature in features)
        {
            cancellation.ThrowIfCancellationRequested();
            var asked = problem.AsAsked(feature);
            var next = new Dictionary<CandidateSet, double>();
            foreach (var (set, chance) in open)
            {
                if (problem.IsDone(set) || !problem.Features.Any(other => problem.Split(set, other) is not null)) continue;
                seconds += chance * feature.Seconds;
                looks += chance;
                if (asked is null || problem.Split(set, asked) is not { } branches) next[set] = next.GetValueOrDefault(set) + chance;
                else
                    foreach (var branch in branches) next[branch.Left] = next.GetValueOrDefault(branch.Left) + chance * branch.Share;
            }
            open = next;
        }
        return new(seconds, looks, all, features.Count);
    }
}
