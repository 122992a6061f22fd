using PartsLedger.Domain.Identification;

namespace PartsLedger.Domain.Tests.Identification;

/// <summary>
/// The same definition tried out in full: every order of questions, with lists of candidates and nothing remembered. Shares no code with
/// the planner.
/// </summary>
internal static class ReferencePlan
{
    /// <summary>Least expected seconds; a candidate without a value answers as the others do and stays.</summary>
    public static double LeastSeconds(IReadOnlyList<Candidate> left, IReadOnlyList<Feature> features)
    {
        if (IsSettled(left)) return 0;
        var least = double.PositiveInfinity;
        foreach (var feature in features)
        {
            var answers = left.Where(candidate => candidate.ValueOf(feature.Name) is not null).GroupBy(candidate => candidate.ValueOf(feature.Name)).ToList();
            if (answers.Count < 2) continue;
            double answering = answers.Sum(answer => answer.Sum(candidate => candidate.Weight));
            var seconds = feature.Seconds + answers.Sum(answer => answer.Sum(candidate => candidate.Weight) / answering
                * LeastSeconds([.. left.Where(candidate => candidate.ValueOf(feature.Name) is null || candidate.ValueOf(feature.Name) == answer.Key)], features));
            least = Math.Min(least, seconds);
        }
        return double.IsInfinity(least) ? 0 : least;
    }

    /// <summary>
    /// Every decision tree there is, written out, and the weight of each candidate times the seconds on its own way through it. Only where
    /// every value is recorded.
    /// </summary>
    public static double LeastWeightedPath(IReadOnlyList<Candidate> candidates, IReadOnlyList<Feature> features) =>
        Trees(candidates, features).Min(tree => candidates.Sum(candidate => candidate.Weight * (double)Seconds(tree, candidate)))
        / candidates.Sum(candidate => candidate.Weight);

    public static bool IsSettled(IReadOnlyList<Candidate> left) =>
        left.Count == 1 || (left[0].KitClass is not null && left.All(candidate => candidate.KitClass == left[0].KitClass));

    private sealed record Tree(Feature? Feature, Dictionary<string, Tree> Next);

    private static long Seconds(Tree tree, Candidate candidate) =>
        tree.Feature is { } feature ? feature.Seconds + Seconds(tree.Next[candidate.ValueOf(feature.Name)!], candidate) : 0;

    private static IEnumerable<Tree> Trees(IReadOnlyList<Candidate> left, IReadOnlyList<Feature> features)
    {
        var isOver = true;
        if (!IsSettled(left))
            foreach (var feature in features)
            {
                var answers = left.GroupBy(candidate => candidate.ValueOf(feature.Name)!).ToList();
                if (answers.Count < 2) continue;
                isOver = false;
                IEnumerable<Dictionary<string, Tree>> all = [[]];
                foreach (var answer in answers)
                {
                    var trees = Trees([.. answer], features).ToList();
                    all = [.. all.SelectMany(_ => trees, (known, tree) => new Dictionary<string, Tree>(known) { [answer.Key] = tree })];
                }
                foreach (var next in all) yield return new(feature, next);
            }
        if (isOver) yield return new(null, []);
    }
}
