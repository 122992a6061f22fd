using System.Globalization;
using System.Text.RegularExpressions;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Domain.Measures;

/// <summary>
/// How a shop writes numbers: the sign before the decimals, and the one between thousands (none where it is empty). What people type is
/// read with a point or a comma, whatever the shop writes, as long as it can mean one number only.
/// </summary>
public sealed partial record NumberSigns(char Decimal, string Group)
{
    /// <summary>A space that no line breaks at.</summary>
    public const string Space = "\u00A0";

    public static NumberSigns Usual { get; } = new('.', "");

    /// <param name="format">As .NET takes it, without groups: <c>0.00##</c>.</param>
    public string Write(decimal number, string format) => number.ToString(Group.Length == 0 ? format : $"#,#{format}", new NumberFormatInfo
    {
        NumberDecimalSeparator = Decimal.ToString(), NumberGroupSeparator = Group, NegativeSign = "-",
    });

    /// <summary>
    /// The text with every number in it as programs write it: a point before the decimals and nothing between thousands. What is no number
    /// stays as it is, for whoever reads it to refuse.
    /// </summary>
    public Outcome<string> Plain(string text)
    {
        Refusal? twoWays = null;
        var plain = Numbers().Replace(text.Replace('−', '-'), found =>
        {
            var number = found.Value;
            if (CanMeanTwo(number))
                twoWays ??= new Refusal("NUMBER_TWO_WAYS", $"'{number}' can be read in two ways.",
                    $"Leave out the sign between thousands, or write one decimal more: {number.Replace(Group, "", StringComparison.Ordinal)}, or {number.Replace(Group, Decimal.ToString(), StringComparison.Ordinal)}0.");
            return One(number) ?? number;
        });
        return twoWays is null ? plain : twoWays;
    }

    /// <summary>One sign and three digits behind it, where that sign stands between this shop's thousands: 1,234.</summary>
    private bool CanMeanTwo(string number) => Group is "." or "," && number.Split(Group) is [{ Length: >= 1 and <= 3 } whole, { Length: 3 } rest]
        && whole[0] != '0' && (whole + rest).All(char.IsAsciiDigit);

    private static string? One(string number)
    {
        var (points, commas) = (number.Count(sign => sign == '.'), number.Count(sign => sign == ','));
        var last = number.LastIndexOfAny(['.', ',']);

        // The last sign stands before the decimals, unless its like stood before.
        var decimals = last >= 0 && (number[last] == '.' ? points : commas) == 1;
        var (whole, rest) = decimals ? (number[..last], number[last..].Replace(',', '.')) : (number, "");
        var groups = whole.Split([.. whole.Where(sign => !char.IsAsciiDigit(sign)).Distinct()]);
        var oneSign = whole.Where(sign => !char.IsAsciiDigit(sign)).Distinct().Count() <= 1;
        return groups.Length == 1 ? whole + rest : oneSign && groups[0].Length is >= 1 and <= 3 && groups.Skip(1).All(group => group.Length == 3) ? string.Concat(groups) + rest : null;
    }

    // Apostrophes and spaces that do not break are never anything but signs between thousands; a plain space is, before three digits and no fraction.
    [GeneratedRegex(@"(?:[\d.,'’\u00A0\u202F]|(?<=\d) (?=\d{3}(?!\d|\s*/)))*\d")]
    private static partial Regex Numbers();
}
