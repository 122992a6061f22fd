using FluentValidation;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Kits;

/// <summary>
/// The cheapest list that holds everything a job needs whichever of several variants the pump turns out to be: the other choice when it is
/// not settled which it is.
/// </summary>
public static class KitForAny
{
    [AllowedToEveryone]
    [Heavy]
    public sealed record Query(IReadOnlyList<string> Variants, JobScope Scope) : IQuery<CoveringKit>;

    public sealed class Validator : AbstractValidator<Query>
    {
        public Validator()
        {
            RuleFor(query => query.Variants.Count).LessThanOrEqualTo(CoveringKit.Most).WithErrorCode("TOO_MANY_VARIANTS")
                .WithMessage($"More than {CoveringKit.Most} variants are named.").WithState(_ => "Ask one more question first.");
        }
    }

    public sealed class Handler(KitCatalogueReader reader) : IQueryHandler<Query, CoveringKit>
    {
        public async Task<Outcome<CoveringKit>> Handle(Query query, CancellationToken cancellation)
        {
            var catalogues = new List<KitCatalogue>();
            foreach (var variant in query.Variants)
            {
                var catalogue = await reader.Read(variant, cancellation);
                if (!catalogue.Succeeded) return catalogue.Refusal;
                if (catalogues.Exists(other => other.Variant.Code == catalogue.Result.Variant.Code))
                    return new Refusal("SAME_VARIANT", $"Variant {variant} stands twice.", "Name each variant once.");
                catalogues.Add(catalogue.Result);
            }
            return CoveringKit.Find(catalogues, query.Scope, cancellation);
        }
    }
}
