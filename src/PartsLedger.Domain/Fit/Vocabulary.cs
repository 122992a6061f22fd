namespace PartsLedger.Domain.Fit;

/// <summary>Which half of a fitted pair a tagged unit is.</summary>
public enum UnitRole { Housing, Valve }

/// <summary>Whether a tagged unit may be used: free to use, held until measured again, never again, or gone out in a pump.</summary>
public enum UnitState { Serviceable, Quarantine, Condemned, Gone }

/// <summary>How a pair came to be: out of one pump, never separated, or chosen by measurement.</summary>
public enum PairOrigin { AsReceived, BySelection }

/// <summary>A pair is kept together until it is taken apart on purpose, condemned, or goes out in a pump.</summary>
public enum PairState { Together, TakenApart, Condemned, Gone }

/// <summary>What was measured: the housing's bore or the valve's spool.</summary>
public enum Characteristic { Bore, Spool }

/// <summary>What became of a proposed pair: held for whoever is about to join it, joined, or let go again.</summary>
public enum ProposalState { Held, Joined, LetGo }
