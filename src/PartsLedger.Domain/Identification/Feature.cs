namespace PartsLedger.Domain.Identification;

/// <summary>Something to look at that tells variants apart.</summary>
/// <param name="Question">What the person is asked.</param>
/// <param name="Seconds">What looking costs, opening the pump included where that is needed; zero or more.</param>
/// <param name="Teardown">The pump must be opened to see it.</param>
public sealed record Feature(string Name, string Question, int Seconds, bool Teardown);

/// <summary>An answer to a feature's question.</summary>
public sealed record Observation(string Feature, string Value)
{
    public override string ToString() => $"{Feature} = {Value}";
}
