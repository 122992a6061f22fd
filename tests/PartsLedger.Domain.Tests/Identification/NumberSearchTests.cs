using System.Diagnostics;
using CsCheck;
using PartsLedger.Domain.Identification;

namespace PartsLedger.Domain.Tests.Identification;

/// <summary>A database finds candidates by equality of folded keys; the judgement ranks them. CsCheck prints the seed of a failure.</summary>
public sealed class NumberSearchTests
{
    private const string Characters = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ";
    private static readonly string[] LookAlike = ["O0", "I1", "S5", "B8", "Z2"];

    [Theory]
    [InlineData("20-1104", "201104", NumberMatchKind.Exact, "exactly as written")]
    [InlineData("20 1104.a", "201104A", NumberMatchKind.Exact, "exactly as written")]
    [InlineData("20-1104", "0201104", NumberMatchKind.LeadingZeros, "without its leading zeros")]
    [InlineData("00020-1104", "201104", NumberMatchKind.LeadingZeros, "without the leading zeros typed")]
    [InlineData("2O-11O4", "201104", NumberMatchKind.LookAlike, "letter O read as zero")]
    [InlineData("201104", "2O1IO4", NumberMatchKind.LookAlike, "zero read as letter O, one read as letter I")]
    [InlineData("SB-2", "58Z", NumberMatchKind.LookAlike, "letter S read as five, letter B read as eight, two read as letter Z")]
    [InlineData("OO2O1104", "201104", NumberMatchKind.LookAlike, "letter O read as zero, without the leading zeros typed")]
    [InlineData("1234", "OO1234", NumberMatchKind.LookAlike, "letter O read as zero, without its leading zeros")]
    [InlineData("1234", "1234A", NumberMatchKind.SuffixLetter, "with the letter A at the end")]
    [InlineData("1234A", "1234", NumberMatchKind.SuffixLetter, "without the letter A at the end")]
    [InlineData("1234", "A1234", NumberMatchKind.PrefixLetter, "with the letter A in front")]
    [InlineData("AA12", "A12", NumberMatchKind.PrefixLetter, "without the letter A in front")]
    [InlineData("X0012", "12", NumberMatchKind.PrefixLetter, "without the letter X in front, without the leading zeros typed")]
    [InlineData("2110", "1210", NumberMatchKind.Swapped, "2 and 1 swapped at place 1")]
    [InlineData("20114", "201104", NumberMatchKind.MissingCharacter, "0 missing at place 5")]
    [InlineData("2011504", "201104", NumberMatchKind.ExtraCharacter, "5 too many at place 5")]
    [InlineData("201704", "201104", NumberMatchKind.ChangedCharacter, "7 in place of 1 at place 4")]
    [InlineData("2O114", "0201104", NumberMatchKind.MissingCharacter, "0 missing at place 5, letter O read as zero, without its leading zeros")]
    [InlineData("201104", "207703", NumberMatchKind.None, "another number")]
    [InlineData("12", "123", NumberMatchKind.None, "another number")]
    [InlineData("12", "012", NumberMatchKind.LeadingZeros, "without its leading zeros")]
    [InlineData("1", "1", NumberMatchKind.Exact, "exactly as written")]
    [InlineData("000", "0", NumberMatchKind.LeadingZeros, "without the leading zeros typed")]
    public void A_hit_says_why_it_matched(string typed, string stored, NumberMatchKind kind, string why)
    {
        var match = NumberMatch.Judge(Read(typed), stored);
        Assert.Equal(kind, match.Kind);
        Assert.Equal(why, match.Why);
        Assert.Equal(kind != NumberMatchKind.None, Found(Read(typed), stored));
        Assert.Equal(kind == NumberMatchKind.Exact, match.Rank == 0);
    }

