using System.Diagnostics;
using CsCheck;
using PartsLedger.Domain.Identification;

namespace PartsLedger.Domain.Tests.Identification;

public sealed class MachineTextTests
{
    private const int ThisYear = 2026;

    private static readonly MachineApplication[] Boats =
    [
        new("Haldrin", "Skerry 19", "single engine", 1999, 2009),
        new("Haldrin", "Skerry 19", "single engine", 2010, 2014),
        new("Haldrin", "Skerry 24", "twin engines, port", 2001, null),
        new("Haldrin", "Sound 32", null, null, 2010),
        new("Haldrin", "Sound", null, null, null),
        new("Orrenmark", "2000-X", "bow thruster", 1988, 1991),
    ];

    [Theory]
    [InlineData("haldrin skerry 19 2004", "Skerry 19 1999 to 2009", "built 1999 to 2009")]
    [InlineData("2012 Skerry-19", "Skerry 19 2010 to 2014", "built 2010 to 2014")]
    [InlineData("skery 24 port", "Skerry 24 since 2001", "SKERY read as SKERRY")]
    [InlineData("sekrry 24", "Skerry 24 since 2001", "SEKRRY read as SKERRY")]
    [InlineData("skerry24", "Skerry 24 since 2001", "as written")]
    [InlineData("sker ry 24", "Skerry 24 since 2001", "as written")]
    [InlineData("skerry 24 2026", "Skerry 24 since 2001", "built since 2001")]
    [InlineData("sound 32 1950", "Sound 32 until 2010", "built until 2010")]
    [InlineData("haldrin sound", "Sound ", "as written")]
    [InlineData("sound 1999", "Sound 32 until 2010", "built until 2010")]
    [InlineData("orrenmark 2000 x", "2000-X 1988 to 1991", "as written")]
    [InlineData("orrenmark 1990", "2000-X 1988 to 1991", "built 1988 to 1991")]
    [InlineData("skerry 24 2000", "Skerry 24 since 2001", "built since 2001, one year beside")]
    [InlineData("skerry 24 red", "Skerry 24 since 2001", "nothing for RED")]
    [InlineData("skerry 19 2015 2016", "Skerry 19 2010 to 2014", "built 2010 to 2014, one year beside")]
    public void The_best_answer_says_why(string text, string model, string why)
    {
        var best = Search(text)[0];
        Assert.Equal(model, $"{best.Application.Model} {best.Application.Years}");
        Assert.Equal(why, best.Why);
    }

    [Theory]
    [InlineData("skerry 24 1994")]
    [InlineData("orrenmark 2005")]
    [InlineData("skarri")]
    [InlineData("ske")]
    [InlineData("skerry 24 1990 1995")]
    public void Nothing_is_guessed_where_nothing_fits(string text) =>
        Assert.DoesNotContain(Search(text), match => match.Penalty < 100);

    [Fact]
    public void A_forgiving_answer_never_passes_for_exact()
    {
        Assert.True(Search("haldrin skerry 19 2004")[0].IsExact);
        Assert.False(Search("haldrin skery 19 2004")[0].IsExact);
        Assert.False(Search("haldrin skerry 19 2015")[0].IsExact);
        Assert.False(Search("haldrin skerry 19 green")[0].IsExact);
        Assert.False(Search("sound 2020")[0].IsExact);
    }

    [Theory]
    [InlineData("sk", true, 3)]
    [InlineData("sk", false, 0)]
    [InlineData("sk ", true, 0)]
    [InlineData("skrer", true, 3)]
    [InlineData("haldrin s", true, 5)]
    [InlineData("sound 3", true, 1)]
    public void The_last_word_may_be_a_beginning_while_it_is_typed(string text, bool isTyping, int hits) =>
        Assert.Equal(hits, Search(text, isTyping).Count(match => match.Penalty < 100));

    [Fact]
    public void Numbers_are_other_models_and_never_slips()
    {
        Assert.Equal(MachineWordFit.None, MachineWord.Compare("2000", "3000", false));
        Assert.Equal(MachineWordFit.Slip, MachineWord.Compare("X2000", "X3000", false));
        Assert.Equal(MachineWordFit.None, MachineWord.Compare("TER", "TERN", false));
    }

