using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Domain.Tests.Kits;

/// <summary>
/// What building takes, how many can be built and what one costs: against published examples, named beside them, and on random recipes
/// against building one kit after the other with the pieces on a table, which shares no code with the program.
/// </summary>
public sealed class RecipeBookTests
{
    // Source: tutorsglobe.com question 557214 (inputs; quantities by arithmetic): Z = 2A + 3B; A = 4C + 4D; D = 2E; 59 of Z, nothing on hand.
    [Fact]
    public void A_published_product_tree_explodes_to_its_quantities()
    {
        var book = Book("Z: 2 A, 3 B", "A: 4 C, 4 D", "D: 2 E");
        Assert.Equal("Z 59, A 118, B 177, C 472, D 472, E 944", Lacking(book.Explode(N("Z"), 59)));
    }

    // Source: coursehero.com/file/71088 (homework tree and its printed key): A -> B(3), C(1), D(2), planned releases of A 50, 65, 80.
    [Theory]
    [InlineData(50, "A 50, B 150, C 50, D 100")]
    [InlineData(65, "A 65, B 195, C 65, D 130")]
    [InlineData(80, "A 80, B 240, C 80, D 160")]
    public void A_published_homework_tree_gives_its_gross_needs(long releases, string needs) =>
        Assert.Equal(needs, Lacking(Book("A: 3 B, 1 C, 2 D").Explode(N("A"), releases)));

    // Source: the same key. Net B: on hand 150, a receipt of 50 before the second need: 0, 145, 240. Net C: on hand 50: 0, 65, 80.
    // Net D: on hand 50: 50, 130, 160. (Its figure for an item E is a slip in the source and not used.)
    [Fact]
    public void What_is_on_hand_is_used_before_anything_is_lacking_need_after_need()
    {
        var book = Book("A: 3 B, 1 C, 2 D");
        var onHand = new Dictionary<string, long> { ["B"] = 150, ["C"] = 50, ["D"] = 50 };
        var net = new List<string>();
        foreach (var (at, releases) in new[] { 50L, 65, 80 }.Index())
        {
            if (at == 1) onHand["B"] += 50;
            var needs = book.Explode(N("A"), releases, part => Quantity.FromWhole(onHand.GetValueOrDefault(part.Text))).Skip(1).ToList();
            net.Add(string.Join(' ', needs.Select(need => need.Lacking)));
            foreach (var need in needs) onHand[need.Part.Text] -= need.FromShelf.WholeFloor;
        }
        Assert.Equal(["0 0 50", "145 65 130", "240 80 160"], net);
    }

    // Constructed in check-values section L: stock 37, 11, 25, 40; per kit 4, 1, 2, 3: 9, 11, 12, 13; the limit is 9.
    [Fact]
    public void The_component_that_is_enough_for_the_fewest_limits()
    {
        var stock = new Dictionary<string, long> { ["A"] = 37, ["B"] = 11, ["C"] = 25, ["D"] = 40 };
        var can = Book("K: 4 A, 1 B, 2 C, 3 D").CanBuild(N("K"), part => Quantity.FromWhole(stock[part.Text]));
        Assert.Equal(9, can.Count);
        Assert.Equal([9, 11, 12, 13], can.Components.Select(component => component.EnoughFor));
        Assert.Equal(["A"], can.Limiting.Select(part => part.Text));
    }

    [Fact]
    public void Kits_within_are_built_only_as_far_as_they_are_lacking()
    {
        var book = Book("K: 2 S, 1 B", "S: 3 P");
        Assert.Equal("K 5, B 5, S 6, P 18", Lacking(book.Explode(N("K"), 5, part => Quantity.FromWhole(part.Text == "S" ? 4 : 0))));
        var can = book.CanBuildInside(N("K"), part => Quantity.FromWhole(part.Text switch { "S" => 4, "B" => 9, _ => 20 }));
        Assert.Equal((5, "P"), (can.Count, string.Join(' ', can.Missing)));
    }

    [Fact]
    public void A_part_asked_for_at_two_levels_counts_once_with_its_whole_need_at_the_deepest()
    {
        var needs = Book("K: 1 S, 5 P", "S: 2 P").Explode(N("K"), 3);
        Assert.Equal(["K 0 3", "S 1 3", "P 2 21"], needs.Select(need => $"{need.Part} {need.Level} {need.Needed}"));
    }

    [Fact]
    public void Cost_is_summed_exactly_and_rounded_once()
    {
        // 3 × 0.333 of 0.0005 each would be 3 × 0.0002 if every line were rounded; together they are 0.0005.
        var book = new RecipeBook([new(N("K"), [Line("A", 0.333m), Line("B", 0.333m), Line("C", 0.334m)])]);
        Assert.Equal(5, book.CostOf(N("K"), _ => Money.FromTenThousandths(5)).TenThousandths);
    }

