using System.Diagnostics.CodeAnalysis;
using System.Runtime.CompilerServices;

namespace PartsLedger.Domain.Outcomes;

/// <summary>Checks of what must always hold; a breach is a bug of the program, never of its user.</summary>
public static class Invariant
{
    /// <exception cref="InvariantViolation"><paramref name="condition"/> is false; the message is the condition's own text.</exception>
    public static void Holds([DoesNotReturnIf(false)] bool condition, [CallerArgumentExpression(nameof(condition))] string text = "")
    {
        if (!condition) throw new InvariantViolation(text);
    }
}

/// <summary>A rule that must always hold was broken. Only the outermost boundary catches it, rolls back and reports a masked error.</summary>
public sealed class InvariantViolation(string rule) : Exception($"Broken invariant: {rule}");
