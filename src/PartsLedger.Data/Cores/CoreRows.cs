using PartsLedger.Data.Catalog;
using PartsLedger.Domain.Cores;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Data.Cores;

/// <summary>A used pump that came in.</summary>
public sealed class CoreRow
{
    public int Id { get; private set; }
    public required string Tag { get; init; }
    public required string TagKey { get; init; }

    /// <summary>Family and variant may still be unknown.</summary>
    public int? FamilyId { get; set; }
    public FamilyRow? Family { get; set; }
    public int? VariantId { get; set; }
    public VariantRow? Variant { get; set; }
    public string? Serial { get; set; }

    /// <summary>As it looked on arrival, in the words of whoever took it in.</summary>
    public string? ConditionOnArrival { get; set; }
    public DateOnly? ReceivedOn { get; set; }
    public string? ReceivedFrom { get; set; }
    public CoreState State { get; set; }
    public CoreGrade? Grade { get; set; }

    /// <summary>What was left as a deposit when it came in; the entries say what became of it.</summary>
    public Money Deposit { get; set; }

    /// <summary>Counts the changes, so that two people cannot both decide on the same core.</summary>
    public int Version { get; set; }
    public List<CoreFindingRow> Findings { get; } = [];
}

public sealed class CoreFindingRow
{
    public int Id { get; private set; }
    public int CoreId { get; private set; }
    public CoreRow Core { get; private set; } = null!;
    public int Position { get; init; }
    public Finding Finding { get; set; }
    public string? Note { get; set; }
}

/// <summary>One entry of the money owed for cores. Never changed; what is still owed for a core is the sum.</summary>
public sealed class DepositEntryRow
{
    public long Id { get; private set; }
    public int CoreId { get; init; }
    public CoreRow Core { get; init; } = null!;
    public DepositEntry Entry { get; init; }

    /// <summary>0 for what is owed, 1 for what settles it: with the core a unique key, so that neither happens twice.</summary>
    public int Settles { get; init; }

    /// <summary>Above zero when the shop comes to owe it, below when it is given back or kept.</summary>
    public Money Amount { get; init; }
    public DateTimeOffset At { get; init; }
    public required string Who { get; init; }
    public string? Why { get; init; }
    public required string RequestId { get; init; }
}
