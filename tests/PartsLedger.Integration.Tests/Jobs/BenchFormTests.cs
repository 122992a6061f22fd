using System.Net;
using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using PartsLedger.Data;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;
using PartsLedger.Exchange;
using PartsLedger.Fit;
using PartsLedger.Hosting;
using PartsLedger.Integration.Tests.Access;
using PartsLedger.Integration.Tests.Exchange;
using PartsLedger.Jobs;

namespace PartsLedger.Integration.Tests.Jobs;

/// <summary>What is done at the bench only now and then, by its forms, without scripts and under the names of three people.</summary>
public sealed class BenchFormTests : IAsyncLifetime
{
    private DoorShop? _shop;

    private DoorShop Shop => _shop ?? throw new InvalidOperationException("The shop is not open.");

    public async ValueTask InitializeAsync()
    {
        _shop = await DoorShop.Open();
        Assert.True((await Shop.App.Services.GetRequiredService<FolderImporter>().Import(DemoFolder.Path, new ImportOptions(), Caller.CommandLine, CancellationToken.None)).Succeeded);
        await Shop.Add("Kim", Role.Supervisor);
        await Shop.Add("Rob", Role.Rebuilder);
        await Shop.Add("Ada", Role.Counter);
    }

    public async ValueTask DisposeAsync()
    {
        if (_shop is not null) await _shop.DisposeAsync();
    }

    [Fact]
    public async Task Short_give_back_sign_and_open_again()
    {
        const string job = "FORM-1";
        await Listed(job, "VR20-055-R1");
        using var rob = await SignedIn("Rob");
        using var kim = await SignedIn("Kim");
        var pull = await Ask<PullList.Query, PullList.Answer>(new(job));
        var fetch = $"/bench?job={job}&at=fetch";

        // Without a reason nothing stays short: the folded form comes back open, with what was typed.
        var (part, quantity) = pull.Missing.Count > 0 ? (pull.Missing[0].Part, pull.Missing[0].Quantity) : (pull.Stops[0].What, pull.Stops[0].Quantity);
        var refused = await Send(rob, fetch, "/bench/short", ("part", part), ("quantity", $"{quantity},0"), ("why", ""));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.Status);
        Assert.Matches(new Regex($"<details[^>]* open[^>]*>(?:(?!</details>).)*value=\"{Regex.Escape(part)}\"", RegexOptions.Singleline), refused.Page);
        foreach (var missing in pull.Missing.Count > 0 ? pull.Missing.Select(one => (one.Part, one.Quantity)) : [(part, quantity)])
            Assert.Contains("supplier is late", await Done(rob, fetch, "/bench/short", ("part", missing.Part), ("quantity", $"{missing.Quantity}"), ("why", "supplier is late")), StringComparison.Ordinal);

        var stops = (await Ask<PullList.Query, PullList.Answer>(new(job))).Stops;
        foreach (var stop in stops) await Done(rob, fetch, "/bench/pull", ("scan", stop.What), ("lot", stop.Lot ?? ""));
        var back = stops[0];
        Assert.Contains($"Last: gave back {back.Quantity} of {back.What}", await Done(rob, fetch, "/bench/give-back",
            ("part", back.What), ("quantity", $"{back.Quantity}"), ("to", back.Place), ("lot", back.Lot ?? ""), ("why", "another is better")), StringComparison.Ordinal);
        Assert.Equal(back.What, Assert.Single((await Ask<PullList.Query, PullList.Answer>(new(job))).Stops).What);
        await Done(rob, fetch, "/bench/pull", ("scan", back.What), ("lot", back.Lot ?? ""));

        // A roller too few is failed; only a supervisor lets that pass, and whoever is none sees who may.
        var assemble = $"/bench?job={job}&at=assemble";
        Assert.Contains("failed: 11", await Done(rob, assemble, "/bench/check/10", ("value", "11,0"), ("unit", "pieces")), StringComparison.Ordinal);
        Assert.DoesNotContain("action=\"/bench/sign/10\"", await rob.Http.GetStringAsync(assemble), StringComparison.Ordinal);
        Assert.Contains("signed by Kim: measured anew", await Done(kim, assemble, "/bench/sign/10", ("why", "measured anew")), StringComparison.Ordinal);

