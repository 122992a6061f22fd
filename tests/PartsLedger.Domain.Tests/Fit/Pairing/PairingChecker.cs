using System.Numerics;
using PartsLedger.Domain.Fit.Pairing;

namespace PartsLedger.Domain.Tests.Fit.Pairing;

/// <summary>Proves from the problem alone that an answer may be carried out and adds up. Shares no code with the solver.</summary>
internal static class PairingChecker
{
    public static void Check(PairingProblem problem, PairingAnswer answer)
    {
        var classes = problem.Housings.Select(half => half.Class).ToArray();
        foreach (var (housing, of) in answer.ReservedHousings)
        {
            Assert.Equal(0, classes[housing]);
            classes[housing] = of;
        }
        Assert.Equal(answer.Pairs.Count, answer.Pairs.Select(pair => pair.Housing).Distinct().Count());
        Assert.Equal(answer.Pairs.Count, answer.Pairs.Select(pair => pair.Valve).Distinct().Count());
        Assert.Equal(answer.Pairs.Select(pair => pair.Housing).Order(), answer.Pairs.Select(pair => pair.Housing));
        var sum = BigInteger.Zero;
        foreach (var pair in answer.Pairs)
        {
            var (housing, valve) = (problem.Housings[pair.Housing], problem.Valves[pair.Valve]);
            var (biggestBore, smallestBore) = (housing.Size + housing.Guard, housing.Size - housing.Guard);
            Assert.True(smallestBore - (valve.Size + valve.Guard) >= problem.Minimum, $"{pair} is too tight.");
            Assert.True(biggestBore - (valve.Size - valve.Guard) <= problem.Maximum, $"{pair} is too loose.");
            Assert.True(classes[pair.Housing] == 0 || classes[pair.Housing] == valve.Class, $"{pair} mixes classes.");
            Assert.Equal(housing.Size - valve.Size, pair.Clearance);
            Assert.Equal(pair.Clearance - problem.Target, pair.Deviation);
            sum += BigInteger.Pow(pair.Deviation, 2);
        }
        Assert.Equal(sum, (BigInteger)answer.SumSquaredDeviation);
        Assert.True(answer.LeastSumBound <= answer.SumSquaredDeviation);
        if (answer.Status == PairingStatus.Optimal) Assert.Equal(answer.SumSquaredDeviation, answer.LeastSumBound);
        CheckKept(problem, answer);
        CheckServed(problem, answer);
    }

    private static void CheckKept(PairingProblem problem, PairingAnswer answer)
    {
        var kept = answer.Pairs.Where(pair => pair.CameTogether).Select(pair => (pair.Housing, pair.Valve)).ToHashSet();
        var fitting = problem.KeepTogether.Where(pair =>
        {
            var (housing, valve) = (problem.Housings[pair.Housing], problem.Valves[pair.Valve]);
            var (clearance, guards) = (housing.Size - valve.Size, housing.Guard + valve.Guard);
            return clearance >= problem.Minimum + guards && clearance <= problem.Maximum - guards
                && (housing.Class == 0 || housing.Class == valve.Class);
        });
        Assert.Equal(fitting.ToHashSet(), kept);
    }

    private static void CheckServed(PairingProblem problem, PairingAnswer answer)
    {
        Assert.Equal(problem.ServeFirst.Count, answer.Served.Count);
        foreach (var of in problem.ServeFirst.Select(demand => demand.Class).Distinct())
        {
            var served = problem.ServeFirst.Zip(answer.Served).Where(both => both.First.Class == of).Sum(both => both.Second);
            Assert.True(answer.Pairs.Count(pair => problem.Valves[pair.Valve].Class == of) >= served, $"Class {of} has fewer pairs than it was served.");
        }
        foreach (var (demand, served) in problem.ServeFirst.Zip(answer.Served)) Assert.InRange(served, 0, demand.Pairs);
    }
}
