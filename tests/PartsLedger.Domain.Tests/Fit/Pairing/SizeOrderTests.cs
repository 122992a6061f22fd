using PartsLedger.Domain.Fit.Pairing;

namespace PartsLedger.Domain.Tests.Fit.Pairing;

/// <summary>The sort of sizes against the framework's stable one.</summary>
public sealed class SizeOrderTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(200)]
    [InlineData(60_000)]
    [InlineData(4_294_967_296)]
    [InlineData(PairingLimits.Length)]
    public void Sizes_are_sorted_and_equal_ones_stay_in_the_order_they_came_in(long spread)
    {
        var random = new Random(20_31);
        for (var count = 0; count < 300; count += 1 + (count / 3))
        {
            long[] sizes = [.. Enumerable.Range(0, count).Select(_ => random.NextInt64(-spread, spread + 1) / 2 * (random.Next(4) == 0 ? 0 : 1))];
            int[] carried = [.. Enumerable.Range(0, count).Select(place => int.MaxValue - place)];
            var expected = sizes.Zip(carried).OrderBy(pair => pair.First).ToArray();

            SizeOrder.Sort(sizes, carried);

            Assert.Equal(expected, sizes.Zip(carried));
        }
    }
}
