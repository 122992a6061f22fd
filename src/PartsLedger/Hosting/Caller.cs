using PartsLedger.Domain.Access;

namespace PartsLedger.Hosting;

/// <summary>Who sends a request, written beside everything it changes, and what they may do.</summary>
public sealed record Caller(string Name, params IReadOnlyCollection<Role> Roles)
{
    /// <summary>Somebody at this machine's command line: whoever may use that may do anything.</summary>
    public static Caller CommandLine { get; } = new("command line", Enum.GetValues<Role>()) { Way = Way.Command };

    /// <summary>
    /// A program or page at this machine while the shop has no people: what its command line may do anyway, but nothing that is to be
    /// done under a supervisor's own name.
    /// </summary>
    public static Caller ThisMachine { get; } = new("this machine", Role.Counter, Role.Warehouse, Role.Rebuilder, Role.Administrator, Role.Reader);

    /// <summary>Stands where a name would, for somebody who did not say who they are.</summary>
    public const string Nobody = "nobody";

    /// <summary>Who is signed in; null for programs and for the command line.</summary>
    public int? PersonId { get; init; }

    /// <summary>How they came in.</summary>
    public CameBy CameBy { get; init; }

    /// <summary>By which door they came.</summary>
    public Way Way { get; init; }

    /// <summary>The address they came from; null at the machine itself.</summary>
    public string? Address { get; init; }

    /// <summary>May do what needs a supervisor: take a pair apart, change a valve's class.</summary>
    public bool IsSupervisor => Roles.Contains(Role.Supervisor);
}

/// <summary>How a caller came in: what a browser sends by itself needs more care than what a program sends on purpose.</summary>
public enum CameBy { Nothing, Password, Badge, SignInService, Token }

/// <summary>Who sent the request that is being answered in this scope; somebody who may do nothing unless it was said who.</summary>
public sealed class CurrentCaller
{
    public Caller Caller { get; set; } = new(Caller.Nobody);

    /// <summary>Ends when whoever asked has gone or has waited long enough.</summary>
    public CancellationToken Until { get; set; }

    /// <summary>Was turned away because they ask too often, and is to come again after so many seconds.</summary>
    public int? MustWait { get; set; }
}
