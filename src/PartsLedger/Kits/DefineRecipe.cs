using FluentValidation;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Catalog;
using PartsLedger.Data.Kits;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Kits;

/// <summary>
/// The shop says how it puts a kit together. A new version leaves the earlier ones as they were; it is in force from then on, and what it
/// holds are the kit's contents in the catalogue, so that the kit answer, surplus and recall know it like any other kit.
/// </summary>
public static class DefineRecipe
{
    public const int MostLines = 200;
    public const int MostVariants = 50;

    /// <summary>Of one part in one kit.</summary>
    public const int MostPieces = 1_000;

    /// <param name="Kit">The number of a part of kind kit, tracked by lot.</param>
    /// <param name="Variants">Which it is meant for, 1 to <see cref="MostVariants"/>.</param>
    /// <param name="Scope">The scope of job it is meant for.</param>
    [Allowed(Role.Counter, Role.Warehouse)]
    public sealed record Command(
        string RequestId, string Kit, IReadOnlyList<Line> Lines, IReadOnlyList<string> Variants, JobScope Scope, string? Instructions = null,
        string? Why = null) : IAct<Answer>;

    public sealed record Line(string Part, Quantity Quantity);

    public sealed record Answer(string Kit, int Version, string Done, IReadOnlyList<RecipeVerdict> Verdicts);

    public sealed class Validator : AbstractValidator<Command>
    {
        public Validator()
        {
            RuleFor(c => c.Kit).Named("kit");
            RuleFor(c => c.Lines).NotEmpty().WithErrorCode("NOTHING_TO_DO").WithMessage("The recipe is empty.").WithState(_ => "Say what goes into the kit.")
                .Must(lines => lines is not { Count: > MostLines }).WithErrorCode("TOO_MANY_LINES").WithMessage($"A recipe has at most {MostLines} lines.")
                .WithState(_ => "Put some of it into a kit within.");
            RuleForEach(c => c.Lines).ChildRules(line =>
            {
                line.RuleFor(l => l.Part).Named("part number");
                line.RuleFor(l => l.Quantity).Positive()
                    .Must(quantity => quantity <= Quantity.FromWhole(MostPieces)).WithErrorCode("QUANTITY_TOO_LARGE")
                    .WithMessage(l => $"{l.Quantity} of {l.Part} do not go into one kit.").WithState(_ => $"Give what goes into one kit, at most {MostPieces}.");
            });
            RuleFor(c => c.Variants).NotEmpty().WithErrorCode("VARIANT_MISSING").WithMessage("It is not said which variants the kit serves.")
                .WithState(_ => "Name at least one.")
                .Must(variants => variants is not { Count: > MostVariants }).WithErrorCode("TOO_MANY_LINES")
                .WithMessage($"More than {MostVariants} variants are named.").WithState(_ => "Make a kit for each group of variants.");
            RuleForEach(c => c.Variants).Named("variant");
            RuleFor(c => c.Instructions).MaximumLength(2_000).WithErrorCode("TEXT_TOO_LONG")
                .WithMessage("The instructions are longer than 2000 characters.").WithState(_ => "Say it shorter: they go on one page into the bag.");
            RuleFor(c => c.Why).ShortText("reason");
        }
    }

    /// <param name="inForce">The version that would be replaced.</param>
    /// <param name="contentsChange">What the catalogue says is in the kit differs from the recipe.</param>
    /// <param name="onHand">Kits on the shelf, in whatever condition.</param>
    public static Refusal? Decide(
        Command act, HouseKit kit, IReadOnlyList<RecipePiece> pieces, IReadOnlyList<RecipeVerdict> verdicts, KitRecipeRow? inForce, bool contentsChange,
        Quantity onHand)
    {
        if (verdicts.SelectMany(verdict => verdict.Breaches).FirstOrDefault() is { } breach) return RecipeRefusals.Breach(breach);
        if (inForce is not null && !contentsChange && Same(act, pieces, verdicts, inForce)) return RecipeRefusals.NothingChanged(kit.Part.Number, inForce.Revision);
        return contentsChange && onHand > Quantity.Zero ? RecipeRefusals.OlderKitsOnHand(kit.Part.Number, onHand) : null;
    }

    private static bool Same(Command act, IReadOnlyList<RecipePiece> pieces, IReadOnlyList<RecipeVerdict> verdicts, KitRecipeRow inForce) =>
        inForce.JobScope == act.Scope && (inForce.Instructions ?? "") == (act.Instructions?.Trim() ?? "")
        && inForce.Variants.Select(row => row.Variant.Code).ToHashSet().SetEquals(verdicts.Select(verdict => verdict.Variant))
        && inForce.Lines.OrderBy(line => line.Line).Select(line => (line.PartId, line.Quantity)).SequenceEqual(pieces.Select(piece => (piece.Part.Id, piece.Quantity)));