    [Fact]
    public void Fewer_kinds_of_difference_rank_first_and_ties_go_by_number()
    {
        string[] bestFirst =
        [
            "0123450", "00123450", "O123450", "0123450K", "X0123450", "1023450", "01234750", "012345", "0123457",
            "0OI23450", "O123450K", "OO1023450", "QQQ",
        ];
        var query = Read("0123450");
        var ranked = bestFirst.Reverse().Select(stored => NumberMatch.Judge(query, stored)).Order().ToList();
        Assert.Equal(bestFirst, ranked.Select(match => match.Stored));
        Assert.True(NumberMatch.Judge(query, "0123451") < NumberMatch.Judge(query, "0123457"));
    }

    [Fact]
    public void Every_number_one_slip_away_is_found_and_none_passes_for_exact() =>
        Gen.Select(Number(4, NumberQuery.MaxChangedLength - 1), Gen.Int[0, 3], Gen.Int[0, 99], Gen.Int[0, 35]).Sample((stored, slip, place, with) =>
        {
            var typed = Slip(stored, slip, place, Characters[with]);
            var query = Read(typed);
            var match = NumberMatch.Judge(query, stored);
            Assert.True(Found(query, stored), $"{typed} does not find {stored}");
            Assert.True(match.IsMatch, $"{typed} is not seen to answer {stored}");
            Assert.Equal(typed == stored, match.IsExact);
        }, iter: 1_000);

    [Fact]
    public void So_is_one_with_look_alikes_and_more_leading_zeros_besides() =>
        Gen.Select(Number(4, 18), Gen.Int[0, 3], Gen.Int[0, 99], Gen.Int[0, 35], Gen.Bool.Array[18], Gen.Int[0, 3]).Sample(
            (stored, slip, place, with, swaps, zeros) =>
            {
                var typed = Slip(stored, slip, place, Characters[with]);
                // More zeros only: a number that lost its first character and then the zero behind it is two slips away.
                typed = new string('0', zeros) + string.Concat(typed.Select((character, at) => at < swaps.Length && swaps[at] ? Other(character) : character));
                var query = Read(typed);
                Assert.True(Found(query, stored), $"{typed} does not find {stored}");
                Assert.True(NumberMatch.Judge(query, stored).IsMatch, $"{typed} is not seen to answer {stored}");
                Assert.Equal(typed == stored, NumberMatch.Judge(query, stored).IsExact);
            }, iter: 1_000);

    [Fact]
    public void What_the_keys_find_the_judgement_recognises() =>
        Gen.Select(Number(1, 8), Gen.Int[0, 100_000], Gen.Int[0, 2]).Sample((typed, pick, zeros) =>
        {
            var query = Read(typed);
            var keys = query.NearKeys();
            var stored = new string('0', zeros) + keys[pick % keys.Count];
            Assert.True(NumberMatch.Judge(query, stored).IsMatch, $"{typed} finds {stored} but does not answer it");
        }, iter: 3_000);

    [Fact]
    public void Leading_zeros_never_matter_to_being_found_and_always_to_being_exact() =>
        Gen.Select(Number(1, 12), Gen.Int[1, 6]).Sample((number, zeros) =>
        {
            var padded = new string('0', zeros) + number;
            foreach (var (typed, stored) in new[] { (number, padded), (padded, number) })
            {
                Assert.True(Found(Read(typed), stored));
                Assert.Equal(NumberMatchKind.LeadingZeros, NumberMatch.Judge(Read(typed), stored).Kind);
            }
        }, iter: 1_000);

    [Fact]
    public void Look_alikes_are_found_both_ways() =>
        Gen.Select(Number(1, 12), Gen.Bool.Array[12]).Sample((number, swaps) =>
        {
            var typed = string.Concat(number.Select((character, at) => swaps[at] ? Other(character) : character));
            var match = NumberMatch.Judge(Read(typed), number);
            Assert.True(Found(Read(typed), number));
            Assert.True(typed == number ? match.IsExact : match.Kind is NumberMatchKind.LookAlike or NumberMatchKind.Swapped or NumberMatchKind.ChangedCharacter);
        }, iter: 1_000);

