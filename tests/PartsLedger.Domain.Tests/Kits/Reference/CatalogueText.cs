using System.Text;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;

namespace PartsLedger.Domain.Tests.Kits.Reference;

/// <summary>A kit catalogue and its question, one fact a line, for the person who has to find out why two answers differ.</summary>
internal static class CatalogueText
{
    public static string Of(KitCatalogue catalogue, KitQuestion question)
    {
        var text = new StringBuilder();
        text.Append($"{Words.Of(question.Scope)}, worn {string.Join(',', question.Worn)}, ")
            .AppendLine($"family {Words.Of(catalogue.Variant.ValveFit)}");
        foreach (var position in catalogue.Variant.Positions)
            text.Append($"position {position.Number}: {position.Quantity} of {position.Part}, ")
                .AppendLine($"{Words.Of(position.Group)}, {Words.Of(position.Renew)}");
        foreach (var part in catalogue.Parts.Values)
            text.Append($"part {part.Number}: {Words.Of(part.Kind)}, {Words.Of(part.Service)}, class {part.PressureClass ?? "any"}, ")
                .AppendLine($"cost {part.Cost}, {part.Available} available{(part.Supplied ? "" : ", stock only")}");
        foreach (var content in catalogue.Contents) text.AppendLine($"pack {content.Pack} holds {content.Quantity} of {content.Part}");
        foreach (var step in catalogue.Supersessions)
            text.AppendLine($"old {step.Old} became {step.Quantity} of {step.New}, {Words.Of(step.Rule)}");
        foreach (var pair in catalogue.Pairs)
            text.Append($"pair {pair.Tag}: {pair.Housing} with {pair.Valve}, ")
                .AppendLine($"family {pair.Family}, class {pair.PressureClass}, cost {pair.Cost}");
        return text.ToString();
    }

    public static string Of(KitAnswer answer)
    {
        var text = new StringBuilder();
        foreach (var line in answer.Lines)
            text.Append($"line {line.Quantity} of {line.Part} ({line.Kind}), covers {string.Join(',', line.Covers)}, ")
                .AppendLine($"{line.Cost}, {line.Short} short: {line.Why}");
        foreach (var surplus in answer.Surplus) text.AppendLine($"surplus {surplus.Quantity} of {surplus.Part}");
        foreach (var uncovered in answer.Uncovered)
            text.AppendLine($"uncovered {uncovered.Quantity} of {uncovered.Part} at {uncovered.Position}: {uncovered.Why}");
        return text.ToString();
    }
}
