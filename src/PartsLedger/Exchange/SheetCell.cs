using PartsLedger.Domain.Measures;

namespace PartsLedger.Exchange;

/// <summary>How a cell looks. Sizes in points; <see cref="Format"/> is a spreadsheet number format, <c>@</c> for text.</summary>
public sealed record CellLook
{
    public const string TextFormat = "@";
    public const string MoneyFormat = "#,##0.00##";
    public const string WholeFormat = "#,##0";
    public const string FractionFormat = "#,##0.0##";

    public double Points { get; init; } = 10;
    public bool Bold { get; init; }
    public bool Italic { get; init; }
    public bool Centred { get; init; }
    /// <summary>Text at the top of the cell, so that there is room to write under it; else in the middle.</summary>
    public bool AtTop { get; init; }
    public bool Boxed { get; init; } = true;

    /// <summary>One line, made smaller until it fits, instead of wrapped.</summary>
    public bool Shrunk { get; init; }

    /// <summary>Background as RRGGBB, or none.</summary>
    public string? Fill { get; init; }
    public string? Ink { get; init; }
    public string? Format { get; init; }

    public static CellLook Plain { get; } = new();
    public static CellLook Counted { get; } = new() { Centred = true };
    public static CellLook Header { get; } = new() { Bold = true, Fill = "D9E2EC", Points = 9 };
}

/// <summary>
/// One cell, or several side by side merged into one. It holds a text, a number or nothing, never a formula. Columns count from 1.
/// </summary>
public sealed record SheetCell
{
    private SheetCell(int from, int to, CellLook look) => (From, To, Look) = (from, to, look);

    public int From { get; }
    public int To { get; }
    public CellLook Look { get; }

    /// <summary>Cleaned; empty for a cell that holds a number or nothing.</summary>
    public string Text { get; private init; } = "";
    public decimal? Number { get; private init; }

    public static SheetCell Empty(int from, int to, CellLook look) => new(from, to, look);

    public static SheetCell Of(int from, int to, string? text, CellLook look) => new(from, to, look) { Text = SheetText.Clean(text) };

    public static SheetCell Of(int column, string? text, CellLook look) => Of(column, column, text, look);

    /// <summary>A number that tells things apart, such as a part number: text, whatever it looks like.</summary>
    public static SheetCell OfName(int column, string? name, CellLook look) => Of(column, name, look with { Format = CellLook.TextFormat });

    public static SheetCell Of(int column, decimal? number, CellLook look) => new(column, column, look) { Number = number };

    public static SheetCell Of(int column, long number, CellLook look) =>
        Of(column, (decimal?)number, look with { Format = CellLook.WholeFormat });

    // A format with optional decimals would leave whole pieces with a point and nothing after it ("12.").
    public static SheetCell Of(int column, Quantity quantity, CellLook look) => Of(column, quantity.ToDecimal(),
        look with { Format = quantity.IsWhole ? CellLook.WholeFormat : CellLook.FractionFormat });

    public static SheetCell Of(int column, Money money, CellLook look) => Of(column, money.ToDecimal(), look with { Format = CellLook.MoneyFormat });
}
