using System.Diagnostics;
using System.Globalization;
using PartsLedger.Domain.Fit.Pairing;

namespace PartsLedger.Benchmarks.Fit;

/// <summary>
/// How pairing grows: equal guards at 10² to 10⁶ a side against the time of sorting the same two arrays, and unequal guards up to the size
/// where the least deviation is exact. Sizes are normal, in nanometres, with standard deviations of 3 µm and 2 µm; the window is 8 to 20 µm.
/// The exponent is fitted to the logarithms by least squares.
/// </summary>
internal static class PairingGrowth
{
    private const int Runs = 9;

    /// <param name="args">The largest size with equal guards (1,000,000), and with unequal ones (2,000).</param>
    public static void Run(string[] args)
    {
        Series("equal guards", Sizes(100, args.Length > 0 ? int.Parse(args[0], CultureInfo.InvariantCulture) : 1_000_000), equal: true);
        Series("unequal guards", [100, 300, 1_000, args.Length > 1 ? int.Parse(args[1], CultureInfo.InvariantCulture) : PairingLimits.ExactSide], equal: false);
    }

    private static void Series(string name, IReadOnlyList<int> sizes, bool equal)
    {
        var points = new List<(double Size, double Seconds)>();
        foreach (var size in sizes)
        {
            var random = new Random(20_31);
            LooseHalf[] Side(double mean, double deviation) => [.. Enumerable.Range(0, size).Select(_ => new LooseHalf(
                (long)(mean + (deviation * Normal(random))), equal ? 600 : 400 + random.Next(800)))];
            var (housings, valves) = (Side(15_884_000, 3_000), Side(15_870_000, 2_000));
            var problem = new PairingProblem(housings, valves, 8_000, 14_000, 20_000);
            var (sort, solve) = (double.MaxValue, double.MaxValue);
            PairingAnswer? answer = null;
            for (var run = 0; run < Runs; run++)
            {
                var (one, other) = (housings.Select(half => half.Size).ToArray(), valves.Select(half => half.Size).ToArray());
                var clock = Stopwatch.StartNew();
                Array.Sort(one);
                Array.Sort(other);
                sort = Math.Min(sort, clock.Elapsed.TotalSeconds);
                clock.Restart();
                answer = PairingSolver.Solve(problem);
                solve = Math.Min(solve, clock.Elapsed.TotalSeconds);
            }
            points.Add((size, solve));
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"{name}, {size} a side: {answer!.Count} pairs, {answer.Status}, {solve:0.0000} s, {solve / sort:0.0} times sorting, checksum {answer.SumSquaredDeviation}"));
        }
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{name}: grows with the size to the power {Exponent(points):0.00}"));
    }

    private static List<int> Sizes(int from, int to)
    {
        var sizes = new List<int>();
        for (long size = from; size <= to; size *= 10) sizes.Add((int)size);
        return sizes;
    }

    private static double Exponent(List<(double Size, double Seconds)> points)
    {
        var (x, y) = (points.ConvertAll(point => Math.Log(point.Size)), points.ConvertAll(point => Math.Log(point.Seconds)));
        var (meanX, meanY) = (x.Average(), y.Average());
        return x.Zip(y, (one, other) => (one - meanX) * (other - meanY)).Sum() / x.Sum(one => (one - meanX) * (one - meanX));
    }

    /// <summary>Box and Muller's method.</summary>
    private static double Normal(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
