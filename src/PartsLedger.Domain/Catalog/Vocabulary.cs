namespace PartsLedger.Domain.Catalog;

/// <summary>What a part is by nature.</summary>
public enum PartKind { Seal, Rotating, Plate, Spring, Valve, Housing, Hardware, Kit, Assembly, Fluid, Tool }

/// <summary>
/// How a part can be had: by itself, only inside a kit or an assembly, only inside an assembly, or not at all any more.
/// </summary>
public enum PartService { Separate, KitOnly, AssemblyOnly, None }

/// <summary>The part of the pump a position belongs to.</summary>
public enum PartGroup { Seal, Rotating, Valve, Body, Hardware, External }

/// <summary>Whether a position is renewed in every job or only when it is found worn.</summary>
public enum RenewRule { Always, IfWorn }

/// <summary>What becomes of pieces of a superseded number: they no longer count, or they are used up from stock first.</summary>
public enum SupersessionRule { Replace, UseUp }

/// <summary>Whether a family's flow-control valve is fitted to its housing by selection or may be exchanged freely.</summary>
public enum ValveFit { Selective, Interchangeable }

/// <summary>How pieces of a part are told apart in stock.</summary>
public enum Tracking { Bulk, Lot, Serial }

/// <summary>How grave a caution is, gravest last.</summary>
public enum Severity { Note, Caution, Warning }
