using System.Text;
using PartsLedger.Domain.Access;

namespace PartsLedger.Domain.Tests.Access;

public sealed class OneTimeCodeTests
{
    private static readonly byte[] Key = Encoding.ASCII.GetBytes("12345678901234567890");

    // RFC 6238, Appendix B, the rows for SHA-1: seconds since 1970 and the eight digits.
    [Theory]
    [InlineData(59L, "94287082")]
    [InlineData(1111111109L, "07081804")]
    [InlineData(1111111111L, "14050471")]
    [InlineData(1234567890L, "89005924")]
    [InlineData(2000000000L, "69279037")]
    [InlineData(20000000000L, "65353130")]
    public void Codes_are_those_of_the_published_table(long seconds, string code)
    {
        Assert.Equal(code, OneTimeCode.Of(Key, seconds / OneTimeCode.StepSeconds, 8));
        Assert.Equal(seconds / 30, OneTimeCode.StepOf(OneTimeCode.ToBase32(Key), code[2..], DateTimeOffset.FromUnixTimeSeconds(seconds)));
    }

    // RFC 4648, section 10, without the padding, which authenticators leave out.
    [Theory]
    [InlineData("", "")]
    [InlineData("f", "MY")]
    [InlineData("fo", "MZXQ")]
    [InlineData("foo", "MZXW6")]
    [InlineData("foob", "MZXW6YQ")]
    [InlineData("fooba", "MZXW6YTB")]
    [InlineData("foobar", "MZXW6YTBOI")]
    public void Base_32_is_that_of_the_published_table(string text, string written)
    {
        Assert.Equal(written, OneTimeCode.ToBase32(Encoding.ASCII.GetBytes(text)));
        Assert.Equal(text, Encoding.ASCII.GetString(OneTimeCode.FromBase32(written)));
    }

    [Theory]
    [InlineData(-60, false)]
    [InlineData(-30, true)]
    [InlineData(0, true)]
    [InlineData(30, true)]
    [InlineData(60, false)]
    public void A_clock_may_be_half_a_minute_off(int seconds, bool taken)
    {
        var now = DateTimeOffset.FromUnixTimeSeconds(1_900_000_000);
        var code = OneTimeCode.Of(Key, now.AddSeconds(seconds).ToUnixTimeSeconds() / 30, 6);
        Assert.Equal(taken, OneTimeCode.StepOf(OneTimeCode.ToBase32(Key), $"{code[..3]} {code[3..]}", now) is not null);
        Assert.Null(OneTimeCode.StepOf(OneTimeCode.ToBase32(Key), code[..5], now));
        Assert.Null(OneTimeCode.StepOf(OneTimeCode.ToBase32(Key), null, now));
    }
}
