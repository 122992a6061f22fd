namespace PartsLedger.Domain.Cores;

/// <summary>The course of a used pump's life in the shop.</summary>
public enum CoreState { Arrived, Graded, TornDown, SentBack, Scrapped }

/// <summary>What a core is good for: as it is, with new wearing parts, for its sound pieces only, or for nothing.</summary>
public enum CoreGrade { Sound, Worn, PartsOnly, Hopeless }

/// <summary>What was found at a position of a pump that was opened or looked over.</summary>
public enum Finding { Good, Worn, Damaged, Missing, WrongPart }

/// <summary>What happens to the money left for a core: it is owed when the core comes in, then given back or kept for a reason.</summary>
public enum DepositEntry { Owed, GivenBack, Kept }
