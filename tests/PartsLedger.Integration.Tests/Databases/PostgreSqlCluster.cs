using System.Diagnostics;
using System.Net;
using System.Net.Sockets;

namespace PartsLedger.Integration.Tests.Databases;

/// <summary>
/// A private throw-away cluster, where PostgreSQL's programs are on the machine. The server refuses to run as root, so under root it runs as
/// the system's own account for it.
/// </summary>
public sealed class PostgreSqlCluster : IAsyncDisposable
{
    public const string Variable = "PARTSLEDGER_TEST_POSTGRESQL";

    private static readonly Lazy<Task<(string? Server, string? Missing)>> Once = new(StartShared);

    private readonly string _programs, _folder;
    private readonly int _port;
    private readonly bool _durable;

    private PostgreSqlCluster(string programs, string folder, int port, bool durable) =>
        (_programs, _folder, _port, _durable) = (programs, folder, port, durable);

    /// <summary>To the server, as one who may do anything.</summary>
    public string Server => $"Host=127.0.0.1;Port={_port};Username=postgres;Database=postgres";

    /// <summary>A connection string to a server where databases may be created, or the sentence that says what is missing.</summary>
    public static Task<(string? Server, string? Missing)> Find() => Once.Value;

    /// <summary>A cluster of the caller's own, or null where PostgreSQL is not on this machine.</summary>
    /// <param name="durable">What was committed outlives the server being stopped at once; slower.</param>
    public static async Task<PostgreSqlCluster?> TryStart(bool durable)
    {
        if (Programs() is not { } programs) return null;
        var cluster = new PostgreSqlCluster(programs, Directory.CreateTempSubdirectory("partsledger-pg-").FullName, FreePort(), durable);
        if (Environment.UserName == "root") await Run("chown", ["postgres", cluster._folder]);
        await Run(Path.Combine(programs, "initdb"), ["-D", cluster.Data, "-U", "postgres", "-A", "trust", "-E", "UTF8", "--locale=C", "--no-sync"]);
        await cluster.Start();
        return cluster;
    }

    public Task Start() => Control("-w", "-l", Path.Combine(_folder, "log"), "-o",
        $"-p {_port} -c listen_addresses=127.0.0.1 -c unix_socket_directories='' -c fsync={(_durable ? "on" : "off")} -c max_connections=200", "start");

    /// <summary>Stops the server without letting anybody finish: the next start recovers from its log.</summary>
    public Task StopAtOnce() => Control("-w", "-m", "immediate", "stop");

    /// <summary>Stops the server in good order; running transactions are rolled back.</summary>
    public Task Stop() => Control("-w", "-m", "fast", "stop");

    public async ValueTask DisposeAsync()
    {
        if (File.Exists(Path.Combine(Data, "postmaster.pid"))) await StopAtOnce();
        Directory.Delete(_folder, recursive: true);
    }

    private string Data => Path.Combine(_folder, "data");

    private static async Task<(string? Server, string? Missing)> StartShared()
    {
        if (Environment.GetEnvironmentVariable(Variable) is { Length: > 0 } given) return (given, null);
        if (await TryStart(durable: false) is not { } cluster)
            return (null, $"PostgreSQL is not on this machine: install its server package, or set {Variable} to a connection string.");
        AppDomain.CurrentDomain.ProcessExit += (_, _) => cluster.DisposeAsync().AsTask().GetAwaiter().GetResult();
        return (cluster.Server, null);
    }

    private static string? Programs() => new[] { "/usr/lib/postgresql", "/usr/local/pgsql", "/opt/homebrew/opt/postgresql" }
        .Where(Directory.Exists)
        .SelectMany(root => Directory.GetDirectories(root).OrderDescending(StringComparer.Ordinal).Prepend(root))
        .Select(root => Path.Combine(root, "bin"))
        .FirstOrDefault(bin => File.Exists(Path.Combine(bin, "initdb")) && File.Exists(Path.Combine(bin, "pg_ctl")));

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }

    private Task Control(params string[] arguments) => Run(Path.Combine(_programs, "pg_ctl"), ["-D", Data, .. arguments]);

    private static async Task Run(string program, string[] arguments)
    {
        var asServer = Environment.UserName == "root" && program != "chown";
        var start = new ProcessStartInfo(asServer ? "setpriv" : program) { UseShellExecute = false, WorkingDirectory = "/" };
        if (asServer) foreach (var word in (string[])["--reuid=postgres", "--regid=postgres", "--clear-groups", program]) start.ArgumentList.Add(word);
        foreach (var argument in arguments) start.ArgumentList.Add(argument);

        // The server inherits these: a pipe of ours would be held open by it, so its output goes to its own log and ours to nowhere.
        using var process = Process.Start(start) ?? throw new InvalidOperationException($"{program} did not start.");
        await process.WaitForExitAsync();
        if (process.ExitCode != 0) throw new InvalidOperationException($"{program} ended with {process.ExitCode}.");
    }
}
