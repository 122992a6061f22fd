namespace PartsLedger.Domain.Outcomes;

/// <summary>
/// An expected "no": a code that programs may rely on, a sentence that says what is wrong and where, and what to do about it.
/// Exceptions are for bugs; a refusal is an answer.
/// </summary>
/// <param name="Code">Upper case with underscores, stable, e.g. <c>UNKNOWN_VARIANT</c>.</param>
/// <param name="Sentence">One sentence for the person at the counter.</param>
/// <param name="WhatToDo">One sentence: the next sensible step.</param>
public sealed record Refusal(string Code, string Sentence, string WhatToDo)
{
    public override string ToString() => $"{Sentence} {WhatToDo}";
}
