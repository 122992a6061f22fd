using PartsLedger.Domain.Fit.Measuring;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Tests.Fit.Measuring;

public sealed class ReadingsReaderTests
{
    private static readonly Length Bore = Length.FromNanometres(15_875_000);

    [Theory]
    [InlineData("15.8761;15.8764;0.625in", new long[] { 15_876_100, 15_876_400, 15_875_000 })]
    [InlineData(" 15.8761 ; 15876.4 um ;", new long[] { 15_876_100, 15_876_400 })]
    [InlineData("15.8761", new long[] { 15_876_100 })]
    [InlineData("0.6250\"; 5/8 in", new long[] { 15_875_000, 15_875_000 })]
    public void Readings_are_read_with_their_units(string text, long[] nanometres) =>
        Assert.Equal(nanometres, ReadingsReader.Read(text, Bore).Result.Select(length => length.Nanometres));

    [Fact]
    public void A_bare_number_is_in_the_headers_unit() =>
        Assert.Equal(15_875_000, ReadingsReader.Read("0.625", Bore, LengthUnits.Inch).Result.Single().Nanometres);

    [Theory]
    [InlineData("15.8761;0.625;15.8764", "READING_UNIT", "Reading 2 of 3, 0.625 mm, looks like inches: this family measures about 15.875 mm.")]
    [InlineData("15875", "READING_UNIT", "The reading, 15875 mm, looks like µm: this family measures about 15.875 mm.")]
    [InlineData("15.8761;15875000", "READING_UNIT", "Reading 2 of 2, 15875000 mm, looks like nm: this family measures about 15.875 mm.")]
    [InlineData("15.8761;NaN", "READING_UNREADABLE", "Reading 2 of 2, 'NaN', is no length.")]
    [InlineData("15.8761;;15.8764", "READING_UNREADABLE", "Reading 2 of 3 is empty.")]
    [InlineData("15,8761;15.8764", "READING_UNREADABLE", "Reading 1 of 2, '15,8761', is no length.")]
    [InlineData("15.8761 furlong", "READING_UNREADABLE", "The reading, '15.8761 furlong', has a unit that is not known.")]
    [InlineData("15.87610000001", "READING_UNREADABLE", "The reading, '15.87610000001', is finer than a nanometre.")]
    [InlineData("1e400", "READING_UNREADABLE", "The reading, '1e400', has a unit that is not known.")]
    [InlineData("99999999999999999999", "READING_UNREADABLE", "The reading, '99999999999999999999', is too large for a length.")]
    [InlineData("0", "READING_NOT_POSITIVE", "The reading is 0 mm, and no diameter is.")]
    [InlineData("", "NO_READINGS", "There is no reading.")]
    [InlineData(" ; ", "NO_READINGS", "There is no reading.")]
    public void What_is_no_reading_is_refused_by_its_place(string text, string code, string sentence)
    {
        var refusal = ReadingsReader.Read(text, Bore).Refusal!;
        Assert.Equal((code, sentence), (refusal.Code, refusal.Sentence));
    }

    [Fact]
    public void Without_a_bore_to_compare_with_any_length_above_zero_is_a_reading() =>
        Assert.Equal(625_000, ReadingsReader.Read("0.625", null).Result.Single().Nanometres);
}
