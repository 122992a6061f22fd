namespace PartsLedger.Domain.Stock;

/// <summary>What a place in the shop is for. Stock in a quarantine place is never available.</summary>
public enum LocationKind { Bin, Bench, Quarantine, Dock }

/// <summary>The condition of a piece on the shelf. Pieces in quarantine are never available.</summary>
public enum StockCondition { New, Rebuilt, Used, Quarantine }

/// <summary>
/// The outside world's accounts: where pieces come from and go to when they are in no place of the shop. On the kit bench components become
/// kits and kits components, within one transaction and at the same value.
/// </summary>
public enum OutsideWorld { Supplier, Customer, Scrap, Job, CountDifference, Opening, Kit }

/// <summary>A list is reserved whole or not at all, or as much of it as is free.</summary>
public enum ReserveRule { AllOrNothing, AsFarAsPossible }

/// <summary>Which pieces a job takes: its reserved ones first and then free ones, only its reserved ones, or only free ones.</summary>
public enum PullFrom { Either, Reserved, Free }

/// <summary>What became of one counted line: it agreed, its difference was posted, or it must be counted once more.</summary>
public enum CountVerdict { Agreed, Posted, CountAgain }