        // What is expected stands there before anything was measured.
        Assert.Contains("Last: assembled", await Done(rob, assemble, "/bench/finish"), StringComparison.Ordinal);
        var test = await Page(rob, $"/bench?job={job}&at=test");
        Assert.Contains("class P055.", test, StringComparison.Ordinal);
        Assert.Matches(new Regex("700</th><td class=\"number\">[0-9.]+ to [0-9.]+</td>"), test);
        Assert.Contains("flow expected over speed", await rob.Http.GetStringAsync($"/plots/bench/{job}.svg"), StringComparison.Ordinal);

        Assert.Contains("a leak at the cover", await Done(rob, $"/bench?job={job}&at=test", "/bench/open", ("why", "a leak at the cover")), StringComparison.Ordinal);
        Assert.Contains("action=\"/bench/finish\"", await rob.Http.GetStringAsync(assemble), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Call_off_and_let_a_proposal_go()
    {
        const string job = "FORM-2";
        await Listed(job, "VS30-070-R1");
        using var rob = await SignedIn("Rob");
        using var ada = await SignedIn("Ada");
        var pairs = $"/bench?job={job}&at=pairs";
        var held = await Done(rob, pairs, "/bench/hold");
        var letGo = Regex.Match(held, "action=\"(/bench/let-go/[0-9]+)\"").Groups[1].Value;
        Assert.DoesNotContain("/bench/let-go/", await Done(rob, pairs, letGo), StringComparison.Ordinal);
        Assert.Contains("/bench/let-go/", await Done(rob, pairs, "/bench/hold"), StringComparison.Ordinal);

        var release = $"/bench?job={job}&at=release";
        Assert.DoesNotContain("action=\"/bench/call-off\"", await rob.Http.GetStringAsync(release), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await Send(ada, release, "/bench/call-off", ("why", ""))).Status);
        var over = await Done(ada, release, "/bench/call-off", ("why", "the customer bought another"));
        Assert.Contains("Last: called off", over, StringComparison.Ordinal);
        Assert.DoesNotContain("action=\"/bench/call-off\"", over, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Shims_counted_a_half_condemned_a_pair_taken_apart_and_a_valve_set_to_another_class()
    {
        const string job = "FORM-3", pairs = $"/bench?job={job}&at=pairs";
        await Listed(job, "VS30-070-R1");
        using var rob = await SignedIn("Rob");
        using var kim = await SignedIn("Kim");

        // A valve that came with its shims counted is not counted again as if it had none.
        var refused = await Send(rob, pairs, "/bench/shims", ("valve", "V-0001"), ("shims", "3"), ("stack", "0,45"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.Status);
        Assert.Contains("Valve V-0001 came with 4 shims, 0.600 mm.", refused.Page, StringComparison.Ordinal);
        await using (var scope = Shop.App.Services.CreateAsyncScope())
            await scope.ServiceProvider.GetRequiredService<LedgerContext>().Units.Where(unit => unit.Tag == "V-0001")
                .ExecuteUpdateAsync(unit => unit.SetProperty(one => one.ShimCount, (int?)null).SetProperty(one => one.ShimStack, (Length?)null));
        Assert.Contains("Valve V-0001", await Done(rob, pairs, "/bench/shims", ("valve", "V-0001"), ("shims", "3"), ("stack", "0,45")), StringComparison.Ordinal);
        Assert.Equal((3, Length.FromNanometres(450_000)), await Shims("V-0001"));

        Assert.Contains("condemned", await Done(rob, pairs, "/bench/condemn", ("tag", "V-0002"), ("why", "scored")), StringComparison.OrdinalIgnoreCase);

        // To end a pair is a supervisor's, and both halves go where nobody takes them from.
        Assert.DoesNotContain("action=\"/bench/apart\"", await rob.Http.GetStringAsync(pairs), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await Send(kim, pairs, "/bench/apart", ("pair", "P-H-0041"), ("place", "U-03"), ("why", "scored"))).Status);
        await Done(kim, pairs, "/bench/apart", ("pair", "P-H-0041"), ("place", "Q-02"), ("why", "the bore is scored"));
        Assert.Equal("Q-02", (await Ask<Scan.Query, Scan.Answer>(new("V-0041"))).Where);

        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await Send(kim, pairs, "/bench/class",
            ("valve", "V-0041"), ("class", "P070"), ("relief", "85 bar"), ("bench", "B1, 12"), ("shims", "3"), ("stack", "0.45"), ("why", "for stock"))).Status);
        Assert.Contains("P070", await Done(kim, pairs, "/bench/class",
            ("valve", "V-0041"), ("class", "P070"), ("relief", "70,5 bar"), ("bench", "B1, 12"), ("shims", "3"), ("stack", "0.45"), ("why", "for stock")), StringComparison.Ordinal);
        Assert.Equal((3, Length.FromNanometres(450_000)), await Shims("V-0041"));
    }

