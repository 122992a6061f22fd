using System.CommandLine;
using PartsLedger.Commands;
using PartsLedger.Hosting;

var root = new RootCommand("PartsLedger: parts, kits and stock for shops that rebuild hydraulic pumps.")
{
    ImportCommand.Make(),
    KitCommand.Make(),
    LabelsCommand.Make(),
    StockValueCommand.Make(),
    ServeCommand.Make(),
    DemoCommand.Make(),
};

// A signal to stop lets running requests end first.
return await root.Parse(args).InvokeAsync(new InvocationConfiguration { ProcessTerminationTimeout = ShopWeb.ShutdownTime + TimeSpan.FromSeconds(2) });

/// <summary>Named so that tests can start the program.</summary>
public sealed partial class Program;
