using PartsLedger.Domain.Catalog;

namespace PartsLedger.Domain.Identification.Planning;

/// <summary>A feature as the search sees it: which groups of candidates have which value. Values are in ordinal order.</summary>
internal sealed record PlanFeature(Feature Feature, string Key, IReadOnlyList<string> Values, CandidateSet[] Having, CandidateSet Missing);

/// <summary>One answer to a question: what it leaves, and the chance that it is given.</summary>
internal readonly record struct PlanBranch(CandidateSet Left, double Share, int Value);

/// <summary>
/// The candidates in groups that nothing recorded tells apart, and the features that tell groups apart, both in an order of their own, so
/// that the order in which they were given never matters.
/// </summary>
internal sealed class PlanProblem
{
    private readonly CandidateSet[] _sameKit;

    public PlanProblem(IReadOnlyList<Candidate> candidates, IReadOnlyList<Feature> features, IReadOnlyCollection<string> excluded)
    {
        var unasked = excluded.Select(Code.KeyOf).ToHashSet(StringComparer.Ordinal);
        var offered = features.Select(feature => (Feature: feature, Key: Code.KeyOf(feature.Name))).OrderBy(entry => entry.Key, StringComparer.Ordinal).ToList();
        for (var at = 1; at < offered.Count; at++)
            if (offered[at].Key == offered[at - 1].Key) throw new ArgumentException($"Feature {offered[at].Feature.Name} stands twice.", nameof(features));
        if (offered.Any(entry => entry.Feature.Seconds < 0)) throw new ArgumentException("Looking never takes less than no time.", nameof(features));
        var telling = offered.Where(entry => !unasked.Contains(entry.Key) && Tells(candidates, entry.Key)).ToList();

        Groups = [.. candidates
            .GroupBy(candidate => string.Join('\n', telling.Select(entry => candidate.Find(entry.Key)?.Key ?? "")), StringComparer.Ordinal)
            .Select(group => group.OrderBy(candidate => candidate.Variant, StringComparer.Ordinal).ToArray())
            .OrderBy(group => group[0].Variant, StringComparer.Ordinal)];
        Weights = [.. Groups.Select(group => group.Aggregate(0L, (sum, candidate) => checked(sum + candidate.Weight)))];
        Kits = Label(Groups);
        All = CandidateSet.Of(Enumerable.Range(0, Groups.Length), Groups.Length);
        var byKit = Enumerable.Range(0, Groups.Length).GroupBy(at => Kits[at]).ToDictionary(kit => kit.Key, kit => CandidateSet.Of(kit, Groups.Length));
        _sameKit = [.. Kits.Select(kit => byKit[kit])];
        Features = Distinct(telling.Select(entry => Build(entry.Feature, entry.Key)));
        HasMissing = Features.Any(feature => !feature.Missing.IsEmpty);
    }

    /// <summary>Groups by their first variant; a group's variants in ordinal order.</summary>
    public Candidate[][] Groups { get; }

    public long[] Weights { get; }

    /// <summary>The kit of each group, counted from 0; a group whose candidates need different kits has one that nobody shares.</summary>
    public int[] Kits { get; }

    public CandidateSet All { get; }

    /// <summary>In the order of their names, each telling at least two groups apart; of several that do so in the same way only the cheapest.</summary>
    public PlanFeature[] Features { get; }

    /// <summary>Some group has no value for some feature.</summary>
    public bool HasMissing { get; }

    /// <summary>Nothing more needs to be known of these: one group, or all with the same kit. Not for an empty set.</summary>
    public bool IsDone(CandidateSet set) => set.IsSubsetOf(_sameKit[set.First]);

    /// <summary>The answers to a question, each with what it leaves; null when it cannot tell these apart.</summary>
    public PlanBranch[]? Split(CandidateSet set, PlanFeature feature)
    {
        var values = 0;
        foreach (var having in feature.Having)
            if (set.Intersects(having)) values++;
        if (values < 2) return null;

        var branches = new PlanBranch[values];
        var unknown = set & feature.Missing;
        long total = 0;
        var at = 0;
        for (var value = 0; value < feature.Having.Length; value++)
        {
            var having = set & feature.Having[value];
            if (having.IsEmpty) continue;
            var weight = WeightOf(having);
            total += weight;
            branches[at++] = new(having | unknown, weight, value);
        }
        for (at = 0; at < values; at++) branches[at] = branches[at] with { Share = branches[at].Share / total };
        return branches;
    }

