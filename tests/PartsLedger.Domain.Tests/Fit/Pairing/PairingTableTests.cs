using PartsLedger.Domain.Fit.Pairing;

namespace PartsLedger.Domain.Tests.Fit.Pairing;

/// <summary>Tables whose greatest number of pairs is known. Basis of all: constructed, found by full enumeration.</summary>
public sealed class PairingTableTests
{
    private const string Eight = "2 4 5 7 9 12 13 16";
    private const string EightSpools = "-16 -13 -10 -9 -6 -5 -1 1";

    /// <summary>Deviations from 16 mm and window limits in µm.</summary>
    [Theory]
    [InlineData("1 9 11", "-15 -8 -7", 12, 18, 3)]
    [InlineData("2 3 6 8", "-16 -14 -11 -10", 12, 18, 4)]
    [InlineData("1 2 3 5 6 9", "-17 -16 -15 -13 -10 -7", 12, 18, 6)]
    [InlineData(Eight, EightSpools, 14, 20, 8)]
    [InlineData(Eight, EightSpools, 12, 16, 7)]
    [InlineData(Eight, EightSpools, 13, 15, 7)]
    [InlineData(Eight, EightSpools, 10, 14, 6)]
    [InlineData(Eight, EightSpools, 8, 12, 5)]
    public void The_greatest_number_of_pairs_is_found(string bores, string spools, int minimum, int maximum, int pairs)
    {
        var problem = new PairingProblem(Halves(bores), Halves(spools), minimum * 1000, (minimum + maximum) * 500, maximum * 1000);
        var answer = PairingSolver.Solve(problem, TestContext.Current.CancellationToken);
        PairingChecker.Check(problem, answer);
        Assert.Equal(pairs, answer.Count);
        Assert.Equal(PairingStatus.Optimal, answer.Status);
    }

    private static LooseHalf[] Halves(string micrometres) =>
        [.. micrometres.Split(' ').Select(text => new LooseHalf(16_000_000 + 1000 * int.Parse(text, System.Globalization.CultureInfo.InvariantCulture), 0))];
}