    [Fact]
    public async Task What_is_judged_while_it_is_typed_is_what_is_judged_once_it_is_written_down()
    {
        const string job = "FORM-4";
        await Listed(job, "VS30-070-R1");
        using var rob = await SignedIn("Rob");
        string Typed(string readings, string with) => $"/bench/measure/try?unit=H-0002&gauge=AG-1&celsius=23,5&readings={Uri.EscapeDataString(readings)}&with={with}";
        var before = await Ask<MeasurementsOf.Query, MeasurementsOf.Answer>(new("H-0002"));
        var size = before.Entries[0].SizeMm!.Value;

        // While a reading is half typed nothing is judged, and nothing is an error either; without one there is nothing to say.
        Assert.DoesNotContain("<p", await Page(rob, Typed("", "V-0003")), StringComparison.Ordinal);
        Assert.Contains("Not to be judged yet: H-0002: ", await Page(rob, Typed("15.8x", "")), StringComparison.Ordinal);
        Assert.Contains("V-0003x", await Page(rob, Typed($"{size}", "V-0003x")), StringComparison.Ordinal);
        Assert.DoesNotContain("verdict", await Page(rob, Typed($"{size}", "H-0003")), StringComparison.Ordinal);

        var seen = new HashSet<string>();
        foreach (var wider in new[] { -0.030m, -0.004m, 0, 0.004m, 0.030m })
        {
            var readings = FormattableString.Invariant($"{size + wider}; {size + wider + 0.0002m}");
            var tried = await Page(rob, Typed(readings, "V-0003"));
            Assert.Equal(before.Entries.Count + seen.Count, (await Ask<MeasurementsOf.Query, MeasurementsOf.Answer>(new("H-0002"))).Entries.Count);
            var written = await Done(rob, $"/bench?job={job}&at=measure", "/bench/measure",
                ("unit", "H-0002"), ("gauge", "AG-1"), ("celsius", "23,5"), ("readings", readings), ("with", "V-0003"));
            var verdict = Regex.Match(written, "with V-0003: ([^<]*)<").Groups[1].Value;
            Assert.Contains($": {verdict}<", tried, StringComparison.Ordinal);
            Assert.Contains(Regex.Match(written, "clearance <strong>([^<]*)<").Value, tried, StringComparison.Ordinal);
            seen.Add($"{wider} {verdict}");
        }
        Assert.Equal(5, seen.Count);
        Assert.True(seen.Select(one => one.Split(' ', 2)[1]).Distinct().Count() >= 2, string.Join("; ", seen));
    }

