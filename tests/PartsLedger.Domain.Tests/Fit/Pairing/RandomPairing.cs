using PartsLedger.Domain.Fit.Pairing;

namespace PartsLedger.Domain.Tests.Fit.Pairing;

/// <summary>Random problems: sizes close enough that halves contend for each other, guards from none to half the window.</summary>
internal static class RandomPairing
{
    /// <summary>Unequal guards; every third has classes, every sixth jobs to be served first.</summary>
    public static PairingProblem Of(int seed, int most = 24)
    {
        var random = new Random(seed);
        var window = random.Next(1, 60);
        var minimum = random.Next(-20, 40);
        var target = minimum + random.Next(0, window + 1);
        var spread = random.Next(1, 4) * window + 1;
        var guard = random.Next(0, window / 2 + 1);
        var classes = seed % 3 == 0 ? random.Next(1, 4) : 0;
        var problem = new PairingProblem(
            Halves(random, random.Next(0, most + 1), minimum + window / 2, spread, guard, least: 0, classes),
            Halves(random, random.Next(0, most + 1), 0, spread, guard, least: classes > 0 ? 1 : 0, classes),
            minimum, target, minimum + window);
        if (seed % 6 != 0) return problem;
        return problem with { ServeFirst = [.. Enumerable.Range(0, random.Next(1, 4)).Select(_ => new ClassDemand(random.Next(1, classes + 1), random.Next(0, 5)))] };
    }

    /// <summary>The same guard for all of a side and no classes.</summary>
    public static PairingProblem WithEqualGuards(int seed, int most)
    {
        var random = new Random(seed);
        var problem = Of(3 * seed + 1, most);
        var (housingGuard, valveGuard) = (random.Next(0, 6), random.Next(0, 6));
        return problem with
        {
            Housings = [.. problem.Housings.Select(half => half with { Guard = housingGuard })],
            Valves = [.. problem.Valves.Select(half => half with { Guard = valveGuard })],
        };
    }

    /// <summary>All halves of the problem free.</summary>
    public static PairingPool PoolOf(PairingProblem problem) =>
        new(new PairingQuestion(problem), new bool[problem.Housings.Count], new bool[problem.Valves.Count]);

    private static LooseHalf[] Halves(Random random, int count, int middle, int spread, int guard, int least, int classes) =>
        [.. Enumerable.Range(0, count).Select(_ =>
            new LooseHalf(middle + random.Next(-spread, spread + 1), random.Next(0, guard + 1), classes == 0 ? 0 : random.Next(least, classes + 1)))];
}
