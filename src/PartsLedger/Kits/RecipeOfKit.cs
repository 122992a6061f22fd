using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Kits;

/// <summary>One version of how a kit is put together.</summary>
public static class RecipeOfKit
{
    /// <param name="Version">Null for the one in force.</param>
    [AllowedToEveryone]
    public sealed record Query(string Kit, int? Version = null) : IQuery<Answer>;

    public sealed record Answer(
        string Kit, string Name, int Version, bool InForce, JobScope Scope, string? Instructions, string? Why, string By, DateTimeOffset At,
        IReadOnlyList<Line> Lines, IReadOnlyList<string> Variants);

    public sealed record Line(string Part, string Name, Quantity Quantity);

    public sealed class Handler(LedgerContext db, RecipeDesk desk) : IQueryHandler<Query, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            var kit = await desk.Kit(query.Kit, cancellation);
            if (!kit.Succeeded) return kit.Refusal;
            var found = await desk.Recipe(kit.Result, query.Version, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var recipe = found.Result;
            var isLater = await db.KitRecipes.AnyAsync(row => row.KitId == recipe.KitId && row.Revision > recipe.Revision, cancellation);
            return new Answer(recipe.Kit.Number, recipe.Kit.Name, recipe.Revision, !isLater, recipe.JobScope, recipe.Instructions, recipe.Why, recipe.Who,
                recipe.At, [.. recipe.Lines.OrderBy(line => line.Line).Select(line => new Line(line.Part.Number, line.Part.Name, line.Quantity))],
                [.. recipe.Variants.Select(row => row.Variant.Code).Order(StringComparer.Ordinal)]);
        }
    }
}
