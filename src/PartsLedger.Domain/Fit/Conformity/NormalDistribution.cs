namespace PartsLedger.Domain.Fit.Conformity;

/// <summary>The standard normal distribution, to about 1e-15 of the value in either tail.</summary>
public static class NormalDistribution
{
    /// <summary>Where the series hands over to the continued fraction: below it 1 − erf loses less than a digit.</summary>
    private const double Handover = 1;

    /// <summary>φ(z).</summary>
    public static double Density(double z) => Math.Exp(-z * z / 2) / Math.Sqrt(2 * Math.PI);

    /// <summary>Φ(z), the probability of at most z; 0 and 1 at the infinities.</summary>
    public static double Cumulative(double z) => Erfc(-z / Math.Sqrt(2)) / 2;

    /// <summary>
    /// Φ⁻¹(p): the z that is not exceeded with probability p; the infinities at 0 and 1. A start good to 4.5e-4 (Abramowitz and Stegun
    /// 26.2.23), then Halley's steps, each of which triples the digits, on <see cref="Cumulative"/>.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="probability"/> is not from 0 to 1.</exception>
    public static double Quantile(double probability)
    {
        if (double.IsNaN(probability)) throw new ArgumentOutOfRangeException(nameof(probability));
        ArgumentOutOfRangeException.ThrowIfLessThan(probability, 0);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(probability, 1);
        if (probability == 0) return double.NegativeInfinity;
        if (probability == 1) return double.PositiveInfinity;

        // In the lower half only, where probabilities near their end keep their digits.
        if (probability > 0.5) return -Quantile(1 - probability);
        var t = Math.Sqrt(-2 * Math.Log(probability));
        var z = ((2.515517 + (t * (0.802853 + (t * 0.010328)))) / (1 + (t * (1.432788 + (t * (0.189269 + (t * 0.001308))))))) - t;
        for (var step = 0; step < 3; step++)
        {
            var error = (Cumulative(z) - probability) / Density(z);
            z -= error / (1 + (z * error / 2));
        }
        return z;
    }

    /// <summary>2/√π ∫₀ˣ e^(−t²) dt.</summary>
    public static double Erf(double x) => Math.Abs(x) < Handover ? Series(x) : Math.Sign(x) * (1 - Fraction(Math.Abs(x)));

    /// <summary>1 − erf(x), without losing the digits of a small one.</summary>
    public static double Erfc(double x) => x >= Handover ? Fraction(x) : 1 - Erf(x);

    /// <summary>erf x = 2/√π e^(−x²) Σ 2ⁿ x^(2n+1) / (1·3·…·(2n+1)) (Abramowitz and Stegun 7.1.6): no term is negative, so nothing cancels.</summary>
    private static double Series(double x)
    {
        double term = x, sum = x;
        for (var odd = 3; Math.Abs(term) > Math.Abs(sum) * 1e-17; odd += 2)
        {
            term *= 2 * x * x / odd;
            sum += term;
        }
        return 2 / Math.Sqrt(Math.PI) * Math.Exp(-x * x) * sum;
    }

    /// <summary>
    /// √π e^(x²) erfc x = 1/(x + ½/(x + 1/(x + 1½/(x + …)))) (Abramowitz and Stegun 7.1.14), from the far end; 200 levels leave less than
    /// 1e-17 of the value at x = 1 and less beyond.
    /// </summary>
    private static double Fraction(double x)
    {
        // Below the smallest number there is; and infinity would make 0 times infinity of it.
        if (x > 27.3) return 0;
        var below = x;
        for (var level = 200; level > 0; level--) below = x + (level / 2.0 / below);
        return Math.Exp(-x * x) / Math.Sqrt(Math.PI) / below;
    }
}
