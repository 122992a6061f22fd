using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Domain.Fit.Measuring;

/// <summary>A gauge as the register has it.</summary>
/// <param name="Uncertainty">Expanded, k = 2; above zero.</param>
/// <param name="DueOn">The last day on which its calibration counts.</param>
public sealed record Gauge(string Code, Length Uncertainty, DateOnly? CalibratedOn, DateOnly? DueOn);

/// <summary>What a measurement with the gauge is for: looking and sorting, or letting a pair go out.</summary>
public enum GaugeUse { Sorting, Release }

/// <summary>Something to be said about a gauge that does not stop the work.</summary>
/// <param name="Code">Upper case with underscores, stable.</param>
public sealed record GaugeWarning(string Code, string Sentence, string WhatToDo);

/// <param name="Refused">Why the gauge may not be used for this, or null.</param>
public sealed record GaugeVerdict(Refusal? Refused, IReadOnlyList<GaugeWarning> Warnings);
