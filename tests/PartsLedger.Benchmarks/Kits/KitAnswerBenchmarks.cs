using BenchmarkDotNet.Attributes;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;

namespace PartsLedger.Benchmarks.Kits;

/// <summary>
/// One kit answer for 60 needs and some 300 supplies, against one plain pass over the same catalogue: the ratio travels from machine to
/// machine, the milliseconds do not. The claim: under 5 ms.
/// </summary>
[MemoryDiagnoser]
public class KitAnswerBenchmarks
{
    private KitCatalogue _catalogue = OrdinaryCatalogue.Of(1);

    /// <summary>Different catalogues of the same make.</summary>
    [Params(1, 2, 3, 4, 5)]
    public int Seed { get; set; }

    [Params(KitPreference.Cost, KitPreference.Stock)]
    public KitPreference Prefer { get; set; }

    [GlobalSetup]
    public void Make() => _catalogue = OrdinaryCatalogue.Of(Seed);

    /// <summary>The cost of everything in the catalogue and in its packs: touches each part, content and supersession once.</summary>
    [Benchmark(Baseline = true)]
    public long OnePass()
    {
        var sum = 0L;
        foreach (var part in _catalogue.Parts.Values) sum += part.Cost.TenThousandths + part.Available.WholeFloor;
        foreach (var content in _catalogue.Contents) sum += _catalogue.Parts[content.Part].Cost.TenThousandths * content.Quantity.WholeFloor;
        foreach (var step in _catalogue.Supersessions) sum += _catalogue.Parts[step.New].Cost.TenThousandths;
        return sum;
    }

    /// <summary>Gives the total cost, so that two runs can be seen to have done the same work.</summary>
    [Benchmark]
    public decimal Answer() => KitAnswering.Answer(_catalogue, OrdinaryCatalogue.Question(Prefer)).Result.TotalCost.ToDecimal();
}
