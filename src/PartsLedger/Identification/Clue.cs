namespace PartsLedger.Identification;

/// <summary>Something known about a pump besides what it looks like, and the variants that it fits.</summary>
/// <param name="Name">What it is: <c>number</c>, <c>machine</c>, <c>serial</c>, <c>built</c>.</param>
/// <param name="Value">As it was given.</param>
/// <param name="Fits">By variant id, and why, as a part of a sentence.</param>
/// <param name="Note">What the person should know about it: that nothing fits it, or that it was read forgivingly.</param>
public sealed record Clue(string Name, string Value, IReadOnlyDictionary<int, string> Fits, string? Note = null);
