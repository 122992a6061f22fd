namespace PartsLedger.Hosting;

/// <summary>Who sends a request; written beside everything it changes.</summary>
public sealed record Caller(string Name)
{
    /// <summary>Somebody at this machine's command line.</summary>
    public static Caller CommandLine { get; } = new("command line");
}
