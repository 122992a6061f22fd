using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using PartsLedger.Data;

namespace PartsLedger.Integration.Tests.Api;

[Collection(ApiTests.Name)]
public sealed class PairApiTests(ShopApi api)
{
    [Fact]
    public async Task A_core_becomes_a_pair_that_the_API_cannot_part()
    {
        var mark = Guid.NewGuid().ToString("n")[..8];
        var (family, ofClass, place) = await Shop();
        await Done($"takeInCore(requestId: \"{Guid.NewGuid()}\", tag: \"C-{mark}\", family: \"{family}\", deposit: 12.5)");
        Assert.Equal(12.5m, (await api.Ask("{ coreBank { owed } }")).GetProperty("coreBank").GetProperty("owed").GetDecimal());
        await Done($"gradeCore(requestId: \"{Guid.NewGuid()}\", core: \"C-{mark}\", grade: PARTS_ONLY, findings: [{{ position: 4, finding: WRONG_PART }}])");
        await Done($"tearDownCore(requestId: \"{Guid.NewGuid()}\", core: \"C-{mark}\", location: \"{place}\", pair: \"P-{mark}\", housing: {{ tag: \"H-{mark}\" }}, "
            + $"valve: {{ tag: \"V-{mark}\", pressureClass: \"{ofClass}\", shimCount: 3, shimStackMm: 1.2 }})");
        await Done($"settleDeposit(requestId: \"{Guid.NewGuid()}\", core: \"C-{mark}\", giveBack: true)");

        var scan = (await api.Ask($"{{ scan(code: \"V-{mark}\") {{ kind alert with mustNot }} }}")).GetProperty("scan");
        Assert.Equal(("valve", $"HALF OF A PAIR: keep with H-{mark}."), (scan.GetProperty("kind").GetString(), scan.GetProperty("alert").GetString()));
        Assert.True((await api.Ask($"{{ belongTogether(first: \"V-{mark}\", second: \"H-{mark}\") {{ together }} }}")).GetProperty("belongTogether").GetProperty("together").GetBoolean());
        await Done($"confirmShims(requestId: \"{Guid.NewGuid()}\", valve: \"V-{mark}\", count: 3, stackMm: 1.2)");
        Assert.Equal("SHIMS_DIFFER", await Refused($"confirmShims(requestId: \"{Guid.NewGuid()}\", valve: \"V-{mark}\", count: 2, stackMm: 0.8)"));
        Assert.Equal("NOT_ALLOWED", await Refused($"takePairApart(requestId: \"{Guid.NewGuid()}\", pair: \"P-{mark}\", location: \"{place}\", why: \"no reason\")"));
        var history = (await api.Ask($"{{ unitHistory(tag: \"V-{mark}\") {{ partners events {{ what who pair }} }} }}")).GetProperty("unitHistory");
        Assert.Equal($"H-{mark}", Assert.Single(history.GetProperty("partners").EnumerateArray()).GetString());
    }

    [Theory]
    [InlineData("takeInCore(requestId: \"{id}\", tag: \"C-9\", deposit: -1)", "DEPOSIT_BELOW_ZERO")]
    [InlineData("takeInCore(requestId: \"{id}\", tag: \"C 9\")", "TAG_INVISIBLE")]
    [InlineData("moveUnit(requestId: \"{id}\", code: \"NO-SUCH\", to: \"nowhere\")", "UNKNOWN_LOCATION")]
    [InlineData("releasePair(requestId: \"{id}\", pair: \"NO-SUCH\")", "UNKNOWN_PAIR")]
    [InlineData("confirmShims(requestId: \"{id}\", valve: \"NO-SUCH\", count: 3, stackMm: 99999999)", "SHIMS_OUT_OF_RANGE")]
    [InlineData("endCore(requestId: \"{id}\", core: \"NO-SUCH\", sendBack: true, why: \"x\")", "UNKNOWN_CORE")]
    public async Task A_bad_act_is_refused_in_its_answer(string act, string code) =>
        Assert.Equal(code, await Refused(act.Replace("{id}", Guid.NewGuid().ToString(), StringComparison.Ordinal)));

    [Fact]
    public async Task A_scan_of_nothing_known_is_an_error_with_its_code() =>
        Assert.Equal("SCAN_UNKNOWN", (await api.Refused("{ scan(code: \"NO-SUCH-THING\") { kind } }")).Code);

    private async Task<(string Family, string Class, string Place)> Shop()
    {
        await using var scope = api.App.Services.CreateAsyncScope();
        var db = scope.ServiceProvider.GetRequiredService<LedgerContext>();
        return (await db.Families.Select(row => row.Code).FirstAsync(), await db.PressureClasses.Select(row => row.Code).FirstAsync(),
            await db.Locations.Where(row => row.Kind == Domain.Stock.LocationKind.Bin).Select(row => row.Code).FirstAsync());
    }

    private async Task Done(string act)
    {
        var payload = await Payload(act);
        Assert.True(payload.GetProperty("refusals").GetArrayLength() == 0, payload.ToString());
        Assert.NotEmpty(payload.GetProperty("result").GetProperty("done").GetString()!);
    }

    private async Task<string?> Refused(string act) => Assert.Single((await Payload(act)).GetProperty("refusals").EnumerateArray()).GetProperty("code").GetString();

    private async Task<JsonElement> Payload(string act) =>
        (await api.Ask($"mutation {{ {act} {{ result {{ done }} refusals {{ code sentence whatToDo }} }} }}")).GetProperty(act[..act.IndexOf('(', StringComparison.Ordinal)]);
}
