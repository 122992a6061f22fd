using System.CommandLine;

var root = new RootCommand("PartsLedger: parts, kits and stock for shops that rebuild hydraulic pumps.");
return await root.Parse(args).InvokeAsync();

/// <summary>Named so that tests can start the program.</summary>
public sealed partial class Program;
