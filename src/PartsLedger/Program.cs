using System.CommandLine;
using PartsLedger.Commands;

var root = new RootCommand("PartsLedger: parts, kits and stock for shops that rebuild hydraulic pumps.")
{
    ImportCommand.Make(),
    KitCommand.Make(),
    LabelsCommand.Make(),
    StockValueCommand.Make(),
    ServeCommand.Make(),
    DemoCommand.Make(),
};
var call = root.Parse(args);
var status = await call.InvokeAsync();

// A call that cannot be understood ends like any other that cannot be used.
return call.Errors.Count > 0 ? 2 : status;

/// <summary>Named so that tests can start the program.</summary>
public sealed partial class Program;
