using PartsLedger.Domain.Catalog;

namespace PartsLedger.Domain.Tests.Kits.Reference;

// "Covers": the pieces of each item must flow from the lines that claim a position to that position, something along every claim.
internal sealed partial class KitAnswerChecker
{
    private void BreachesOfClaims(
        IReadOnlyList<CheckedLine> lines, Dictionary<(int Line, PartNumber Item), long> covering, List<string> breaches)
    {
        var met = new Dictionary<(int Position, PartNumber Item), long>(_wanted);
        foreach (var uncovered in _answer.Uncovered) met[(uncovered.Position, new(uncovered.Part))] -= uncovered.Quantity.Thousandths;

        // A line may claim one position for several items of a set; only where it is one item must that item's own flow honour the claim.
        var claims = new List<(int Line, int Position, PartNumber[] Items)>();
        for (var line = 0; line < lines.Count; line++)
            foreach (var position in lines[line].Line.Covers)
            {
                PartNumber[] items = [.. met.Where(entry => entry.Key.Position == position && entry.Value > 0)
                    .Select(entry => entry.Key.Item).Where(item => covering.GetValueOrDefault((line, item)) > 0)];
                claims.Add((line, position, items));
                if (items.Length == 0) breaches.Add($"line {lines[line].Line.Part} brings nothing for position {position}");
            }

        foreach (var item in met.Keys.Select(key => key.Item).Distinct())
        {
            var supply = Enumerable.Range(0, lines.Count).Select(line => covering.GetValueOrDefault((line, item))).ToArray();
            var positions = met.Where(entry => entry.Key.Item == item).ToDictionary(entry => entry.Key.Position, entry => entry.Value);
            bool flows(Func<(int, int, PartNumber[] Items), bool> isHonoured) => ClaimFlow.Exists(
                supply, positions, [.. claims.Where(claim => claim.Items.Contains(item))
                    .Select(claim => new ClaimFlow.Claim(claim.Line, claim.Position, isHonoured(claim)))]);
            if (!flows(_ => false)) breaches.Add($"the lines do not cover {item} as they claim");
            else if (!flows(claim => claim.Items.Length == 1)) breaches.Add($"too many lines claim to cover {item}");
        }
    }
}
