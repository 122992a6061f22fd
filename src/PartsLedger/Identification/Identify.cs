using FluentValidation;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Identification;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Identification;

/// <summary>
/// Which variant is this: what is known of a pump (a number, the machine, its serial, when it was built, what was seen of it) leaves
/// candidates, and the question to ask next. Nothing is guessed: a candidate stays until something known rules it out.
/// </summary>
public static class Identify
{
    /// <summary>Candidates among which a question is still sought; more are too many to be helped by looking.</summary>
    public const int MostCandidates = 2_000;

    /// <param name="Machine">Free text, besides or instead of make, model, option and year.</param>
    /// <param name="Year">As written; a year of four digits.</param>
    /// <param name="Built">When the pump itself was built: <c>2004-05-17</c>, <c>2004-05</c> or <c>2004</c>.</param>
    /// <param name="Unknown">Features somebody cannot tell: not asked for again.</param>
    /// <param name="Scope">The job in question: candidates that need the same kit need not be told apart.</param>
    [AllowedToEveryone]
    public sealed record Query(
        string? Number = null, string? Make = null, string? Model = null, string? Option = null, string? Year = null, string? Machine = null,
        string? Serial = null, string? Built = null, IReadOnlyList<Observation>? Seen = null, IReadOnlyList<string>? Unknown = null,
        JobScope? Scope = null) : IQuery<Answer>;

    /// <param name="Candidates">Most often met first, then by code.</param>
    /// <param name="Next">The question to ask now; null when settled or when nothing recorded tells the rest apart.</param>
    /// <param name="SameKit">All that are left need the same kit; false where no job is in question.</param>
    public sealed record Shown(IReadOnlyList<CandidateShown> Candidates, QuestionShown? Next, bool Settled, bool SameKit);

    public sealed record CandidateShown(string Variant, string Family, string PressureClass, long Weight, string Why);

    /// <param name="ExpectedSeconds">The whole plan's, beginning with this question.</param>
    public sealed record QuestionShown(string Feature, string Question, IReadOnlyList<string> Values, double ExpectedSeconds);

    /// <param name="Plan">What the next question was chosen by.</param>
    /// <param name="Contradiction">Set when what is known leaves nothing: what to look at again.</param>
    /// <param name="Notes">Sentences for the person: how something was read, what does not fit, what to beware of.</param>
    public sealed record Answer(Shown Shown, QuestionPlan Plan, Contradiction? Contradiction, IReadOnlyList<string> Notes);

    /// <summary>Whether one list for all that are left is a choice: more than one is left, their kits differ, and they are few enough.</summary>
    public static bool MayBeCovered(Shown shown) => !shown.Settled && shown.Candidates.Count is >= CoveringKit.Fewest and <= CoveringKit.Most;

    public sealed class Validator : AbstractValidator<Query>
    {
        private const int MostSeen = 200;

        public Validator()
        {
            RuleFor(query => query.Seen!.Count + (query.Unknown == null ? 0 : query.Unknown.Count)).LessThanOrEqualTo(MostSeen).When(query => query.Seen is not null)
                .WithErrorCode("TOO_MUCH_SEEN").WithMessage($"More than {MostSeen} observations are given.").WithState(_ => "Give each feature once.");
            foreach (var (text, name) in new (System.Linq.Expressions.Expression<Func<Query, string?>>, string)[]
            {
                (query => query.Make, "make"), (query => query.Model, "model"), (query => query.Option, "option"), (query => query.Serial, "serial number"),
            })
                RuleFor(text).MaximumLength(Code.MaxLength).WithErrorCode("TOO_LONG").WithMessage($"A {name} has at most {Code.MaxLength} characters.")
                    .WithState(_ => "Type it as it stands on the plate.");
        }
    }

    public sealed class Handler(ClueReader clues, Pumps pumps, KitClasses kits) : IQueryHandler<Query, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            var guide = await pumps.Guide(cancellation);
            var seen = Known(query.Seen ?? [], guide);
            if (!seen.Succeeded) return seen.Refusal;
            var unknown = Known([.. (query.Unknown ?? []).Select(feature => new Observation(feature, ""))], guide);
            if (!unknown.Succeeded) return unknown.Refusal;
            var read = await clues.Read(query, cancellation);
            if (!read.Succeeded) return read.Refusal;

            var (known, universe) = read.Result;
            if (universe.Count > MostCandidates)
                return new Refusal("TOO_MANY_CANDIDATES", $"{universe.Count} variants come into question.", "Give a number, the machine or the serial first.");
            var left = Look(known, seen.Result, universe);
            var notes = known.Where(clue => clue.Note is not null).Select(clue => clue.Note!).ToList();
            if (left.Contradiction is { } contradiction) notes.Add(contradiction.Sentence);

