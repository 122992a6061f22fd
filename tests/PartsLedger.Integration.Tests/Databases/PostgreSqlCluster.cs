using System.Diagnostics;
using System.Net;
using System.Net.Sockets;

namespace PartsLedger.Integration.Tests.Databases;

/// <summary>
/// A private throw-away cluster: made by the first test that wants it where PostgreSQL's programs are on the machine, stopped and
/// removed when the test run ends. The server refuses to run as root, so under root it runs as the system's own account for it.
/// </summary>
public static class PostgreSqlCluster
{
    public const string Variable = "PARTSLEDGER_TEST_POSTGRESQL";

    private static readonly Lazy<Task<(string? Server, string? Missing)>> Once = new(Start);

    /// <summary>A connection string to a server where databases may be created, or the sentence that says what is missing.</summary>
    public static Task<(string? Server, string? Missing)> Find() => Once.Value;

    private static async Task<(string? Server, string? Missing)> Start()
    {
        if (Environment.GetEnvironmentVariable(Variable) is { Length: > 0 } given) return (given, null);
        var programs = Programs();
        if (programs is null)
            return (null, $"PostgreSQL is not on this machine: install its server package, or set {Variable} to a connection string.");

        var folder = Directory.CreateTempSubdirectory("partsledger-pg-").FullName;
        var data = Path.Combine(folder, "data");
        var port = FreePort();
        if (Environment.UserName == "root") await Run("chown", ["postgres", folder]);
        await Run(Path.Combine(programs, "initdb"), ["-D", data, "-U", "postgres", "-A", "trust", "-E", "UTF8", "--locale=C", "--no-sync"]);
        await Run(Path.Combine(programs, "pg_ctl"),
        [
            "-D", data, "-w", "-l", Path.Combine(folder, "log"),
            "-o", $"-p {port} -c listen_addresses=127.0.0.1 -c unix_socket_directories='' -c fsync=off -c max_connections=200", "start",
        ]);
        AppDomain.CurrentDomain.ProcessExit += (_, _) =>
        {
            Run(Path.Combine(programs, "pg_ctl"), ["-D", data, "-m", "immediate", "stop"]).GetAwaiter().GetResult();
            Directory.Delete(folder, recursive: true);
        };
        return ($"Host=127.0.0.1;Port={port};Username=postgres;Database=postgres", null);
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
