using PartsLedger.Domain.Access;

namespace PartsLedger.Domain.Tests.Access;

public sealed class AccessRuleTests
{
    [Theory]
    [InlineData("seven brass shims", null)]
    [InlineData("short", "PASSWORD_LENGTH")]
    [InlineData(null, "PASSWORD_LENGTH")]
    [InlineData("kimkimkim kim 1234", "PASSWORD_TOO_PLAIN")]
    [InlineData("aaaaaaaaaaaaaaa", "PASSWORD_TOO_PLAIN")]
    public void A_password_is_long_and_neither_the_name_nor_one_character(string? password, string? code) =>
        Assert.Equal(code, AccessRules.WhyNoPassword(password, "Kim")?.Code);

    [Theory]
    [InlineData("4711", null)]
    [InlineData("90817263", null)]
    [InlineData("471", "BAD_PIN")]
    [InlineData("471147114", "BAD_PIN")]
    [InlineData("47a1", "BAD_PIN")]
    [InlineData("٤٧١١", "BAD_PIN")]
    [InlineData("1111", "PIN_TOO_PLAIN")]
    [InlineData("1234", "PIN_TOO_PLAIN")]
    [InlineData("8765", "PIN_TOO_PLAIN")]
    public void A_pin_has_4_to_8_digits_and_is_no_row(string pin, string? code) => Assert.Equal(code, AccessRules.WhyNoPin(pin)?.Code);

    [Theory]
    [InlineData(" Kim  Lee ", "Kim Lee")]
    [InlineData("api", null)]
    [InlineData("Command line", null)]
    [InlineData("token scale", null)]
    [InlineData("", null)]
    [InlineData("a\u0000b", null)]
    public void Nobody_takes_a_name_under_which_the_program_writes(string given, string? name)
    {
        var read = AccessRules.Name(given);
        Assert.Equal(name, read.Succeeded ? read.Result : null);
    }

    [Fact]
    public void Each_lock_in_a_row_is_twice_as_long_up_to_sixteen_times()
    {
        var limit = TryLimit.Of(SignInMeans.Password);
        Assert.Equal([5, 10, 20, 40, 80, 80], Enumerable.Range(0, 6).Select(locks => (int)limit.LockAfter(locks).TotalMinutes));
        Assert.Equal((5, 3), (limit.Wrong, TryLimit.Of(SignInMeans.Badge).Wrong));
    }
}
