using BenchmarkDotNet.Running;
using PartsLedger.Benchmarks.Access;
using PartsLedger.Benchmarks.Fit;
using PartsLedger.Benchmarks.Identification;
using PartsLedger.Benchmarks.Stock;

namespace PartsLedger.Benchmarks;

/// <summary>
/// A word first runs a measurement that is one long run rather than many short ones (<c>contention</c>, <c>flood</c>, <c>looks</c>, <c>pages</c>, <c>pairing</c>, <c>search</c>, <c>verify</c>); anything else goes to the
/// benchmarks that are repeated call by call.
/// </summary>
internal static class BenchmarkProgram
{
    private static async Task Main(string[] args)
    {
        switch (args)
        {
            case ["contention", .. var rest]: await Contention.Run(rest); break;
            case ["flood", .. var rest]: await Flood.Run(rest); break;
            case ["looks"]: await Looks.Run(); break;
            case ["search", .. var rest]: await Search.Run(rest); break;
            case ["pairing", .. var rest]: PairingGrowth.Run(rest); break;
            case ["pages", .. var rest]: await Pages.PageTimes.Run(rest); break;
            case ["verify", .. var rest]: await Verification.Run(rest); break;
            default: BenchmarkSwitcher.FromAssembly(typeof(BenchmarkProgram).Assembly).Run(args); break;
        }
    }
}
