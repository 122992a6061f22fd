using System.Globalization;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Kits;

/// <summary>Positions found worn, as people write them: <c>4, 7</c>.</summary>
public static class WornPositions
{
    /// <returns>The numbers in the order written, none for an empty text; or <c>BAD_WORN</c>.</returns>
    public static Outcome<IReadOnlyList<int>> Read(string? text)
    {
        var numbers = new List<int>();
        if (string.IsNullOrWhiteSpace(text)) return numbers;
        foreach (var word in text.Split(','))
        {
            if (!int.TryParse(word.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out var number))
                return new Refusal("BAD_WORN", $"'{text}' is no list of position numbers.", "Write the numbers with commas between them: 4,7.");
            numbers.Add(number);
        }
        return numbers;
    }
}
