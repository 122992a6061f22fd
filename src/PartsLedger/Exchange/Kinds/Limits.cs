using PartsLedger.Exchange.Reading;

namespace PartsLedger.Exchange.Kinds;

/// <summary>The longest texts the database keeps, in characters.</summary>
internal static class Limits
{
    public const int Code = Domain.Catalog.Code.MaxLength;
    public const int Name = 200;
    public const int Word = 20;
    public const int Text = 2000;

    /// <summary>The years a working machine can be from.</summary>
    public const int FirstYear = 1850;
    public const int LastYear = 2200;
}

/// <summary>What several kinds ask of their cells in the same words.</summary>
internal static class KindCells
{
    /// <summary>A code that must be there, as written and as it is found.</summary>
    public static (string Text, string Key) Code(this RowCells cells, string column)
    {
        var text = cells.Text(column, Limits.Code);
        return (text, Domain.Catalog.Code.KeyOf(text));
    }

    /// <summary>The family or the variant a row belongs to: exactly one of the two.</summary>
    public static (int? Family, int? Variant) Owner(this RowCells cells, Register<Named> families, Register<Named> variants)
    {
        var (family, variant) = (families.FindIfGiven(cells, "family"), variants.FindIfGiven(cells, "variant"));
        if (cells.IsEmpty("family") == cells.IsEmpty("variant"))
            cells.Reject("family", cells.IsEmpty("family") ? "Fill in the family or the variant." : "Fill in either the family or the variant, not both.");
        return (family?.Id, variant?.Id);
    }
}
