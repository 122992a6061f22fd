using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;
using Xunit;

namespace PartsLedger.Domain.Tests.Kits.Reference;

/// <summary>A checker is worth what it refuses: one sound answer, worked out by hand, and the same spoilt in one place each.</summary>
public sealed class KitAnswerCheckerTests
{
    private static readonly KitQuestion Question = CatalogueDraft.Ask();

    [Fact]
    public void A_sound_answer_has_no_breaches()
    {
        Assert.Empty(KitAnswerChecker.Breaches(Draft().Finished(), Question, Sound()));
        Assert.Equal(ReferenceKitSolver.Best(Draft().Finished(), Question), KitObjective.Of(Sound()));
    }

    public static TheoryData<string, string> Spoilt => [.. Spoilings.Select(spoiling => (spoiling.Key, spoiling.Value.Breach))];

    [Theory]
    [MemberData(nameof(Spoilt))]
    public void A_spoilt_answer_is_refused(string spoiling, string breach) =>
        Assert.Contains(
            KitAnswerChecker.Breaches(Draft().Finished(), Question, Spoilings[spoiling].Spoil(Sound())), found => found.Contains(breach));

    public static TheoryData<string, string> Changed => [.. Changes.Select(change => (change.Key, change.Value.Breach))];

    [Theory]
    [MemberData(nameof(Changed))]
    public void An_answer_to_a_catalogue_that_forbids_it_is_refused(string change, string breach)
    {
        var draft = Draft();
        Changes[change].Change(draft);
        Assert.Contains(KitAnswerChecker.Breaches(draft.Finished(), Question, Sound()), found => found.Contains(breach));
    }

    [Fact]
    public void Two_lines_may_not_both_claim_a_position_that_needs_one_piece()
    {
        var catalogue = new CatalogueDraft().Part("S1").Part("S2", service: PartService.KitOnly).Part("S3", service: PartService.KitOnly)
            .Part("K1", 1, PartKind.Kit).Holds("K1", "S1").Holds("K1", "S2").Part("K2", 1, PartKind.Kit).Holds("K2", "S1").Holds("K2", "S3")
            .Needs("S1").Needs("S2").Needs("S3").Finished();
        KitAnswer answer(int[] first, int[] second) => Answer(
            catalogue, [Line(catalogue, "K1", 1, first), Line(catalogue, "K2", 1, second)], [("S1", 1)], []);
        Assert.Empty(KitAnswerChecker.Breaches(catalogue, Question, answer([1, 2], [3])));
        Assert.Empty(KitAnswerChecker.Breaches(catalogue, Question, answer([2], [1, 3])));
        Assert.Contains("too many lines claim to cover S1", KitAnswerChecker.Breaches(catalogue, Question, answer([1, 2], [1, 3])));
        Assert.Contains("the lines do not cover S1 as they claim", KitAnswerChecker.Breaches(catalogue, Question, answer([2], [3])));
    }

    [Fact]
    public void A_needed_pack_may_be_kept_whole_in_one_piece_and_opened_in_the_next()
    {
        var catalogue = new CatalogueDraft().Part("S1", service: PartService.KitOnly)
            .Part("K1", 1, PartKind.Kit, PartService.KitOnly).Holds("K1", "S1")
            .Part("A1", 1, PartKind.Assembly, available: 2).Holds("A1", "K1").Needs("K1").Needs("S1").Finished();
        Assert.Empty(KitAnswerChecker.Breaches(catalogue, Question, Answer(catalogue, [Line(catalogue, "A1", 2, 1, 2)], [], [])));
        Assert.NotEmpty(KitAnswerChecker.Breaches(catalogue, Question, Answer(catalogue, [Line(catalogue, "A1", 1, 1, 2)], [], [])));
    }