    [Fact]
    public void A_book_in_which_a_kit_lies_in_itself_cannot_be_made() =>
        Assert.Throws<InvariantViolation>(() => Book("K: 1 S", "S: 1 T", "T: 1 K"));

    [Fact]
    public void On_random_recipes_the_figures_are_those_of_building_one_after_the_other()
    {
        var seed = int.TryParse(Environment.GetEnvironmentVariable("PARTSLEDGER_SEED"), out var given) ? given : Random.Shared.Next();
        TestContext.Current.TestOutputHelper?.WriteLine($"PARTSLEDGER_SEED={seed}");
        var random = new Random(seed);
        for (var round = 0; round < 3000; round++)
        {
            // Part 0 is the kit; a kit holds only parts with higher numbers, so nothing lies in itself.
            var parts = random.Next(2, 9);
            var built = random.Next(1, parts);
            var recipes = new Dictionary<int, List<(int Part, int Pieces)>>();
            for (var kit = 0; kit < built; kit++)
                recipes[kit] = [.. Enumerable.Range(kit + 1, parts - kit - 1).OrderBy(_ => random.Next()).Take(random.Next(1, 4))
                    .Select(part => (part, random.Next(1, 5)))];
            var stock = Enumerable.Range(0, parts).Select(_ => random.Next(0, 30)).ToArray();
            var costs = Enumerable.Range(0, parts).Select(_ => random.Next(0, 100_000)).ToArray();
            var book = new RecipeBook(recipes.Select(recipe => new KitRecipe(P(recipe.Key),
                [.. recipe.Value.Select(line => new RecipeLine(P(line.Part), Quantity.FromWhole(line.Pieces)))])));
            Quantity OnShelf(PartNumber part) => Quantity.FromWhole(stock[Id(part)]);

            var inside = OneByOne(recipes, stock, inside: true);
            Assert.True(inside == book.CanBuildInside(P(0), OnShelf).Count, $"seed {seed}, round {round}");
            Assert.True(OneByOne(recipes, stock, inside: false) == book.CanBuild(P(0), OnShelf).Count, $"seed {seed}, round {round}");
            Assert.Equal(Gross(recipes, 0, 7).OrderBy(part => part.Key), book.Explode(P(0), 7)
                .Select(need => KeyValuePair.Create(Id(need.Part), need.Needed.WholeFloor)).OrderBy(part => part.Key));
            Assert.Equal(Gross(recipes, 0, 1).Where(part => !recipes.ContainsKey(part.Key)).Sum(part => part.Value * costs[part.Key]),
                book.CostOf(P(0), part => Money.FromTenThousandths(costs[Id(part)])).TenThousandths);
        }
    }

    /// <summary>Lays kit after kit on the table until a piece is missing.</summary>
    private static long OneByOne(Dictionary<int, List<(int Part, int Pieces)>> recipes, int[] stock, bool inside)
    {
        var table = (int[])stock.Clone();
        for (var kits = 0L; ; kits++)
            foreach (var (part, pieces) in recipes[0])
                for (var piece = 0; piece < pieces; piece++)
                    if (!Fetch(part)) return kits;

        bool Fetch(int part)
        {
            if (table[part] > 0)
            {
                table[part]--;
                return true;
            }
            return inside && recipes.TryGetValue(part, out var recipe)
                && recipe.TrueForAll(line => Enumerable.Range(0, line.Pieces).All(_ => Fetch(line.Part)));
        }
    }

    private static Dictionary<int, long> Gross(Dictionary<int, List<(int Part, int Pieces)>> recipes, int kit, long count)
    {
        var gross = new Dictionary<int, long>();
        Add(kit, count);
        return gross;

        void Add(int part, long pieces)
        {
            gross[part] = gross.GetValueOrDefault(part) + pieces;
            if (recipes.TryGetValue(part, out var recipe)) recipe.ForEach(line => Add(line.Part, pieces * line.Pieces));
        }
    }

    private static PartNumber P(int id) => new($"P{id}");

    private static int Id(PartNumber part) => int.Parse(part.Text[1..], System.Globalization.CultureInfo.InvariantCulture);

    private static PartNumber N(string text) => new(text);

    private static RecipeLine Line(string part, decimal quantity) => new(N(part), Quantity.FromThousandths((long)(quantity * 1000)));

    /// <summary><c>Z: 2 A, 3 B</c>.</summary>
    private static RecipeBook Book(params string[] recipes) => new(recipes.Select(text => text.Split(": ")).Select(halves =>
        new KitRecipe(N(halves[0]), [.. halves[1].Split(", ").Select(line => line.Split(' '))
            .Select(line => Line(line[1], decimal.Parse(line[0], System.Globalization.CultureInfo.InvariantCulture)))])));

    private static string Lacking(IEnumerable<RecipeNeed> needs) => string.Join(", ", needs.Select(need => $"{need.Part} {need.Lacking}"));
}