    [Fact]
    public void Keys_stay_few_at_every_length()
    {
        for (var length = 1; length <= NumberQuery.MaxLength; length++)
        {
            // Digits and letters that differ from their neighbours give the most keys.
            var keys = Read(string.Concat(Enumerable.Range(0, length).Select(at => Characters[1 + (at * 7 % 30)]))).NearKeys();
            Assert.InRange(keys.Count, 1, NumberQuery.MaxKeys - 1);
            Assert.Equal(keys.Order(StringComparer.Ordinal).Distinct(), keys);
            Assert.Equal(length < NumberQuery.MinForgivingLength, keys.Count == 1);
        }
    }

    [Fact]
    public void Long_numbers_are_found_by_all_slips_but_a_changed_character() =>
        Gen.Select(Number(26, 38), Gen.Int[0, 2], Gen.Int[0, 99], Gen.Int[0, 35]).Sample((stored, slip, place, with) =>
            Assert.True(Found(Read(Slip(stored, slip, place, Characters[with])), stored)), iter: 200);

    [Theory]
    [InlineData(null, "NUMBER_EMPTY")]
    [InlineData("", "NUMBER_EMPTY")]
    [InlineData("   ", "NUMBER_EMPTY")]
    [InlineData("-./\\ -", "NUMBER_EMPTY")]
    [InlineData("%", "NUMBER_EMPTY")]
    [InlineData("_%_", "NUMBER_EMPTY")]
    [InlineData("'; --", "NUMBER_EMPTY")]
    [InlineData("\0\u0001\u001b", "NUMBER_EMPTY")]
    [InlineData("\u202e\u200f", "NUMBER_EMPTY")]
    [InlineData("12345678901234567890123456789012345678901", "NUMBER_TOO_LONG")]
    public void What_is_no_number_is_refused(string? text, string code) => Assert.Equal(code, NumberQuery.Read(text).Refusal?.Code);

    [Fact]
    public void Five_thousand_characters_and_five_million_are_refused_at_once()
    {
        var watch = Stopwatch.StartNew();
        Assert.Equal("NUMBER_TOO_LONG", NumberQuery.Read(new string('7', 5_000)).Refusal?.Code);
        Assert.Equal("NUMBER_TOO_LONG", NumberQuery.Read(new string('7', 5_000_000)).Refusal?.Code);
        Assert.InRange(watch.ElapsedMilliseconds, 0, 1_000);
    }

    [Theory]
    [InlineData("A", "A")]
    [InlineData("1%", "1%")]
    [InlineData("1_3", "1_3")]
    [InlineData("' OR 1=1 --", "'OR1=1")]
    [InlineData("\u05d0\u05d1\u05d2 12", "\u05d0\u05d1\u05d212")]
    [InlineData("\u202e20-1104\u202c", "201104")]
    [InlineData("20\u000011\u000704", "201104")]
    [InlineData("\ud800123", "\ud800123")]
    public void Odd_text_is_searched_for_as_it_stands_and_means_nothing_else(string text, string canonical)
    {
        var query = Read(text);
        Assert.Equal(canonical, query.Canonical);
        Assert.Contains(query.FoldedKey, query.NearKeys());
        Assert.False(NumberMatch.Judge(query, "9999999").IsMatch);
    }

    private static NumberQuery Read(string text) => NumberQuery.Read(text).Result;

    private static bool Found(NumberQuery query, string stored) => query.NearKeys().Contains(NumberQuery.FoldedKeyOf(stored));

    private static Gen<string> Number(int shortest, int longest) => Gen.String[Gen.Char[Characters], shortest, longest];

    private static char Other(char character) =>
        LookAlike.FirstOrDefault(pair => pair.Contains(character)) is { } pair ? pair[pair[0] == character ? 1 : 0] : character;

    private static string Slip(string text, int kind, int place, char with)
    {
        var at = place % text.Length;
        return kind switch
        {
            0 => text.Remove(at, 1),
            1 => text.Insert(place % (text.Length + 1), with.ToString()),
            2 when at + 1 < text.Length => $"{text[..at]}{text[at + 1]}{text[at]}{text[(at + 2)..]}",
            2 => text,
            _ => $"{text[..at]}{with}{text[(at + 1)..]}",
        };
    }
}
