using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Identification;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Identification;

/// <summary>Two to six variants side by side: what differs in family, class, positions, features and machines, or everything.</summary>
public static class SetSideBySide
{
    [AllowedToEveryone]
    public sealed record Query(IReadOnlyList<string> Variants, bool OnlyDifferences = true) : IQuery<VariantComparison>;

    public sealed class Validator : AbstractValidator<Query>
    {
        public Validator()
        {
            // More are refused by the comparison itself; this only keeps a long list from being read first.
            RuleFor(query => query.Variants.Count).LessThanOrEqualTo(CompareVariants.Most).WithErrorCode("TOO_MANY_VARIANTS")
                .WithMessage($"At most {CompareVariants.Most} variants fit side by side.").WithState(_ => "Leave some out.");
        }
    }

    public sealed class Handler(LedgerContext db) : IQueryHandler<Query, VariantComparison>
    {
        public async Task<Outcome<VariantComparison>> Handle(Query query, CancellationToken cancellation)
        {
            var variants = new List<ComparedVariant>();
            foreach (var code in query.Variants)
            {
                var key = Code.KeyOf(code);
                var row = await db.Variants.AsNoTracking().Include(variant => variant.Family).Include(variant => variant.PressureClass)
                    .SingleOrDefaultAsync(variant => variant.CodeKey == key, cancellation);
                if (row is null) return Catalog.Unknown.Variant(code, await db.Variants.Select(variant => variant.Code).ToListAsync(cancellation));
                var positions = await db.Positions.Where(position => position.VariantId == row.Id)
                    .Select(position => new { position.Position, position.Name, position.Part.Number, position.Quantity }).ToListAsync(cancellation);
                var features = await db.VariantFeatures.Where(feature => feature.VariantId == row.Id)
                    .Select(feature => new Observation(feature.Feature.Code, feature.Value)).ToListAsync(cancellation);
                var machines = await db.Applications.AsNoTracking().Where(machine => machine.VariantId == row.Id).ToListAsync(cancellation);
                variants.Add(new ComparedVariant(row.Code, row.Family.Code, row.PressureClass.Code,
                    [.. positions.Select(position => new ComparedPosition(position.Position, position.Name, new PartNumber(position.Number), position.Quantity))],
                    features, [.. machines.Select(MachineHits.Application)]));
            }
            return CompareVariants.Compare(variants, query.OnlyDifferences);
        }
    }
}
