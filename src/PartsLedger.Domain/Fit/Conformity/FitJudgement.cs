using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Fit.Conformity;

/// <summary>What can be said of a housing and a valve with these gauges; three answers, since "cannot be told" is neither of the others.</summary>
public enum FitOutcome { Fits, DoesNotFit, CannotTell }

/// <summary>A half as measured.</summary>
/// <param name="Size">At 20 °C.</param>
/// <param name="Form">Largest reading minus smallest, at 20 °C; zero or more.</param>
/// <param name="Uncertainty">Of the gauge it was measured with, expanded, k = 2; zero or more.</param>
public sealed record MeasuredHalf(Length Size, Length Form, Length Uncertainty);

/// <param name="Clearance">Bore minus spool, of the mean sizes.</param>
/// <param name="Deviation">Clearance minus target.</param>
/// <param name="Probability">That the true clearance, form allowed for, is within the limits; 0 to 1. See <see cref="Conformance"/>.</param>
/// <param name="Sentence">For the person at the bench.</param>
public sealed record FitJudgement(FitOutcome Outcome, Length Clearance, Length Deviation, double Probability, string Sentence);
