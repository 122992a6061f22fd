using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Identification;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Data.Catalog;

// The catalogue's tables as the importer fills them. Rows are plain: every rule about them stands in the importer's checks and again as
// a constraint in the mappings beside this file. A column ending in Key is the form by which its neighbour is found (see Code.KeyOf).

/// <summary>A relief-pressure class: the pressure and how far below and above it a pump of the class may lie.</summary>
public sealed class PressureClassRow
{
    public int Id { get; private set; }
    public required string Code { get; set; }
    public required string CodeKey { get; set; }
    public required string Name { get; set; }
    public Pressure Relief { get; set; }
    public Pressure Minus { get; set; }
    public Pressure Plus { get; set; }
}

/// <summary>A family of pumps that share a housing bore, a displacement and the rule of how the valve is fitted.</summary>
public sealed class FamilyRow
{
    public int Id { get; private set; }
    public required string Code { get; set; }
    public required string CodeKey { get; set; }
    public required string Name { get; set; }
    public Volume? Displacement { get; set; }
    public ValveFit ValveFit { get; set; }
    public Length? Bore { get; set; }
    public Length? ClearanceMin { get; set; }
    public Length? ClearanceTarget { get; set; }
    public Length? ClearanceMax { get; set; }
    public Length? FormLimit { get; set; }
    public Length? LandLength { get; set; }
    public string? HousingMaterial { get; set; }
    public string? ValveMaterial { get; set; }
}

public sealed class PartRow
{
    private string _numberKey = "";

    public int Id { get; private set; }
    public required string Number { get; set; }

    /// <summary>The canonical form; setting it sets <see cref="FoldedKey"/>.</summary>
    public required string NumberKey
    {
        get => _numberKey;
        set => (_numberKey, FoldedKey) = (value, NumberQuery.FoldedKeyOf(value));
    }

    /// <summary>What a forgiving search finds it by: see <see cref="NumberQuery.FoldedKeyOf"/>. Empty until an older database's rows are filled in.</summary>
    public string FoldedKey { get; private set; } = "";
    public required string Name { get; set; }
    public PartKind Kind { get; set; }
    public PartService Service { get; set; }
    public int? PressureClassId { get; set; }
    public PressureClassRow? PressureClass { get; set; }
    public Tracking Tracking { get; set; }
    public required string Unit { get; set; }
    public Money Cost { get; set; }
    public Money? Price { get; set; }
    public int? LeadDays { get; set; }
    public bool Supplied { get; set; }
}

/// <summary>Another number for a part: a casting number, a customer's, an old or a second supplier's. One number may mean two parts.</summary>
public sealed class AliasRow
{
    private string _numberKey = "";

    public int Id { get; private set; }
    public required string Number { get; set; }

    /// <summary>The canonical form; setting it sets <see cref="FoldedKey"/>.</summary>
    public required string NumberKey
    {
        get => _numberKey;
        set => (_numberKey, FoldedKey) = (value, NumberQuery.FoldedKeyOf(value));
    }

    /// <summary>What a forgiving search finds it by: see <see cref="NumberQuery.FoldedKeyOf"/>. Empty until an older database's rows are filled in.</summary>
    public string FoldedKey { get; private set; } = "";
    public int PartId { get; set; }
    public PartRow Part { get; set; } = null!;
    public string? Source { get; set; }
}

/// <summary>So many of a part in one pack.</summary>
public sealed class PackContentRow
{
    public int Id { get; private set; }
    public int PackId { get; set; }
    public PartRow Pack { get; set; } = null!;
    public int PartId { get; set; }
    public PartRow Part { get; set; } = null!;
    public Quantity Quantity { get; set; }
}

public sealed class SupersessionRow
{
    public int Id { get; private set; }
    public int OldId { get; set; }
    public PartRow Old { get; set; } = null!;
    public int NewId { get; set; }
    public PartRow New { get; set; } = null!;
    public Quantity Quantity { get; set; }
    public SupersessionRule SupersessionRule { get; set; }
}

/// <summary>One variant of a pump: a family in a pressure class, between two production changes.</summary>
public sealed class VariantRow
{
    public int Id { get; private set; }
    public required string Code { get; set; }
    public required string CodeKey { get; set; }
    public int FamilyId { get; set; }
    public FamilyRow Family { get; set; } = null!;
    public int PressureClassId { get; set; }
    public PressureClassRow PressureClass { get; set; } = null!;

    /// <summary>First and last day of production; either end may be open.</summary>
    public DateOnly? BuiltFrom { get; set; }
    public DateOnly? BuiltTo { get; set; }
    public string? SerialFrom { get; set; }
    public string? SerialTo { get; set; }
    public string? Rotation { get; set; }
    public string? Note { get; set; }
    public List<PositionRow> Positions { get; } = [];
}

public sealed class PositionRow
{
    public int Id { get; private set; }
    public int VariantId { get; set; }
    public VariantRow Variant { get; set; } = null!;
    public int Position { get; set; }
    public required string Name { get; set; }
    public int PartId { get; set; }
    public PartRow Part { get; set; } = null!;
    public Quantity Quantity { get; set; }
    public PartGroup PartGroup { get; set; }
    public RenewRule Renew { get; set; }
}

/// <summary>A machine that carries a variant, in a range of model years; an open end means it still does.</summary>
public sealed class ApplicationRow
{
    public int Id { get; private set; }
    public required string Make { get; set; }
    public required string MakeKey { get; set; }
    public required string Model { get; set; }
    public required string ModelKey { get; set; }
    public int YearFrom { get; set; }
    public int? YearTo { get; set; }
    public required string Option { get; set; }
    public required string OptionKey { get; set; }
    public int VariantId { get; set; }
    public VariantRow Variant { get; set; } = null!;
}
