using System.Diagnostics.CodeAnalysis;

namespace PartsLedger.Domain.Outcomes;

/// <summary>Either a result or a refusal, never both and never neither. Made by the implicit conversions only.</summary>
public sealed class Outcome<T> where T : notnull
{
    // Exactly one of the two is set: the conversions below are the only callers.
    private readonly T? _result;

    private Outcome(T? result, Refusal? refusal) => (_result, Refusal) = (result, refusal);

    public Refusal? Refusal { get; }

    [MemberNotNullWhen(false, nameof(Refusal))]
    public bool Succeeded => Refusal is null;

    /// <exception cref="InvalidOperationException">This outcome is a refusal.</exception>
    public T Result => Refusal is null ? _result! : throw new InvalidOperationException($"No result: {Refusal}");

    /// <summary>Goes on with the result, or hands the refusal through.</summary>
    public Outcome<TNext> Then<TNext>(Func<T, Outcome<TNext>> next) where TNext : notnull =>
        Refusal is null ? next(_result!) : Refusal;

    [SuppressMessage("Usage", "CA2225", Justification = "A conversion is the only constructor on purpose.")]
    public static implicit operator Outcome<T>(T result) => new(result, null);

    [SuppressMessage("Usage", "CA2225", Justification = "A conversion is the only constructor on purpose.")]
    public static implicit operator Outcome<T>(Refusal refusal) => new(default, refusal ?? throw new ArgumentNullException(nameof(refusal)));
}
