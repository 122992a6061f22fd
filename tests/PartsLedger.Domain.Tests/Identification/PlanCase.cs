using PartsLedger.Domain.Identification;

namespace PartsLedger.Domain.Tests.Identification;

/// <summary>A small random question, the same for the same seed.</summary>
internal sealed record PlanCase(IReadOnlyList<Candidate> Candidates, IReadOnlyList<Feature> Features)
{
    public static PlanCase Of(int seed, bool withMissing, bool withKits, int mostCandidates = 6, int mostFeatures = 5)
    {
        var random = new Random(seed);
        var candidates = random.Next(1, mostCandidates + 1);
        var features = random.Next(0, mostFeatures + 1);
        var values = random.Next(2, 4);
        return new(
            [.. Enumerable.Range(0, candidates).Select(at => new Candidate($"V{at}", random.Next(3) == 0 ? 1 : random.Next(1, 20),
                withKits && random.Next(5) > 0 ? random.Next(3) : null,
                [.. Enumerable.Range(0, features).Select(feature => KeyValuePair.Create($"f{feature}",
                    withMissing && random.Next(4) == 0 ? null : $"{(char)('a' + random.Next(values))}"))]))],
            [.. Enumerable.Range(0, features).Select(feature => new Feature($"f{feature}", $"Which {feature}?",
                random.Next(3) == 0 ? 10 : random.Next(0, 60), random.Next(3) == 0))]);
    }
}