    private static Dictionary<string, (Func<KitAnswer, KitAnswer> Spoil, string Breach)> Spoilings => new()
    {
        ["other variant"] = (answer => answer with { Variant = "V-2" }, "another variant"),
        ["other preference"] = (answer => answer with { Prefer = KitPreference.Stock }, "another question"),
        ["said to be complete"] = (answer => answer with { Complete = true }, "contradict"),
        ["a need left out"] = (answer => answer with { Needs = [.. answer.Needs.Skip(1)] }, "not the renewed positions"),
        ["a need with another quantity"] = (
            answer => answer with { Needs = [.. answer.Needs.Select(need => need with { Quantity = Quantity.FromWhole(9) })] },
            "as the parts list"),
        ["no reason on a line"] = (answer => OnLine(answer, "K1", line => line with { Why = " " }), "does not say why"),
        ["no reason for a gap"] = (
            answer => answer with { Uncovered = [.. answer.Uncovered.Select(gap => gap with { Why = "" })] }, "does not say why"),
        ["a line twice"] = (answer => answer with { Lines = [answer.Lines[0], .. answer.Lines] }, "order of part numbers, each once"),
        ["lines out of order"] = (answer => answer with { Lines = [.. answer.Lines.Reverse()] }, "order of part numbers"),
        ["a price of its own"] = (answer => OnLine(answer, "S3", line => line with { UnitCost = Money.Zero, Cost = Money.Zero }),
            "another price"),
        ["a price not multiplied"] = (answer => OnLine(answer, "O1", line => line with { Cost = line.UnitCost }), "does not multiply"),
        ["a total that is off"] = (answer => answer with { TotalCost = answer.TotalCost + CatalogueDraft.Money(1) }, "total cost"),
        ["short miscounted"] = (answer => OnLine(answer, "S3", line => line with { Short = 0 }), "miscounts what is short"),
        ["short total off"] = (answer => answer with { PiecesShort = 0 }, "pieces short"),
        ["availability invented"] = (
            answer => OnLine(answer, "S3", line => line with { Available = Quantity.FromWhole(5), Short = 0 }),
            "misstates what is available"),
        ["an old number beyond its stock"] = (
            answer => OnLine(answer, "O1", line => line with { Quantity = 3, Cost = line.UnitCost * 3, Short = 1 }),
            "more than there can be"),
        ["a pair used twice"] = (
            answer => OnLine(answer, "MP-1", line => line with { Quantity = 2, Cost = line.UnitCost * 2, Short = 1 }), "more than once"),
        ["an unknown number"] = (answer => OnLine(answer, "S3", line => line with { Part = "S9" }), "neither a part nor a pair"),
        ["a part not to be had by itself"] = (
            answer => OnLine(answer, "S3", line => line with { Part = "S2", UnitCost = Money.Zero, Cost = Money.Zero }),
            "not to be had by itself"),
        ["a position that is not renewed"] = (answer => OnLine(answer, "K1", line => line with { Covers = [2, 3, 6] }), "not renewed"),
        ["positions out of order"] = (answer => OnLine(answer, "K1", line => line with { Covers = [3, 2] }), "positions in order"),
        ["a claim on nothing"] = (answer => OnLine(answer, "K1", line => line with { Covers = [2, 3, 4] }),
            "brings nothing for position 4"),
        ["a claim left out"] = (answer => OnLine(answer, "K1", line => line with { Covers = [2] }), "do not cover S2 as they claim"),
        ["a line without claims"] = (answer => OnLine(answer, "S3", line => line with { Covers = [] }), "covers nothing"),
        ["a line too few"] = (
            answer => answer with
            {
                Lines = [.. answer.Lines.SkipLast(1)], TotalCost = answer.TotalCost - CatalogueDraft.Money(4), PiecesShort = 0,
            },
            "1000 thousandths of S3 are uncovered, not 0"),
        ["surplus hidden"] = (
            answer => answer with { Surplus = [.. answer.Surplus.SkipLast(1)], SurplusPieces = Quantity.FromWhole(2) },
            "the surplus of X1"),
        ["surplus out of order"] = (answer => answer with { Surplus = [.. answer.Surplus.Reverse()] }, "surplus is not in order"),
        ["surplus total off"] = (answer => answer with { SurplusPieces = Quantity.Zero }, "surplus pieces are not"),
        ["a gap hidden"] = (answer => answer with { Uncovered = [], Complete = true }, "of R1 are uncovered, not 0"),
        ["a gap invented"] = (
            answer => answer with { Uncovered = [new(2, "S1", Quantity.FromWhole(1), "because"), .. answer.Uncovered] },
            "of S1 are uncovered, not 1000"),
        ["a gap elsewhere"] = (
            answer => answer with { Uncovered = [new(1, "R1", Quantity.FromWhole(1), "because")] }, "uncovered that is not needed there"),
    };

