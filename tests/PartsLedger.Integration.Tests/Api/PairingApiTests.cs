using System.Net;

namespace PartsLedger.Integration.Tests.Api;

/// <summary>Pairing over HTTP: figures, drawings and refusals.</summary>
[Collection(ApiTests.Name)]
public sealed class PairingApiTests(ShopApi api)
{
    [Fact]
    public async Task A_missing_shim_is_told_as_a_reason()
    {
        // Esposito, Fluid Power with Applications, example 8-1 (check values, section F): 0.75 in2, 2500 lb/in, 0.20 in: 666.7 psi; a shim of
        // 0.010 in is 33.3 psi. In SI: 483.87 mm2, 437.817 N/mm, 5.08 mm of which 0.254 mm is the shim: 4596.5 kPa and 229.8 kPa less.
        var relief = (await api.Ask("{ reliefFigures(seatMm2: 483.87, rateNPerMm: 437.817, barePreloadMm: 4.826, shimStackMm: 0.254, missingShimMm: 0.254, percent: 0) "
            + "{ opensAtKpa { value low high } withoutShimKpa { value } reason } }")).GetProperty("reliefFigures");
        Assert.Equal(4596.5, relief.GetProperty("opensAtKpa").GetProperty("value").GetDouble(), tolerance: 0.1);
        Assert.Equal(4366.7, relief.GetProperty("withoutShimKpa").GetProperty("value").GetDouble(), tolerance: 0.1);
        Assert.Contains("what came out goes back", relief.GetProperty("reason").GetString()!, StringComparison.Ordinal);
        Assert.Equal("SHIM_STACK", (await api.Refused("{ reliefFigures(seatMm2: 480, rateNPerMm: 430, barePreloadMm: 4, shimStackMm: 0.2, missingShimMm: 0.5) { reason } }")).Code);
    }

    [Fact]
    public async Task A_metering_valve_lets_less_through_at_high_speed()
    {
        var flow = (await api.Ask("{ meteredFlow(fixedMm2: 4.9, openMm2: 3.1, narrowedMm2: 0, springN: 50, spoolEndMm2: 200, narrowsFromRpm: 1200, narrowedAtRpm: 2500) "
            + "{ lowSpeedLpm { value low high } highSpeedLpm { value } dropKpa { value } } }")).GetProperty("meteredFlow");
        Assert.Equal(250, flow.GetProperty("dropKpa").GetProperty("value").GetDouble(), 6);

        // Q = Cd A sqrt(2 dp / rho) with Cd 0.62 (check values, section E).
        Assert.Equal(0.62 * 8.0e-6 * Math.Sqrt(2 * 250_000 / 850.0) * 60_000, flow.GetProperty("lowSpeedLpm").GetProperty("value").GetDouble(), 6);
        Assert.Equal(0.62 * 4.9e-6 * Math.Sqrt(2 * 250_000 / 850.0) * 60_000, flow.GetProperty("highSpeedLpm").GetProperty("value").GetDouble(), 6);
        Assert.Equal("INPUT_NOT_POSITIVE", (await api.Refused(
            "{ meteredFlow(fixedMm2: 4.9, openMm2: 3.1, narrowedMm2: 0, springN: -1, spoolEndMm2: 200, narrowsFromRpm: 1200, narrowedAtRpm: 2500) { dropKpa { value } } }")).Code);
    }

    [Fact]
    public async Task Drawings_of_an_unknown_family_are_a_sentence()
    {
        foreach (var address in (string[])["/plots/sizes.svg", "/plots/clearances.svg?family=NO-SUCH"])
        {
            using var answer = await api.Http.GetAsync(new Uri(address, UriKind.Relative));
            Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
            Assert.Contains("amil", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData("recordMeasurements(requestId: \"{id}\", lines: [{ unit: \"NO-SUCH\", gauge: \"G\", temperatureC: 20, readings: \"16\" }])", "UNKNOWN_TAG")]
    [InlineData("recordMeasurements(requestId: \"{id}\", lines: [])", "LINES_RANGE")]
    [InlineData("holdProposal(requestId: \"{id}\", family: \"NO-SUCH\")", "UNKNOWN_FAMILY")]
    [InlineData("holdProposal(requestId: \"{id}\", family: \"NO-SUCH\", hours: 0)", "HOURS_RANGE")]
    [InlineData("acceptProposal(requestId: \"{id}\", proposal: 99999, location: \"A-01\")", "UNKNOWN_PROPOSAL")]
    [InlineData("letProposalGo(requestId: \"{id}\", proposal: 99999)", "UNKNOWN_PROPOSAL")]
    public async Task A_bad_act_is_refused_in_its_answer(string act, string code)
    {
        var name = act[..act.IndexOf('(', StringComparison.Ordinal)];
        var payload = (await api.Ask($"mutation {{ {act.Replace("{id}", Guid.NewGuid().ToString(), StringComparison.Ordinal)} {{ refusals {{ code sentence whatToDo }} }} }}")).GetProperty(name);
        var refusal = Assert.Single(payload.GetProperty("refusals").EnumerateArray());
        Assert.Equal(code, refusal.GetProperty("code").GetString());
        Assert.NotEmpty(refusal.GetProperty("whatToDo").GetString()!);
    }
}
