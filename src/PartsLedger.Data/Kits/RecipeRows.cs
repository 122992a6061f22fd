using PartsLedger.Data.Catalog;
using PartsLedger.Data.Stock;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Data.Kits;

/// <summary>
/// One version of how the shop puts a kit together. The highest is in force, and what it holds are the kit's contents in the catalogue;
/// none is ever changed.
/// </summary>
public sealed class KitRecipeRow
{
    public int Id { get; private set; }
    public int KitId { get; init; }
    public PartRow Kit { get; init; } = null!;

    /// <summary>From 1.</summary>
    public int Revision { get; init; }

    /// <summary>The scope of job it is meant for.</summary>
    public JobScope JobScope { get; init; }

    /// <summary>What is printed for whoever puts it together, and what goes into the bag.</summary>
    public string? Instructions { get; init; }
    public string? Why { get; init; }
    public DateTimeOffset At { get; init; }
    public required string Who { get; init; }
    public required string RequestId { get; init; }
    public List<KitRecipeLineRow> Lines { get; } = [];
    public List<KitRecipeVariantRow> Variants { get; } = [];
}

public sealed class KitRecipeLineRow
{
    public int Id { get; private set; }
    public int RecipeId { get; private set; }
    public KitRecipeRow Recipe { get; private set; } = null!;
    public int Line { get; init; }
    public int PartId { get; init; }
    public PartRow Part { get; init; } = null!;
    public Quantity Quantity { get; init; }
}

/// <summary>A variant that the kit is meant for.</summary>
public sealed class KitRecipeVariantRow
{
    public int Id { get; private set; }
    public int RecipeId { get; private set; }
    public KitRecipeRow Recipe { get; private set; } = null!;
    public int VariantId { get; init; }
    public VariantRow Variant { get; init; } = null!;
}

/// <summary>Kits that were built in one go: a lot of their own. What went into them are the lines of the transaction.</summary>
public sealed class KitBuildRow
{
    public int Id { get; private set; }
    public int RecipeId { get; init; }
    public KitRecipeRow Recipe { get; init; } = null!;
    public int LotId { get; init; }
    public LotRow Lot { get; init; } = null!;
    public long TransactionId { get; init; }
    public StockTransactionRow Transaction { get; init; } = null!;
    public Quantity Quantity { get; init; }
}