    [Fact]
    public async Task A_pump_that_was_brought_is_looked_over_before_it_is_taken_to_pieces_and_its_deposit_is_settled()
    {
        const string job = "FORM-5", findings = $"/bench?job={job}&at=findings", pump = "/counter/core?taken=C-500";
        using var rob = await SignedIn("Rob");
        using var ada = await SignedIn("Ada");
        await Done(ada, "/counter/core", "/counter/core", ("tag", "C-500"), ("variant", "VS30-070-R1"), ("deposit", "30"), ("from", "Order 77"));
        Assert.DoesNotContain("/counter/core/deposit", await ada.Http.GetStringAsync(pump), StringComparison.Ordinal);
        await Act<StartJob.Command, JobActed>(new(DoorShop.NewId(), job, JobScope.Reseal, Core: "C-500", Variants: ["VS30-070-R1"]));

        // At the bench as at the counter; only then is there a form to take it to pieces.
        Assert.DoesNotContain("/bench/tear-down", await rob.Http.GetStringAsync(findings), StringComparison.Ordinal);
        Assert.Contains("action=\"/bench/tear-down\"", await Done(rob, findings, "/bench/grade", ("grade", "worn"), ("note", "shaft turns")), StringComparison.Ordinal);
        await Done(rob, findings, "/bench/tear-down",
            ("housing", "H-500"), ("valve", "V-500"), ("pair", "P-500"), ("shims", "3"), ("stack", "0,45"), ("place", "U-03"));
        Assert.Contains("Last: findings", await Done(rob, findings, "/bench/findings"), StringComparison.Ordinal);

        var refused = await Send(ada, pump, "/counter/core/deposit", ("deposit", "keep"), ("why", ""));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.Status);
        Assert.Contains("C-500", refused.Page, StringComparison.Ordinal);
        Assert.DoesNotContain("/counter/core/deposit", await Done(ada, pump, "/counter/core/deposit", ("deposit", "back")), StringComparison.Ordinal);
        Assert.Contains("Pump C-500 is scrapped", await Done(ada, pump, "/counter/core/end", ("end", "scrap"), ("end-why", "only parts left")), StringComparison.Ordinal);
    }

    private async Task<(int?, Length?)> Shims(string valve)
    {
        await using var scope = Shop.App.Services.CreateAsyncScope();
        var unit = await scope.ServiceProvider.GetRequiredService<LedgerContext>().Units.AsNoTracking().SingleAsync(one => one.Tag == valve);
        return (unit.ShimCount, unit.ShimStack);
    }

    /// <summary>A job whose kit list is accepted, whatever it lacks.</summary>
    private async Task Listed(string job, string variant)
    {
        await Act<StartJob.Command, JobActed>(new(DoorShop.NewId(), job, JobScope.Reseal, Exchange: true, Variants: [variant]));
        await Act<RecordFindings.Command, JobActed>(new(DoorShop.NewId(), job, []));
        await Act<AcceptList.Command, AcceptList.Answer>(new(DoorShop.NewId(), job, (await Ask<JobList.Query, JobList.Answer>(new(job))).Mark, "to test the forms"));
    }

    private async Task Act<TAct, TAnswer>(TAct act) where TAct : IAct<TAnswer> where TAnswer : notnull
    {
        var done = await Shop.Dispatcher.Send<TAct, TAnswer>(act, Caller.CommandLine, CancellationToken.None);
        Assert.True(done.Succeeded, done.Refusal?.ToString());
    }

    private async Task<TAnswer> Ask<TQuery, TAnswer>(TQuery query) where TQuery : IQuery<TAnswer> where TAnswer : notnull =>
        (await Shop.Dispatcher.Ask<TQuery, TAnswer>(query, Caller.CommandLine, CancellationToken.None)).Result;

    private async Task<Browser> SignedIn(string name)
    {
        var browser = Shop.Visit();
        using var came = await browser.SignIn(name, DoorShop.Password);
        Assert.Equal(HttpStatusCode.SeeOther, came.StatusCode);
        return browser;
    }

    private static async Task<(HttpStatusCode Status, string Page)> Send(Browser browser, string page, string action, params (string Name, string Value)[] fields)
    {
        using var answer = await browser.Submit(page, action, fields);
        return (answer.StatusCode, WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync()));
    }

    /// <summary>Sends the form, and shows the page that it leads to.</summary>
    private static async Task<string> Done(Browser browser, string page, string action, params (string Name, string Value)[] fields)
    {
        using var answer = await browser.Submit(page, action, fields);
        Assert.True(answer.StatusCode == HttpStatusCode.SeeOther, $"{action}: {answer.StatusCode} {await answer.Content.ReadAsStringAsync()}");
        return await Page(browser, answer.Headers.Location!.ToString());
    }

    private static async Task<string> Page(Browser browser, string address) => WebUtility.HtmlDecode(await browser.Http.GetStringAsync(address));
}
