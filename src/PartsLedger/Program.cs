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
return await root.Parse(args).InvokeAsync();

/// <summary>Named so that tests can start the program.</summary>
public sealed partial class Program;
