using FluentValidation;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Kits;

/// <summary>
/// Whether a kit covers a scope for variants, what it leaves uncovered, and what must not be in it: of the recipe in force, or of one that is
/// only being thought of.
/// </summary>
public static class CheckRecipe
{
    /// <param name="Lines">Null for the recipe in force.</param>
    /// <param name="Variants">Null for those the recipe in force is meant for.</param>
    /// <param name="Scope">Null for the one the recipe in force is meant for.</param>
    [AllowedToEveryone]
    public sealed record Query(string Kit, IReadOnlyList<DefineRecipe.Line>? Lines = null, IReadOnlyList<string>? Variants = null, JobScope? Scope = null)
        : IQuery<Answer>;

    /// <param name="Verdicts">One for each variant, in the order asked.</param>
    public sealed record Answer(string Kit, IReadOnlyList<RecipeVerdict> Verdicts);

    public sealed class Validator : AbstractValidator<Query>
    {
        public Validator()
        {
            RuleFor(q => q.Kit).Named("kit");
            RuleFor(q => q.Lines).Must(lines => lines is not { Count: 0 or > DefineRecipe.MostLines }).WithErrorCode("TOO_MANY_LINES")
                .WithMessage($"A recipe has 1 to {DefineRecipe.MostLines} lines.").WithState(_ => "Give what goes into the kit.");
            RuleForEach(q => q.Lines).ChildRules(line => line.RuleFor(l => l.Quantity).Positive());
            RuleFor(q => q.Variants).Must(variants => variants is not { Count: 0 or > DefineRecipe.MostVariants }).WithErrorCode("TOO_MANY_LINES")
                .WithMessage($"1 to {DefineRecipe.MostVariants} variants are checked at once.").WithState(_ => "Name fewer variants.");
        }
    }

    public sealed class Handler(RecipeDesk desk) : IQueryHandler<Query, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            var kit = await desk.Kit(query.Kit, cancellation);
            if (!kit.Succeeded) return kit.Refusal;
            var inForce = await desk.InForce(kit.Result.Part.Id, cancellation);
            if (inForce is null && query is not { Lines: not null, Variants: not null, Scope: not null }) return RecipeRefusals.NoRecipe(kit.Result.Part.Number);
            var pieces = await desk.Pieces(query.Lines
                ?? [.. inForce!.Lines.OrderBy(line => line.Line).Select(line => new DefineRecipe.Line(line.Part.Number, line.Quantity))], cancellation);
            if (!pieces.Succeeded) return pieces.Refusal;
            var within = await desk.Within(pieces.Result.Select(piece => piece.Part.Id), cancellation);
            if (await desk.WhyCircle(kit.Result.Part.Id, pieces.Result, within, cancellation) is { } circle) return circle;
            return (await desk.Verdicts(kit.Result, pieces.Result,
                query.Variants ?? [.. inForce!.Variants.Select(row => row.Variant.Code).Order(StringComparer.Ordinal)], query.Scope ?? inForce!.JobScope, cancellation))
                .Then<Answer>(verdicts => new Answer(kit.Result.Part.Number, verdicts));
        }
    }
}
