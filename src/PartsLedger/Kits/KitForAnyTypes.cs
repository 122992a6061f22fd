using System.ComponentModel;
using GraphQL;
using PartsLedger.Domain.Kits;

namespace PartsLedger.Kits;

[Name("CoveringKit")]
[Description("The cheapest list that holds everything the job needs whichever of the variants the pump turns out to be.")]
public sealed class CoveringKitView(CoveringKit kit)
{
    [Description("What to pull or to order.")]
    public IEnumerable<CoveringLineView> Lines => kit.Lines.Select(line => new CoveringLineView(line));

    [Description("The sum of the lines' cost, in the shop's currency.")]
    public decimal TotalCost => kit.TotalCost.ToDecimal();

    [Description("Pieces to order beyond what is available.")]
    public int PiecesShort => checked((int)kit.PiecesShort);

    [Description("What the list means for each of the variants, in the order asked for.")]
    public IEnumerable<CoveringOutcomeView> Outcomes => kit.Outcomes.Select(outcome => new CoveringOutcomeView(outcome));
}

[Name("CoveringLine")]
[Description("One thing on a list that serves any of several variants.")]
public sealed class CoveringLineView(CoveringLine line)
{
    [Description("The part number, or a matched pair's tag, as written.")]
    public string Part => line.Part;

    [Description("What it is called.")]
    public string Name => line.Name;

    [Description("What it is by nature.")]
    public string Kind => line.Kind;

    [Description("Whole pieces.")]
    public int Quantity => checked((int)line.Quantity);

    [Description("What one costs the shop, in the shop's currency.")]
    public decimal UnitCost => line.UnitCost.ToDecimal();

    [Description("What the line costs the shop, in the shop's currency.")]
    public decimal Cost => line.Cost.ToDecimal();

    [Description("Pieces on the shelf that may be used.")]
    public decimal Available => line.Available.ToDecimal();

    [Description("Pieces to order beyond what is available.")]
    public int Short => checked((int)line.Short);

    [Description("The variants for which some of it is used.")]
    public IReadOnlyList<string> Serves => line.Serves;
}

[Name("CoveringOutcome")]
[Description("What the list means if the pump turns out to be this variant.")]
public sealed class CoveringOutcomeView(CoveringOutcome outcome)
{
    [Description("The variant's code.")]
    public string Variant => outcome.Variant;

    [Description("The list covers everything this variant needs.")]
    public bool Complete => outcome.Complete;

    [Description("What its own kit alone would cost.")]
    public decimal OwnCost => outcome.OwnCost.ToDecimal();

    [Description("What the list costs beyond that: the price of not knowing.")]
    public decimal Carried => outcome.Carried.ToDecimal();

    [Description("Whole pieces that go back to stock unopened.")]
    public IEnumerable<KitSurplusView> Returns => outcome.Returns.Select(piece => new KitSurplusView(piece));

    [Description("What these are worth, in the shop's currency.")]
    public decimal Returned => outcome.Returned.ToDecimal();

    [Description("Pieces left over out of the packs that were opened.")]
    public IEnumerable<KitSurplusView> Loose => outcome.Loose.Select(piece => new KitSurplusView(piece));
}
