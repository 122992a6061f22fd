using System.Net;
using Microsoft.AspNetCore.Builder;
using PartsLedger.Hosting;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Integration.Tests.Exchange;

namespace PartsLedger.Integration.Tests.Jobs;

/// <summary>What is downloaded about jobs and kits, over HTTP, read by another program where it is a paper.</summary>
public sealed class DownloadTests(SqliteStore store) : WorkSpecification<SqliteStore>(store)
{
    private const string Workbook = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet";

    private WebApplication? _web;
    private HttpClient? _http;

    public override async ValueTask InitializeAsync()
    {
        await base.InitializeAsync();
        _web = ShopWeb.Build(Store.Address, "http://127.0.0.1:0");
        await _web.StartAsync();
        _http = new HttpClient { BaseAddress = new Uri(_web.Urls.First()) };
    }

    public override async ValueTask DisposeAsync()
    {
        _http?.Dispose();
        if (_web is not null) await _web.DisposeAsync();
        await base.DisposeAsync();
    }

    [Fact]
    public async Task The_release_paper_says_what_left_the_shop()
    {
        await Released("J-1");
        var paper = await PaperReaders.TextOf(await Download("/jobs/J-1/release.pdf", "application/pdf"));
        var text = string.Join('\n', paper);
        foreach (var fact in (string[])["J-1", "C-1", "P-1", "H-1", "V-1", "K1", "80-RSL", "RL 77", "Trawler 9, deck crane", "3 shims, 1.200 mm",
            "20 Passages seen through the ports 6 5 passages failed, signed by", "supervisor: one is cast", "Relief opens at 55.02 bar (798 psi), class P055", "service information"]) Assert.True(text.Contains(fact, StringComparison.Ordinal), $"{fact}: {text}");
        await NotFound("/jobs/J-7/release.pdf", "There is no job 'J-7'.");
        await Do("startJob(number: \"J-2\", scope: RESEAL, exchange: true)");
        await NotFound("/jobs/J-2/release.pdf", "Job J-2 is taken in: there is no release paper yet");
    }

    [Fact]
    public async Task Workbooks_come_for_one_job_for_several_and_for_a_recall()
    {
        await Released("J-1");
        await Do("startJob(number: \"J-2\", scope: RESEAL, exchange: true)");
        foreach (var address in (string[])["/jobs/J-1.xlsx", "/jobs.xlsx?job=J-1&job=J-2", "/recall.xlsx?from=lot&code=K1&part=80-RSL",
            "/recall.xlsx?from=part&code=10-SEAL", "/recall.xlsx?from=bench&code=B1"])
            Assert.Equal("PK"u8.ToArray(), (await Download(address, Workbook))[..2]);
        await NotFound("/jobs.xlsx?job=J-1&job=J-9", "There is no job 'J-9'.");
        await NotFound("/recall.xlsx?from=hearsay", "It is not said what is recalled.");
        await NotFound("/recall.xlsx?from=lot&code=K1", "It is not said which part the lot is of.");
    }

    [Fact]
    public async Task A_recipe_is_a_paper_for_the_bag_and_an_older_version_says_that_it_is_replaced()
    {
        await Define("{ part: \"10-SEAL\", quantity: 2 }, { part: \"10-RING\", quantity: 6 }", "Seals below the rings. ");
        await Define("{ part: \"10-SEAL\", quantity: 2 }, { part: \"10-RING\", quantity: 5 }", "Seals on top.");
        var now = await PaperReaders.TextOf(await Download("/recipe.pdf?kit=80-ELM", "application/pdf"));
        Assert.Contains("80-ELM 2 Reseal", now);
        Assert.Contains("For variants VS30-055.", now);
        Assert.Contains("[] 10-SEAL Shaft seal 2", now);
        Assert.Contains("[] 10-RING O-ring 5", now);
        Assert.Contains("Seals on top.", now);
        var first = await PaperReaders.TextOf(await Download("/recipe.pdf?kit=80-ELM&version=1", "application/pdf"));
        Assert.Contains("80-ELM 1, replaced Reseal", first);
        Assert.Contains("Seals below the rings.", first);
        await NotFound("/recipe.pdf?kit=80-ELM&version=3", "80-ELM has no recipe version 3.");
        await NotFound("/recipe.pdf?kit=80-RSL", "80-RSL has no recipe.");

        async Task Define(string lines, string how) => await Do(
            $"defineRecipe(kit: \"80-ELM\", lines: [{lines}], variants: [\"VS30-055\"], scope: RESEAL, instructions: \"{how}\")", "version");
    }

    private async Task<byte[]> Download(string address, string type)
    {
        using var response = await _http!.GetAsync(address);
        Assert.True(response.IsSuccessStatusCode, $"{address}: {await response.Content.ReadAsStringAsync()}");
        Assert.Equal(type, response.Content.Headers.ContentType?.MediaType);
        return await response.Content.ReadAsByteArrayAsync();
    }

    private async Task NotFound(string address, string sentence)
    {
        using var response = await _http!.GetAsync(address);
        Assert.Equal(HttpStatusCode.NotFound, response.StatusCode);
        Assert.StartsWith(sentence, await response.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }
}
