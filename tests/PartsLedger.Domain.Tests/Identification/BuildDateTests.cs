using PartsLedger.Domain.Identification;

namespace PartsLedger.Domain.Tests.Identification;

public sealed class BuildDateTests
{
    [Theory]
    [InlineData("2004-05-17", "2004-05-17", "2004-05-17")]
    [InlineData(" 2004-02 ", "2004-02-01", "2004-02-29")]
    [InlineData("2005", "2005-01-01", "2005-12-31")]
    public void A_date_a_month_or_a_year_is_a_span_of_days(string text, string first, string last)
    {
        var read = BuildDate.Read(text).Result;
        Assert.Equal((Day(first), Day(last)), (read.First, read.Last));
    }

    [Theory]
    [InlineData("")]
    [InlineData(null)]
    [InlineData("19")]
    [InlineData("20255")]
    [InlineData("2004-13")]
    [InlineData("2005-02-29")]
    [InlineData("0004")]
    [InlineData("17.05.2004")]
    public void Anything_else_is_no_date(string? text) => Assert.Equal("NO_SUCH_DATE", BuildDate.Read(text).Refusal!.Code);

    private static DateOnly Day(string text) => DateOnly.Parse(text, System.Globalization.CultureInfo.InvariantCulture);
}
