using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Kits;

/// <summary>
/// How many of a kit can be built now and which component limits, how many if the kits within were built first, and what so many would need,
/// lack and take from open jobs.
/// </summary>
public static class CanBuild
{
    /// <summary>Kits built, or asked about, at once.</summary>
    public const int MostKits = 10_000;

    [AllowedToEveryone]
    [Heavy]
    public sealed record Query(string Kit, int Count = 1) : IQuery<Answer>;

    /// <param name="Now">Out of free pieces.</param>
    /// <param name="WithJobs">If everything that jobs have reserved were taken too.</param>
    /// <param name="Inside">Out of free pieces, with kits within built first.</param>
    /// <param name="Needs">What <see cref="Query.Count"/> need through all levels, kits within built as far as they are lacking.</param>
    /// <param name="FromJobs">What building <see cref="Query.Count"/> would take from open jobs because too few are free.</param>
    /// <param name="UnitCost">What the parts of one kit cost by the catalogue, through all levels.</param>
    public sealed record Answer(
        string Kit, int Version, int Count, Buildable Now, Buildable WithJobs, BuildableInside Inside, IReadOnlyList<RecipeNeed> Needs,
        IReadOnlyList<TakenFromJob> FromJobs, Money UnitCost);

    public sealed class Validator : AbstractValidator<Query>
    {
        public Validator()
        {
            RuleFor(q => q.Kit).Named("kit");
            RuleFor(q => q.Count).KitCount();
        }
    }

    public static Answer Decide(string kit, int version, int count, KnownRecipes recipes, IReadOnlyDictionary<int, BuildComponent> components,
        IReadOnlyDictionary<int, Money> costs)
    {
        var number = new Domain.Catalog.PartNumber(kit);
        Quantity Free(Domain.Catalog.PartNumber part) => components[recipes.Ids[part]].Free;
        var picks = recipes.Book.Of(number).SelectMany(line => components[recipes.Ids[line.Part]].Pick(line.Quantity * count, alsoFromJobs: true));
        return new(kit, version, count, recipes.Book.CanBuild(number, Free),
            recipes.Book.CanBuild(number, part => components[recipes.Ids[part]].OnHand), recipes.Book.CanBuildInside(number, Free),
            recipes.Book.Explode(number, count, Free), TakenFromJob.In(picks), recipes.Book.CostOf(number, part => costs[recipes.Ids[part]]));
    }

    public sealed class Handler(LedgerContext db, RecipeDesk desk, StockReader reader, TimeProvider clock) : IQueryHandler<Query, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            var kit = await desk.Kit(query.Kit, cancellation);
            if (!kit.Succeeded) return kit.Refusal;
            var recipe = await desk.Recipe(kit.Result, null, cancellation);
            if (!recipe.Succeeded) return recipe.Refusal;
            var recipes = await desk.Book(recipe.Result, cancellation);
            var ids = recipes.Ids.Values.ToArray();
            var rows = await db.Parts.AsNoTracking().Where(row => ids.Contains(row.Id)).ToListAsync(cancellation);
            var known = await db.StockParts.AsNoTracking().Where(row => ids.Contains(row.PartId)).Select(row => row.PartId).ToListAsync(cancellation);
            var now = clock.GetUtcNow();
            var components = new Dictionary<int, BuildComponent>();
            foreach (var row in rows)
            {
                // Of what the shop has never had there is nothing to read.
                var hand = known.Contains(row.Id) ? await reader.InHand(db, row.Id, cancellation) : null;
                components.Add(row.Id, BuildComponent.Of(new StockPart(row.Id, row.Number, row.Tracking, PieceUnit.IsWhole(row.Unit)), Quantity.Zero,
                    hand?.Balances ?? [], hand?.Open ?? [], now));
            }
            try
            {
                return Decide(kit.Result.Part.Number, recipe.Result.Revision, query.Count, recipes, components, rows.ToDictionary(row => row.Id, row => row.Cost));
            }
            catch (OverflowException)
            {
                return new Refusal("TOO_LARGE", "Kits within kits come to more pieces than can be counted.", "Ask about fewer.");
            }
        }
    }

    /// <summary>From one kit to as many as anybody builds in one go.</summary>
    internal static IRuleBuilderOptions<T, int> KitCount<T>(this IRuleBuilder<T, int> rule) => rule
        .GreaterThan(0).WithErrorCode("QUANTITY_NOT_POSITIVE").WithMessage((_, count) => $"{RecipeRefusals.Whole(count)} kits cannot be built.")
        .WithState(_ => "Give how many, at least one.")
        .LessThanOrEqualTo(MostKits).WithErrorCode("TOO_MANY_KITS").WithMessage((_, count) => $"{RecipeRefusals.Whole(count)} kits are more than anybody builds in one go.")
        .WithState(_ => $"Give at most {MostKits}.");
}
