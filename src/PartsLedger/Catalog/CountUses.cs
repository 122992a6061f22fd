using System.ComponentModel;
using GraphQL;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Catalog;

/// <summary>How widely a part is used, by whatever way <see cref="WhereUsed"/> knows.</summary>
public static class CountUses
{
    [AllowedToEveryone]
    public sealed record Query(string Part) : IQuery<Answer>;

    [Name("UseCount")]
    [Description("How widely a part is used.")]
    public sealed record Answer(
        [property: Description("Positions on parts lists, as `whereUsed` lists them.")] int Positions,
        [property: Description("Variants that have such a position.")] int Variants,
        [property: Description("Applications of these variants, as `machinesUsing` lists them.")] int Machines);

    public sealed class Handler(LedgerContext db) : IQueryHandler<Query, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            var part = await PartByNumber.Find(db, query.Part, cancellation);
            if (!part.Succeeded) return part.Refusal;
            var uses = await (await PartUses.Of(db, part.Result.Id, cancellation)).Positions(db, cancellation);
            var variants = uses.Select(use => use.VariantId).Distinct().ToArray();
            var machines = 0;
            foreach (var some in variants.Chunk(CatalogLoaders.IdsPerQuery))
                machines += await db.Applications.CountAsync(row => some.Contains(row.VariantId), cancellation);
            return new Answer(uses.Count, variants.Length, machines);
        }
    }
}
