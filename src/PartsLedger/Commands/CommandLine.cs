using System.CommandLine;
using PartsLedger.Hosting;

namespace PartsLedger.Commands;

/// <summary>The program's commands, and what a call that cannot be understood ends with.</summary>
public static class CommandLine
{
    /// <summary>The exit status of every call that is of no use, in every command.</summary>
    public const int Unusable = 2;

    public static RootCommand Make() => new("PartsLedger: parts, kits and stock for shops that rebuild hydraulic pumps.")
    {
        ImportCommand.Make(),
        KitCommand.Make(),
        IdentifyCommand.Make(),
        PairCommand.Make(),
        JobCommand.Make(),
        LabelsCommand.Make(),
        StockValueCommand.Make(),
        AskCommand.Make(),
        VerifyCommand.Make(),
        PeopleCommand.Make(),
        TokenCommand.Make(),
        BackupCommand.Make(),
        BackupCommand.MakeRestore(),
        ServeCommand.Make(),
        DemoCommand.Make(),
    };

    /// <param name="configuration">Where the output goes; null for the console.</param>
    public static async Task<int> Run(string[] args, InvocationConfiguration? configuration = null)
    {
        var call = Make().Parse(args);
        configuration ??= new InvocationConfiguration();

        // The library's two seconds would cut off requests that the server still lets end.
        configuration.ProcessTerminationTimeout = ShopWeb.ShutdownTime + TimeSpan.FromSeconds(5);
        var status = await call.InvokeAsync(configuration);
        return call.Errors.Count > 0 ? Unusable : status;
    }
}
