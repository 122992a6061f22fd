using PartsLedger.Domain.Catalog;

namespace PartsLedger.Domain.Identification;

/// <summary>A variant that the pump in the hand may be.</summary>
/// <remarks>Features and values are compared by <see cref="Code.KeyOf"/>: without regard to case and outer or repeated white space.</remarks>
public sealed class Candidate
{
    private readonly Dictionary<string, (string Key, string Text)> _values = new(StringComparer.Ordinal);

    /// <param name="weight">How often it is met, at least 1: the number of applications that point to it.</param>
    /// <param name="kitClass">
    /// Candidates with the same class need the same kit; null when no job is in question, or when nobody else shares its kit.
    /// </param>
    /// <param name="values">What is recorded of it: feature and value. A value of null or white space is not recorded.</param>
    /// <exception cref="ArgumentException">The weight is below 1, or a feature stands twice.</exception>
    public Candidate(string variant, long weight, int? kitClass, IEnumerable<KeyValuePair<string, string?>> values)
    {
        ArgumentNullException.ThrowIfNull(variant);
        ArgumentOutOfRangeException.ThrowIfLessThan(weight, 1);
        ArgumentNullException.ThrowIfNull(values);
        (Variant, Weight, KitClass) = (variant, weight, kitClass);
        foreach (var (feature, value) in values)
            if (!string.IsNullOrWhiteSpace(value))
                _values.Add(Code.KeyOf(feature), (Code.KeyOf(value), value.Trim()));
    }

    /// <summary>The variant's code.</summary>
    public string Variant { get; }

    /// <summary>At least 1.</summary>
    public long Weight { get; }

    public int? KitClass { get; }

    /// <summary>The recorded value as written; null where none is.</summary>
    public string? ValueOf(string feature) => Find(Code.KeyOf(feature))?.Text;

    /// <summary>What was seen does not rule it out: it has that value, or none is recorded.</summary>
    public bool AgreesWith(Observation seen)
    {
        ArgumentNullException.ThrowIfNull(seen);
        return Find(Code.KeyOf(seen.Feature)) is not { } value || value.Key == Code.KeyOf(seen.Value);
    }

    internal (string Key, string Text)? Find(string featureKey) => _values.TryGetValue(featureKey, out var value) ? value : null;

    public override string ToString() => Variant;
}
