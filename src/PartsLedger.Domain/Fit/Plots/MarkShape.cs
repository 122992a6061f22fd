namespace PartsLedger.Domain.Fit.Plots;

/// <summary>What tells one series from another: its shape and whether it is filled, never its colour.</summary>
internal enum MarkShape { Circle, Square, Triangle, Diamond, Cross }

/// <summary>How an area is filled: lines one way, or both ways.</summary>
internal enum Hatching { Lines, Crossed }