    private static Dictionary<string, (Action<CatalogueDraft> Change, string Breach)> Changes => new()
    {
        ["the kit holds another class"] = (draft => draft.Part("X2", pressureClass: "B").Holds("K1", "X2"),
            "line K1 brings the wrong pressure class"),
        ["what replaced the old number is of another class"] = (draft => SetPart(draft, "S3", part => part with { PressureClass = "B" }),
            "line O1 brings the wrong pressure class"),
        ["the kit is stock only"] = (draft => SetPart(draft, "K1", part => part with { Supplied = false, Available = Quantity.Zero }),
            "more than there can be"),
        ["the kit is no kit"] = (draft => SetPart(draft, "K1", part => part with { Kind = PartKind.Hardware }), "not named as the part is"),
        ["a kit-only part comes in assemblies only"] = (
            draft => SetPart(draft, "S2", part => part with { Service = PartService.AssemblyOnly }),
            "2000 thousandths of S2 are uncovered, not 0"),
        ["the loose part comes in kits only"] = (draft => SetPart(draft, "S3", part => part with { Service = PartService.KitOnly }),
            "not to be had by itself"),
        ["the pair is of another family"] = (draft => draft.Pairs[0] = draft.Pairs[0] with { Family = "F2" }, "another family or class"),
        ["the pair has another housing"] = (
            draft => draft.Part("H2", kind: PartKind.Housing).Pairs[0] = draft.Pairs[0] with { Housing = new("H2") },
            "of V1 are uncovered, not 0"),
        ["the old number is replaced"] = (
            draft => draft.Supersessions[0] = draft.Supersessions[0] with { Rule = SupersessionRule.Replace },
            "replaced and no longer counts"),
        ["the old number counts double"] = (
            draft => draft.Supersessions[0] = draft.Supersessions[0] with { Quantity = Quantity.FromWhole(2) },
            "of S3 are uncovered, not 0"),
    };

    private static CatalogueDraft Draft() => new CatalogueDraft().Selective()
        .Part("H1", 60, PartKind.Housing).Part("V1", 50, PartKind.Valve, PartService.AssemblyOnly).Pair("MP-1", "H1", "V1", 70)
        .Part("S1", 5).Part("S2", service: PartService.KitOnly).Part("X1", service: PartService.None)
        .Part("K1", 6, PartKind.Kit, available: 1).Holds("K1", "S1", 2).Holds("K1", "S2", 2).Holds("K1", "X1", 0.5m)
        .Part("O1", 1, service: PartService.None, available: 2.5m).Part("S3", 4).Follows("O1", "S3", SupersessionRule.UseUp)
        .Part("R1", service: PartService.None)
        .Needs("V1").Needs("S1").Needs("S2", 2).Needs("O1", 3).Needs("R1").Needs("H1", renew: RenewRule.IfWorn);

    private static KitAnswer Sound()
    {
        var catalogue = Draft().Finished();
        return Answer(
            catalogue,
            [
                Line(catalogue, "K1", 1, 2, 3),
                new(
                    "MP-1", "matched pair", "pair", 1, [1], CatalogueDraft.Money(70), CatalogueDraft.Money(70), Quantity.FromWhole(1), 0,
                    "because"),
                Line(catalogue, "O1", 2, 4), Line(catalogue, "S3", 1, 4),
            ],
            [("H1", 1), ("S1", 1), ("X1", 0.5m)], [new(5, "R1", Quantity.FromWhole(1), "because")]);
    }

    private static KitLine Line(KitCatalogue catalogue, string number, long quantity, params int[] covers)
    {
        var part = catalogue.Parts[new(number)];
        return new(number, part.Name, Words.Of(part.Kind), quantity, covers, part.Cost, part.Cost * quantity, part.Available,
            Math.Max(0, quantity - part.Available.WholeFloor), "because");
    }

    private static KitAnswer Answer(
        KitCatalogue catalogue, KitLine[] lines, (string Part, decimal Quantity)[] surplus, KitUncovered[] uncovered) => new(
        CatalogueDraft.Variant, CatalogueDraft.Family, CatalogueDraft.Class, Question.Scope, Question.Prefer, uncovered.Length == 0,
        [.. catalogue.Variant.Positions.Where(position => position.Renew == RenewRule.Always)
            .Select(position => new KitNeed(position.Number, position.Name, position.Part.Text, position.Quantity, "because"))],
        lines, [.. surplus.Select(entry => new KitSurplus(entry.Part, CatalogueDraft.Pieces(entry.Quantity)))], uncovered,
        lines.Aggregate(Money.Zero, (sum, line) => sum + line.Cost), lines.Sum(line => line.Short),
        CatalogueDraft.Pieces(surplus.Sum(entry => entry.Quantity)), [], [], []);

    private static KitAnswer OnLine(KitAnswer answer, string part, Func<KitLine, KitLine> change) =>
        answer with { Lines = [.. answer.Lines.Select(line => line.Part == part ? change(line) : line)] };

    private static void SetPart(CatalogueDraft draft, string number, Func<KitPart, KitPart> change) =>
        draft.Parts[new(number)] = change(draft.Parts[new(number)]);
}
