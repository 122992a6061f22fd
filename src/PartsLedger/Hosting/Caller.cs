namespace PartsLedger.Hosting;

/// <summary>Who sends a request; written beside everything it changes.</summary>
/// <param name="IsSupervisor">May do what needs a supervisor: take a pair apart, change a valve's class.</param>
public sealed record Caller(string Name, bool IsSupervisor = false)
{
    /// <summary>Somebody at this machine's command line: whoever may use that may do anything.</summary>
    public static Caller CommandLine { get; } = new("command line", IsSupervisor: true);

    /// <summary>A program or page that sends requests over HTTP and has not said who is behind it: no supervisor.</summary>
    public static Caller Api { get; } = new("API");
}

/// <summary>Who sent the request that is being answered in this scope; the API's nameless caller unless it was said who.</summary>
public sealed class CurrentCaller
{
    public Caller Caller { get; set; } = Caller.Api;
}