    public sealed class Handler(LedgerContext db, RecipeDesk desk, Ledger ledger) : IActHandler<Command, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Command act, ActContext context, CancellationToken cancellation)
        {
            var found = await desk.Kit(act.Kit, cancellation);
            if (!found.Succeeded) return found.Refusal;
            var kit = found.Result;
            if (kit.Kind != PartKind.Kit) return RecipeRefusals.NotAKit(kit.Part.Number, Words.Of(kit.Kind));
            if (kit.Part.Tracking != Tracking.Lot) return RecipeRefusals.KitNeedsLots(kit.Part.Number);
            var pieces = await desk.Pieces(act.Lines, cancellation);
            if (!pieces.Succeeded) return pieces.Refusal;

            // The turn on everything within: two recipes that together would close a circle are not defined at the same time.
            var parts = pieces.Result.Select(piece => piece.Part.Id).ToList();
            var reach = await Reach(kit, parts, cancellation);
            var hand = await ledger.Begin(reach, context.Now, cancellation);
            if (!(await Reach(kit, parts, cancellation)).IsSubsetOf(reach)) throw new RaceLost();
            if (await desk.WhyCircle(kit.Part.Id, pieces.Result, await desk.Within(parts, cancellation), cancellation) is { } circle) return circle;

            var verdicts = await desk.Verdicts(kit, pieces.Result, act.Variants, act.Scope, cancellation);
            if (!verdicts.Succeeded) return verdicts.Refusal;
            var inForce = await desk.InForce(kit.Part.Id, cancellation);
            var contents = await db.PackContents.Where(row => row.PackId == kit.Part.Id).ToListAsync(cancellation);
            var changes = !contents.Select(row => (row.PartId, row.Quantity)).ToHashSet().SetEquals(pieces.Result.Select(piece => (piece.Part.Id, piece.Quantity)));
            if (Decide(act, kit, pieces.Result, verdicts.Result, inForce, changes, hand[kit.Part.Id].OnHand) is { } refusal) return refusal;

            var version = (inForce?.Revision ?? 0) + 1;
            await Write(act, kit, version, pieces.Result, verdicts.Result, context, cancellation);
            if (changes) PutIntoCatalogue(kit.Part.Id, pieces.Result, contents);
            var covers = verdicts.Result.Count(verdict => verdict.Covers);
            return new Answer(kit.Part.Number, version, FormattableString.Invariant(
                $"Version {version} of the recipe of {kit.Part.Number} is in force; it covers {Words.Of(act.Scope)} for {covers} of {verdicts.Result.Count} variants."),
                verdicts.Result);
        }

        private async Task<HashSet<int>> Reach(HouseKit kit, List<int> parts, CancellationToken cancellation) =>
            [.. parts, kit.Part.Id, .. (await desk.Within(parts, cancellation)).Select(arrow => arrow.Part)];

        private async Task Write(
            Command act, HouseKit kit, int version, IReadOnlyList<RecipePiece> pieces, IReadOnlyList<RecipeVerdict> verdicts, ActContext context,
            CancellationToken cancellation)
        {
            var recipe = new KitRecipeRow
            {
                KitId = kit.Part.Id, Revision = version, JobScope = act.Scope, Why = act.Why?.Trim(), At = context.Now, Who = context.Caller.Name,
                Instructions = string.IsNullOrWhiteSpace(act.Instructions) ? null : act.Instructions.Trim(), RequestId = act.RequestId,
            };
            recipe.Lines.AddRange(pieces.Select((piece, at) => new KitRecipeLineRow { Line = at + 1, PartId = piece.Part.Id, Quantity = piece.Quantity }));
            var codes = verdicts.Select(verdict => verdict.Variant).ToList();
            var variants = await db.Variants.AsNoTracking().Where(row => codes.Contains(row.Code)).OrderBy(row => row.CodeKey).Select(row => row.Id)
                .ToListAsync(cancellation);
            recipe.Variants.AddRange(variants.Select(id => new KitRecipeVariantRow { VariantId = id }));
            db.KitRecipes.Add(recipe);
        }

        private void PutIntoCatalogue(int kitId, IReadOnlyList<RecipePiece> pieces, List<PackContentRow> contents)
        {
            var before = contents.ToDictionary(row => row.PartId);
            foreach (var (part, quantity) in pieces)
                if (before.Remove(part.Id, out var row)) row.Quantity = quantity;
                else db.PackContents.Add(new PackContentRow { PackId = kitId, PartId = part.Id, Quantity = quantity });
            db.PackContents.RemoveRange(before.Values);
        }
    }
}
