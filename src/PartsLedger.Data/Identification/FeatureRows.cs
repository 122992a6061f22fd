using PartsLedger.Data.Catalog;

namespace PartsLedger.Data.Identification;

/// <summary>Something to look at that tells variants apart, and what looking costs.</summary>
public sealed class FeatureRow
{
    public int Id { get; private set; }
    public required string Code { get; set; }
    public required string CodeKey { get; set; }
    public required string Question { get; set; }
    public int Seconds { get; set; }

    /// <summary>The pump must be opened to see it.</summary>
    public bool Teardown { get; set; }
}

/// <summary>What a variant shows for a feature.</summary>
public sealed class VariantFeatureRow
{
    public int Id { get; private set; }
    public int VariantId { get; set; }
    public VariantRow Variant { get; set; } = null!;
    public int FeatureId { get; set; }
    public FeatureRow Feature { get; set; } = null!;
    public required string Value { get; set; }
}
