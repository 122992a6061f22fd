using System.CommandLine;
using PartsLedger.Commands;

var root = new RootCommand("PartsLedger: parts, kits and stock for shops that rebuild hydraulic pumps.");
root.Subcommands.Add(KitCommand.Make());
var parsed = root.Parse(args);
var status = await parsed.InvokeAsync();

// A call that cannot be understood is unusable, like one whose words are understood and wrong.
return parsed.Errors.Count > 0 ? KitCommand.Unusable : status;

/// <summary>Named so that tests can start the program.</summary>
public sealed partial class Program;
