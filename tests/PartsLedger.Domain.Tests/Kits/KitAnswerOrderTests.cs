using System.Text.Json;
using CsCheck;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Tests.Kits.Reference;

namespace PartsLedger.Domain.Tests.Kits;

/// <summary>The same question gets the same answer: the order in which a catalogue lists things means nothing.</summary>
public sealed class KitAnswerOrderTests
{
    [Fact]
    public void The_order_of_the_catalogues_lists_never_changes_the_answer() =>
        Gen.Select(Gen.Int[1, 100_000], Gen.Int).Sample((seed, shuffle) =>
        {
            var (catalogue, question) = RandomCatalogue.Of(seed);
            Assert.Equal(Text(catalogue, question), Text(Shuffled(catalogue, new Random(shuffle)), question));
        }, iter: 300);

    private static string Text(KitCatalogue catalogue, KitQuestion question) =>
        JsonSerializer.Serialize(KitAnswering.Answer(catalogue, question).Result);

    private static KitCatalogue Shuffled(KitCatalogue catalogue, Random random)
    {
        return catalogue with
        {
            Variant = catalogue.Variant with { Positions = Mixed(catalogue.Variant.Positions) },
            Parts = Mixed(catalogue.Parts.Values).ToDictionary(part => part.Number),
            Contents = Mixed(catalogue.Contents),
            Supersessions = Mixed(catalogue.Supersessions),
            Pairs = Mixed(catalogue.Pairs),
        };

        T[] Mixed<T>(IEnumerable<T> list)
        {
            T[] mixed = [.. list];
            random.Shuffle(mixed);
            return mixed;
        }
    }
}
