namespace PartsLedger.Domain.Stock;

/// <summary>What a place in the shop is for. Stock in a quarantine place is never available.</summary>
public enum LocationKind { Bin, Bench, Quarantine, Dock }

/// <summary>The condition of a piece on the shelf. Pieces in quarantine are never available.</summary>
public enum StockCondition { New, Rebuilt, Used, Quarantine }

/// <summary>The outside world's accounts: where pieces come from and go to when they are in no place of the shop.</summary>
public enum OutsideWorld { Supplier, Customer, Scrap, Job, CountDifference, Opening }
