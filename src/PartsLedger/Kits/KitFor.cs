using FluentValidation;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Kits;

/// <summary>What kit a job needs: the question of the counter, for the command line, the API and the pages alike.</summary>
public static class KitFor
{
    /// <summary>Positions that may be named as worn in one question; more than any pump has.</summary>
    public const int MaxWorn = 1_000;

    [AllowedToEveryone]
    [Heavy]
    public sealed record Query(string Variant, JobScope Scope, IReadOnlyList<int> Worn, KitPreference Prefer) : IQuery<KitAnswer>;

    public sealed class Validator : AbstractValidator<Query>
    {
        public Validator()
        {
            RuleFor(query => query.Variant).NotEmpty().WithErrorCode("UNKNOWN_VARIANT").WithMessage("No variant is named.")
                .WithState(_ => "Name the variant by its code.");
            RuleFor(query => query.Variant).MaximumLength(Code.MaxLength).WithErrorCode("UNKNOWN_VARIANT")
                .WithMessage($"No variant has a code of more than {Code.MaxLength} characters.").WithState(_ => "Name the variant by its code.");
            RuleFor(query => query.Worn.Count).LessThanOrEqualTo(MaxWorn).WithErrorCode("TOO_MANY_POSITIONS")
                .WithMessage($"More than {MaxWorn} worn positions are named.").WithState(_ => "Name each worn position once.");
        }
    }

    public sealed class Handler(KitCatalogueReader reader) : IQueryHandler<Query, KitAnswer>
    {
        public async Task<Outcome<KitAnswer>> Handle(Query query, CancellationToken cancellation) =>
            (await reader.Read(query.Variant, cancellation)).Then(catalogue =>
                KitAnswering.Answer(catalogue, new KitQuestion(query.Variant, query.Scope, query.Worn, query.Prefer), cancellation));
    }
}
