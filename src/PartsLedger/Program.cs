return await PartsLedger.Commands.CommandLine.Run(args);

/// <summary>Named so that tests can start the program.</summary>
public sealed partial class Program;
