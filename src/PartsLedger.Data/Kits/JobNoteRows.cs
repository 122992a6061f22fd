using PartsLedger.Data.Catalog;
using PartsLedger.Domain.Catalog;

namespace PartsLedger.Data.Kits;

/// <summary>A caution for whatever it applies to: a group, a part, a family or everything (<c>*</c>).</summary>
public sealed class CautionRow
{
    public int Id { get; private set; }
    public required string AppliesTo { get; set; }

    /// <summary>The canonical part number, group word or family key, or <c>*</c>.</summary>
    public required string AppliesToKey { get; set; }
    public required string Text { get; set; }

    /// <summary>SHA-256 of the text in hexadecimal: the natural key's second half, short enough for every database's index.</summary>
    public required string TextHash { get; set; }
    public Severity Severity { get; set; }
}

/// <summary>An assembly or test check of a family or of one variant (exactly one of the two).</summary>
public sealed class CheckRow
{
    public int Id { get; private set; }
    public int? FamilyId { get; set; }
    public FamilyRow? Family { get; set; }
    public int? VariantId { get; set; }
    public VariantRow? Variant { get; set; }
    public int Sequence { get; set; }
    public required string Text { get; set; }
    public string? Expected { get; set; }
    public string? Unit { get; set; }

    /// <summary>Lowest and highest acceptable value in <see cref="Unit"/>, in millionths of it.</summary>
    public long? LowMillionths { get; set; }
    public long? HighMillionths { get; set; }
}

/// <summary>A special tool a family or one variant needs (exactly one of the two).</summary>
public sealed class ToolRow
{
    public int Id { get; private set; }
    public int? FamilyId { get; set; }
    public FamilyRow? Family { get; set; }
    public int? VariantId { get; set; }
    public VariantRow? Variant { get; set; }
    public required string Name { get; set; }
    public required string NameKey { get; set; }
    public string? Note { get; set; }
}