    [Theory]
    [InlineData("1900", true)]
    [InlineData(" 2028 ", true)]
    [InlineData("1899", false)]
    [InlineData("2029", false)]
    [InlineData("19", false)]
    [InlineData("20255", false)]
    [InlineData("-2004", false)]
    [InlineData("+204", false)]
    [InlineData("2O04", false)]
    [InlineData("\u0662\u0660\u0660\u0664", false)]
    [InlineData("", false)]
    [InlineData(null, false)]
    public void A_year_is_four_digits_from_1900_to_two_years_ahead(string? text, bool isYear)
    {
        var year = MachineYear.Read(text, ThisYear);
        Assert.Equal(isYear, year.Succeeded);
        if (!isYear) Assert.Equal(("NO_SUCH_YEAR", "A year has four digits, from 1900 to 2028."), (year.Refusal!.Code, year.Refusal.WhatToDo));
    }

    [Fact]
    public void A_number_that_may_have_been_meant_as_a_year_is_mentioned()
    {
        Assert.Equal(["20255 is taken as part of a name. A year has four digits, from 1900 to 2028."], Read("skerry 20255").Doubts);
        Assert.Equal(["19 is taken as part of a name. A year has four digits, from 1900 to 2028."], Read("skerry 19 2004").Doubts);
        Assert.Equal([2004], Read("skerry 19 2004").Years);
        Assert.Empty(Read("skerry 2004").Doubts);
    }

    [Theory]
    [InlineData(null, "MACHINE_EMPTY")]
    [InlineData("", "MACHINE_EMPTY")]
    [InlineData(" -./%_'; ", "MACHINE_EMPTY")]
    [InlineData("\0\u0007\u202e", "MACHINE_EMPTY")]
    public void What_is_no_word_is_refused(string? text, string code) => Assert.Equal(code, MachineText.Read(text, ThisYear).Refusal?.Code);

    [Fact]
    public void Long_and_odd_text_is_answered_quickly()
    {
        var watch = Stopwatch.StartNew();
        Assert.Equal("MACHINE_TOO_LONG", MachineText.Read(new string('x', 5_000), ThisYear).Refusal?.Code);
        Assert.Empty(Search(new string('x', 200)));
        Assert.Empty(Search("\u05d0\u05d1\u05d2 \u0623\u0628\u062a"));
        Assert.Empty(Search("% _ a"));
        Assert.Empty(Search(string.Join(' ', Enumerable.Repeat("q", 100))));
        Assert.InRange(watch.ElapsedMilliseconds, 0, 1_000);
    }

    [Fact]
    public void Every_slip_in_a_word_is_forgiven_and_found_among_the_near_words() =>
        Gen.Select(Gen.String[Gen.Char['A', 'Z'], 5, 18], Gen.Int[0, 99], Gen.Char['A', 'Z'], Gen.Int[0, 3]).Sample((known, place, with, kind) =>
        {
            var at = place % known.Length;
            var typed = kind switch
            {
                0 => known.Remove(at, 1),
                1 => known.Insert(at, with.ToString()),
                2 when at > 0 => $"{known[..(at - 1)]}{known[at]}{known[at - 1]}{known[(at + 1)..]}",
                _ => $"{known[..at]}{with}{known[(at + 1)..]}",
            };
            Assert.Equal(typed == known ? MachineWordFit.Exact : MachineWordFit.Slip, MachineWord.Compare(typed, known, false));
            var near = MachineWord.Near(typed);
            Assert.Contains(known, near);
            Assert.InRange(near.Count, 1, 1_499);
        }, iter: 500);

    [Fact]
    public void The_order_does_not_depend_on_the_order_of_the_list()
    {
        var text = Read("haldrin s 19");
        var forward = Boats.Select(text.Match).OfType<MachineMatch>().Order().Select(match => match.Application);
        var backward = Boats.Reverse().Select(text.Match).OfType<MachineMatch>().Order().Select(match => match.Application);
        Assert.Equal(forward, backward);
    }

    private static MachineText Read(string text, bool isTyping = false) => MachineText.Read(text, ThisYear, isTyping).Result;

    private static List<MachineMatch> Search(string text, bool isTyping = false)
    {
        var machine = Read(text, isTyping);
        return [.. Boats.Select(machine.Match).OfType<MachineMatch>().Order()];
    }

    [Fact]
    public void An_application_is_indexed_under_its_words_and_its_neighbours_written_together()
    {
        Assert.Equal(["19", "19SINGLE", "ENGINE", "HALDRIN", "HALDRINSKERRY", "SINGLE", "SINGLEENGINE", "SKERRY", "SKERRY19"],
            MachineWord.Indexed("Haldrin", "Skerry-19", "single engine"));
        Assert.Equal(["A", "AA"], MachineWord.Indexed("a", "A", ""));
        Assert.Empty(MachineWord.Indexed("-", "/", null));
    }
}
