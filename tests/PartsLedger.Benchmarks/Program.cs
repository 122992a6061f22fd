using BenchmarkDotNet.Running;

namespace PartsLedger.Benchmarks;

internal static class BenchmarkProgram
{
    private static void Main(string[] args) => BenchmarkSwitcher.FromAssembly(typeof(BenchmarkProgram).Assembly).Run(args);
}