    /// <summary>Any feature of the guide, as it divides these groups; null when it tells none of them apart.</summary>
    public PlanFeature? AsAsked(Feature feature)
    {
        var built = Build(feature, Code.KeyOf(feature.Name));
        return built.Having.Length > 1 ? built : null;
    }

    public long WeightOf(CandidateSet set)
    {
        long weight = 0;
        foreach (var at in set) weight = checked(weight + Weights[at]);
        return weight;
    }

    /// <summary>Some candidates with different kits would stay together whatever is answered: no feature has different values for them.</summary>
    public bool HasInseparable()
    {
        if (Groups.Any(group => group.Length > 1 && KitOf(group) is null)) return true;
        if (!HasMissing) return false;
        // For each group, those that need no telling apart from it or can be told apart.
        var fine = _sameKit.ToArray();
        foreach (var feature in Features)
            for (var value = 0; value < feature.Having.Length; value++)
            {
                var others = feature.Having.Where((_, at) => at != value).Aggregate((sum, having) => sum | having);
                foreach (var at in feature.Having[value]) fine[at] |= others;
            }
        return !fine.All(All.IsSubsetOf);
    }

    private static bool Tells(IReadOnlyList<Candidate> candidates, string feature) =>
        candidates.Select(candidate => candidate.Find(feature)?.Key).OfType<string>().Distinct(StringComparer.Ordinal).Skip(1).Any();

    private static int? KitOf(Candidate[] group) =>
        group.All(candidate => candidate.KitClass is { } kit && kit == group[0].KitClass) ? group[0].KitClass : null;

    private static int[] Label(Candidate[][] groups)
    {
        var shared = new Dictionary<int, int>();
        var labels = new int[groups.Length];
        var next = 0;
        for (var at = 0; at < groups.Length; at++)
        {
            if (KitOf(groups[at]) is not { } kit) labels[at] = next++;
            else if (shared.TryGetValue(kit, out var known)) labels[at] = known;
            else shared.Add(kit, labels[at] = next++);
        }
        return labels;
    }

    private PlanFeature Build(Feature feature, string key)
    {
        var values = Enumerable.Range(0, Groups.Length)
            .GroupBy(at => Groups[at][0].Find(key)?.Key ?? "", StringComparer.Ordinal)
            .OrderBy(value => value.Key, StringComparer.Ordinal).ToList();
        var known = values.Where(value => value.Key.Length > 0).ToList();
        return new(feature, key,
            [.. known.Select(value => value.SelectMany(at => Groups[at]).Select(candidate => candidate.Find(key)?.Text).OfType<string>().Min(StringComparer.Ordinal)!)],
            [.. known.Select(value => CandidateSet.Of(value, Groups.Length))],
            CandidateSet.Of(values.Where(value => value.Key.Length == 0).SelectMany(value => value), Groups.Length));
    }

    /// <summary>Of features that divide the groups in the same way only one is ever asked: the one the plan's order of preference takes.</summary>
    private PlanFeature[] Distinct(IEnumerable<PlanFeature> features) =>
        [.. features.GroupBy(Division, StringComparer.Ordinal)
            .Select(same => same.OrderBy(feature => feature.Feature.Seconds).ThenBy(feature => feature.Feature.Teardown)
                .ThenBy(feature => feature.Key, StringComparer.Ordinal).First())
            .OrderBy(feature => feature.Key, StringComparer.Ordinal)];

    /// <summary>For each group the number of its value, values numbered as they are met; the same text for the same division.</summary>
    private string Division(PlanFeature feature)
    {
        var numbers = new Dictionary<string, int>(StringComparer.Ordinal);
        return string.Join(',', Groups.Select(group => group[0].Find(feature.Key)?.Key).Select(value =>
        {
            if (value is null) return -1;
            if (!numbers.TryGetValue(value, out var number)) numbers.Add(value, number = numbers.Count);
            return number;
        }));
    }
}