            var remaining = universe.Where(pump => left.Left.Any(candidate => candidate.Variant == pump.Variant)).ToList();
            IReadOnlyDictionary<int, int> classes = new Dictionary<int, int>();
            if (query.Scope is { } scope)
            {
                var compared = await kits.Of(remaining, scope, cancellation);
                if (!compared.Succeeded) return compared.Refusal;
                classes = compared.Result;
                if (classes.Count < remaining.Count) notes.Add("So many different kits come into question that they are not compared; they will be once fewer variants are left.");
            }

            var plan = QuestionPlanning.Plan([.. remaining.Select(pump => pump.Candidate(classes.TryGetValue(pump.Id, out var kit) ? kit : null))], guide,
                [.. unknown.Result.Select(feature => feature.Feature)], cancellation);
            notes.AddRange(Warnings(remaining, plan));
            return new Answer(new Shown(
                [.. remaining.OrderByDescending(pump => pump.Weight).ThenBy(pump => pump.Variant, StringComparer.Ordinal)
                    .Select(pump => new CandidateShown(pump.Variant, pump.Family, pump.PressureClass, pump.Weight, Why(pump, known, seen.Result)))],
                plan.Next is { } next
                    ? new(next.Name, next.Question, [.. plan.Answers.Select(answer => answer.Value)], Math.Round(plan.ExpectedSeconds, 6)) : null,
                plan.Settled, plan.SameKit), plan, left.Contradiction, notes);
        }

        private static Outcome<List<Observation>> Known(IReadOnlyList<Observation> given, IReadOnlyList<Feature> guide)
        {
            var known = new List<Observation>();
            foreach (var (feature, value) in given)
            {
                if (guide.FirstOrDefault(entry => Code.KeyOf(entry.Name) == Code.KeyOf(feature)) is not { } found)
                    return Catalog.Unknown.Feature(feature, [.. guide.Select(entry => entry.Name)]);
                known.Add(new(found.Name, value));
            }
            return known;
        }
    }

    /// <summary>What everything known leaves. A clue counts like something seen, so that one that fits nothing is found out in the same way.</summary>
    private static Sighting Look(IReadOnlyList<Clue> clues, IReadOnlyList<Observation> seen, IReadOnlyList<Pump> universe)
    {
        // Should the guide have a feature of a clue's name, what is known by the clue takes its place.
        var names = clues.Select(clue => Code.KeyOf(clue.Name)).ToHashSet(StringComparer.Ordinal);
        var candidates = universe.Select(pump => new Candidate(pump.Variant, pump.Weight, null, pump.Values.Where(value => !names.Contains(Code.KeyOf(value.Key)))
            .Concat(clues.Select(clue => KeyValuePair.Create(clue.Name, (string?)(clue.Fits.ContainsKey(pump.Id) ? clue.Value : $"not {clue.Value}"))))));
        return Sighting.Of([.. candidates], [.. clues.Select(clue => new Observation(clue.Name, clue.Value)), .. seen]);
    }

    private static string Why(Pump pump, IReadOnlyList<Clue> clues, IReadOnlyList<Observation> seen)
    {
        var reasons = clues.Select(clue => clue.Fits[pump.Id]).ToList();
        var recorded = pump.Values.ToDictionary(value => Code.KeyOf(value.Key), value => value.Value, StringComparer.Ordinal);
        reasons.AddRange(seen.Select(one => recorded.ContainsKey(Code.KeyOf(one.Feature)) ? $"it has {one}" : $"its {one.Feature} is not recorded"));
        if (reasons.Count == 0) return "Nothing known rules it out.";
        var sentence = string.Join("; ", reasons);
        return $"{char.ToUpperInvariant(sentence[0])}{sentence[1..]}.";
    }

    private static IEnumerable<string> Warnings(IReadOnlyList<Pump> left, QuestionPlan plan)
    {
        var classes = left.Select(pump => pump.PressureClass).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal).ToList();
        if (plan.SameKit && classes.Count > 1)
            yield return $"They need the same kit but are of different pressure classes ({string.Join(", ", classes)}): leave shims and valve as they are, and settle the class before the pump is tested.";
        if (!plan.Settled && plan.Next is null && left.Count > 1)
            yield return "Nothing recorded tells these apart: measure or ask the maker's information, do not guess.";
        else if (!plan.Settled && !plan.AlwaysSettles && left.Count > 1)
            yield return "Some of these have nothing recorded that tells them apart.";
    }
}
