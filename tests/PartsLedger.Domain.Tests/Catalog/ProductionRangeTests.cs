using PartsLedger.Domain.Catalog;

namespace PartsLedger.Domain.Tests.Catalog;

public sealed class ProductionRangeTests
{
    [Theory]
    [InlineData("A2", "A10", -1)]
    [InlineData("a0010", "A10", 0)]
    [InlineData("30A0001", "30B0001", -1)]
    [InlineData("VR-10", "vr 9", 1)]
    [InlineData("A1", "A1X", -1)]
    [InlineData("7000112", "700099", 1)]
    public void Serials_follow_their_numbers(string left, string right, int order)
    {
        Assert.Equal(order, Math.Sign(SerialNumber.Compare(left, right)));
        Assert.Equal(-order, Math.Sign(SerialNumber.Compare(right, left)));
    }

    [Theory]
    // Built dates decide where both state them.
    [InlineData("2001..2005 ..", "2004..2009 ..", true)]
    [InlineData("2001..2005 ..", "2006..2009 ..", false)]
    [InlineData("2001..2005 ..", "2005..2009 ..", true)]
    [InlineData("2001.. ..", "2030..2031 ..", true)]
    [InlineData("..2005 ..", "2006.. ..", false)]
    [InlineData("2001..2005 ..", "2001..2005 ..", false)]
    // Nothing stated, nothing known.
    [InlineData(".. ..", "2001..2005 ..", false)]
    [InlineData(".. ..", ".. ..", false)]
    // Serials decide where dates are not stated on both.
    [InlineData(".. A1..A50", ".. A40..A90", true)]
    [InlineData("2001..2005 A1..A50", ".. A40..A90", true)]
    [InlineData(".. A1..A9", ".. A10..A90", false)]
    [InlineData(".. A1..", ".. A10..A90", true)]
    [InlineData(".. A1..A50", ".. B1..B50", false)]
    [InlineData(".. A1..A50", ".. A1..A50", false)]
    // Serials that keep them apart excuse dates that overlap.
    [InlineData("2001..2005 A1..A50", "2004..2009 A51..A90", false)]
    [InlineData("2001..2005 A1..A50", "2004..2009 A50..A90", true)]
    [InlineData("2001..2005 A1..A50", "2004..2009 ..", true)]
    public void Ranges_overlap_or_not(string left, string right, bool overlap)
    {
        Assert.Equal(overlap, RangeOf(left).Overlaps(RangeOf(right)));
        Assert.Equal(overlap, RangeOf(right).Overlaps(RangeOf(left)));
    }

    private static ProductionRange RangeOf(string text)
    {
        var parts = text.Split(' ').Select(part => part.Split("..")).ToList();
        return new(Year(parts[0][0], 1), Year(parts[0][1], 12), Serial(parts[1][0]), Serial(parts[1][1]));
    }

    private static DateOnly? Year(string text, int month) => text.Length == 0 ? null : new DateOnly(int.Parse(text), month, month == 1 ? 1 : 31);

    private static string? Serial(string text) => text.Length == 0 ? null : text;

    [Theory]
    [InlineData("A100", "A999", "a-0100", true)]
    [InlineData("A100", "A999", "A99", false)]
    [InlineData("A100", "A999", "A 1000", false)]
    [InlineData("A100", "A999", "B500", false)]
    [InlineData("A100", null, "A100000", true)]
    [InlineData(null, "A999", "A1", true)]
    [InlineData(null, null, "A1", null)]
    [InlineData("9", "30", "10", true)]
    [InlineData("A500", "C100", "B1", true)]
    [InlineData("A500", "C100", "A400", false)]
    [InlineData("A500", "C100", "D1", false)]
    public void A_serial_lies_within_as_people_count(string? from, string? to, string serial, bool? within) =>
        Assert.Equal(within, new ProductionRange(null, null, from, to).HoldsSerial(serial));

    [Theory]
    [InlineData("2001-01-01", "2009-06-30", "2009-06-30", "2009-06-30", true)]
    [InlineData("2001-01-01", "2009-06-30", "2009-07-01", "2009-07-31", false)]
    [InlineData("2001-01-01", "2009-06-30", "2009-01-01", "2009-12-31", true)]
    [InlineData("2001-01-01", null, "2000-01-01", "2000-12-31", false)]
    [InlineData(null, "2009-06-30", "1950-01-01", "1950-01-31", true)]
    [InlineData(null, null, "1950-01-01", "1950-01-31", null)]
    public void A_span_of_days_may_lie_within(string? from, string? to, string first, string last, bool? within) =>
        Assert.Equal(within, new ProductionRange(Date(from), Date(to), null, null).HoldsBuilt(Date(first)!.Value, Date(last)!.Value));

    private static DateOnly? Date(string? text) => text is null ? null : DateOnly.Parse(text, System.Globalization.CultureInfo.InvariantCulture);
}
