using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Kits;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Stock;

namespace PartsLedger.Kits;

/// <summary>A part that is to be, or is, a kit of the house.</summary>
public sealed record HouseKit(StockPart Part, string Name, PartKind Kind);

/// <summary>So many of a known part in one kit.</summary>
public sealed record RecipePiece(StockPart Part, Quantity Quantity);

/// <summary>A kit's recipe and those of the kits within, as they are in force.</summary>
/// <param name="Ids">The parts in it, by number.</param>
public sealed record KnownRecipes(RecipeBook Book, IReadOnlyDictionary<PartNumber, int> Ids);

/// <summary>Finds the shop's own kits and their recipes, and holds recipes against variants.</summary>
public sealed class RecipeDesk(LedgerContext db, StockDesk stock, KitCatalogueReader catalogue)
{
    public async Task<Outcome<HouseKit>> Kit(string number, CancellationToken cancellation)
    {
        var part = await stock.Part(number, cancellation);
        if (!part.Succeeded) return part.Refusal;
        var row = await db.Parts.AsNoTracking().Where(row => row.Id == part.Result.Id).Select(row => new { row.Name, row.Kind }).SingleAsync(cancellation);
        return new HouseKit(part.Result, row.Name, row.Kind);
    }

    /// <summary>The recipe in force with its parts and variants, or null.</summary>
    public Task<KitRecipeRow?> InForce(int kitId, CancellationToken cancellation) =>
        Whole().Where(row => row.KitId == kitId).OrderByDescending(row => row.Revision).FirstOrDefaultAsync(cancellation);

    /// <param name="version">Null for the one in force.</param>
    public async Task<Outcome<KitRecipeRow>> Recipe(HouseKit kit, int? version, CancellationToken cancellation)
    {
        if (await InForce(kit.Part.Id, cancellation) is not { } inForce) return RecipeRefusals.NoRecipe(kit.Part.Number);
        if (version is not { } wanted || wanted == inForce.Revision) return inForce;
        return await Whole().SingleOrDefaultAsync(row => row.KitId == kit.Part.Id && row.Revision == wanted, cancellation) is { } older ? older
            : RecipeRefusals.UnknownVersion(kit.Part.Number, wanted, inForce.Revision);
    }

    /// <summary>The lines as they name known parts, each once and whole where it is counted in pieces.</summary>
    public async Task<Outcome<IReadOnlyList<RecipePiece>>> Pieces(
        IReadOnlyList<DefineRecipe.Line> lines, CancellationToken cancellation)
    {
        var pieces = new List<RecipePiece>();
        foreach (var line in lines)
        {
            var part = await stock.Part(line.Part, cancellation);
            if (!part.Succeeded) return part.Refusal;
            if (part.Result.WholePieces && !line.Quantity.IsWhole) return StockRefusals.NotWhole(part.Result.Number, line.Quantity);
            if (pieces.Exists(piece => piece.Part.Id == part.Result.Id)) return RecipeRefusals.PartTwice(part.Result.Number);
            pieces.Add(new(part.Result, line.Quantity));
        }
        return pieces;
    }

    /// <summary>What packs within hold, at every depth: who holds what.</summary>
    public async Task<IReadOnlyList<(int Pack, int Part)>> Within(IEnumerable<int> partIds, CancellationToken cancellation)
    {
        var arrows = new List<(int Pack, int Part)>();
        var seen = partIds.ToHashSet();
        var frontier = seen.ToArray();
        while (frontier.Length > 0)
        {
            var rows = new List<(int Pack, int Part)>();
            foreach (var some in frontier.Chunk(900))
                rows.AddRange((await db.PackContents.AsNoTracking().Where(row => some.Contains(row.PackId))
                    .Select(row => new { row.PackId, row.PartId }).ToListAsync(cancellation)).Select(row => (row.PackId, row.PartId)));
            arrows.AddRange(rows);
            frontier = [.. rows.Select(row => row.Part).Where(seen.Add)];
        }
        return arrows;
    }

    /// <summary>Refuses a recipe by which the kit would lie in itself.</summary>
    /// <param name="within">See <see cref="Within"/>.</param>
    public async Task<Refusal?> WhyCircle(
        int kitId, IReadOnlyList<RecipePiece> pieces, IReadOnlyList<(int Pack, int Part)> within, CancellationToken cancellation)
    {
        var circles = Circles.ClosedBy(within.Where(arrow => arrow.Pack != kitId), [.. pieces.Select(piece => (kitId, piece.Part.Id))]);
        if (circles.Count == 0) return null;
        var numbers = new List<string>();
        foreach (var id in circles[0].Nodes) numbers.Add(await stock.Number(id, cancellation));
        return RecipeRefusals.HoldsItself(numbers);
    }

    /// <summary>The recipe held against each variant in turn. It must not hold itself.</summary>
    public async Task<Outcome<IReadOnlyList<RecipeVerdict>>> Verdicts(
        HouseKit kit, IReadOnlyList<RecipePiece> pieces, IEnumerable<string> variants, JobScope scope, CancellationToken cancellation)
    {
        var recipe = new KitRecipe(new PartNumber(kit.Part.Number), [.. pieces.Select(piece => new RecipeLine(new PartNumber(piece.Part.Number), piece.Quantity))]);
        var verdicts = new List<RecipeVerdict>();
        foreach (var variant in variants.DistinctBy(Code.KeyOf))
        {
            var read = await catalogue.Read(variant, cancellation, also: [kit.Part.Id, .. pieces.Select(piece => piece.Part.Id)]);
            if (!read.Succeeded) return read.Refusal;
            verdicts.Add(RecipeCheck.Of(read.Result, recipe, scope, cancellation));
        }
        return verdicts;
    }

    /// <summary>The recipe in force and those of the kits within.</summary>
    public async Task<KnownRecipes> Book(KitRecipeRow recipe, CancellationToken cancellation)
    {
        var recipes = new List<KitRecipeRow> { recipe };
        var frontier = recipe.Lines.Select(line => line.PartId).ToArray();
        while (frontier.Length > 0)
        {
            var inner = await Whole().Where(row => frontier.Contains(row.KitId)
                && !db.KitRecipes.Any(other => other.KitId == row.KitId && other.Revision > row.Revision)).ToListAsync(cancellation);
            recipes.AddRange(inner);
            frontier = [.. inner.SelectMany(row => row.Lines.Select(line => line.PartId)).Distinct()
                .Where(id => recipes.TrueForAll(known => known.KitId != id))];
        }
        var distinct = recipes.DistinctBy(row => row.KitId).ToList();
        return new(
            new RecipeBook(distinct.Select(row => new KitRecipe(new PartNumber(row.Kit.Number), LinesOf(row)))),
            distinct.SelectMany(row => row.Lines.Select(line => (line.Part.Number, line.PartId)).Append((row.Kit.Number, row.KitId)))
                .DistinctBy(part => part.Item2).ToDictionary(part => new PartNumber(part.Item1), part => part.Item2));
    }

    public static IReadOnlyList<RecipeLine> LinesOf(KitRecipeRow recipe) =>
        [.. recipe.Lines.OrderBy(line => line.Line).Select(line => new RecipeLine(new PartNumber(line.Part.Number), line.Quantity))];

    private IQueryable<KitRecipeRow> Whole() => db.KitRecipes.AsNoTracking().Include(row => row.Kit).Include(row => row.Lines).ThenInclude(line => line.Part)
        .Include(row => row.Variants).ThenInclude(row => row.Variant).AsSplitQuery();
}
