using System.Net;
using PartsLedger.Integration.Tests.Exchange;

namespace PartsLedger.Integration.Tests.Api;

/// <summary>The pages as a browser without scripts gets them. How they look is checked in a real browser.</summary>
[Collection(ApiTests.Name)]
public sealed class PageTests(ShopApi api)
{
    [Theory]
    [InlineData("/")]
    [InlineData("/counter")]
    [InlineData("/counter?q=80-0002")]
    [InlineData("/counter?q=KR-1A&scope=full&worn=7")]
    [InlineData("/compare?variant=KR-1A&variant=KR-2-001")]
    [InlineData("/warehouse")]
    [InlineData("/warehouse?scan=10-0001")]
    [InlineData("/warehouse/receive?scan=10-0001")]
    [InlineData("/warehouse/pull?job=NO-SUCH")]
    [InlineData("/warehouse/labels")]
    [InlineData("/counter/quote?variant=KR-1A&scope=full")]
    [InlineData("/counter/job?variants=KR-1A")]
    [InlineData("/counter/core?taken=NO-SUCH")]
    [InlineData("/bench")]
    [InlineData("/bench?job=NO-SUCH")]
    public async Task Every_page_is_a_whole_document_that_loads_only_the_shops_own_sheet_and_script(string address)
    {
        using var response = await api.Http.GetAsync(address);
        var page = await response.Content.ReadAsStringAsync();
        Assert.Equal(HttpStatusCode.OK, response.StatusCode);
        Assert.Equal("text/html; charset=utf-8", response.Content.Headers.ContentType?.ToString());
        Assert.StartsWith("<!DOCTYPE html>", page, StringComparison.Ordinal);
        Assert.EndsWith("</html>", page.TrimEnd(), StringComparison.Ordinal);
        Assert.Equal(2, page.Split("<script src=\"/shop.js?", StringSplitOptions.None).Length);
        Assert.Equal(2, page.Split("<script", StringSplitOptions.None).Length);
        Assert.DoesNotContain(" style=", page, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("default-src 'none'", response.Headers.GetValues("Content-Security-Policy").Single(), StringComparison.Ordinal);
        Assert.Contains("service information, local codes and licensed practice", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_counter_goes_from_a_number_to_the_kit_by_links_alone()
    {
        var found = await Page("/counter?q=20-0002");
        Assert.Contains("KR-1A", found, StringComparison.Ordinal);
        Assert.Contains("PRESSURE CLASS P80", found, StringComparison.Ordinal);
        var link = Link(found, "Full rebuild");
        Assert.Equal("/counter?q=20-0002&scope=full&variant=KR-1A", link);

        var kit = await Page(link);
        Assert.Contains("Pull or order", kit, StringComparison.Ordinal);
        Assert.Contains("80-0001", kit, StringComparison.Ordinal);
        Assert.Contains("name=\"variant\" value=\"KR-1A\"", kit, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_bench_shows_a_job_and_what_is_missing_before_its_next_step()
    {
        var started = (await api.Ask("""
            mutation { startJob(requestId: "page-job", number: "PAGE-1", exchange: true, scope: RESEAL, variants: ["KR-1A"], customerReference: "R-77 <b>") { result { job state } refusals { code sentence } } }
            """)).GetProperty("startJob");
        Assert.Equal("PAGE-1", started.GetProperty("result").GetProperty("job").GetString());
        Assert.Contains("/bench?job=PAGE-1", await Page("/bench"), StringComparison.Ordinal);

        var raw = await Raw("/bench?job=page-1");
        Assert.DoesNotContain("<b>", raw, StringComparison.Ordinal);
        var page = WebUtility.HtmlDecode(raw);
        Assert.Contains("PRESSURE CLASS P80", page, StringComparison.Ordinal);
        Assert.Contains("aria-current=\"step\">identified", page, StringComparison.Ordinal);
        Assert.Contains("/jobs/PAGE-1.xlsx", page, StringComparison.Ordinal);

        using var workbook = await api.Http.GetAsync("/jobs/PAGE-1.xlsx");
        Assert.Equal(HttpStatusCode.OK, workbook.StatusCode);
        Assert.Equal("PK"u8.ToArray(), (await workbook.Content.ReadAsByteArrayAsync())[..2]);
    }

    [Fact]
    public async Task Several_variants_are_set_side_by_side()
    {
        var page = await Page("/compare?variant=KR-1A&variant=KR-2-001");
        Assert.Contains("Pressure class", page, StringComparison.Ordinal);
        Assert.Contains("all=yes", page, StringComparison.Ordinal);
        Assert.Contains("It takes at least 2 variants to compare.", await Page("/compare?variant=KR-1A"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("/counter?q=no-such-thing-77", "is no number, machine, serial or tag that is known here.")]
    [InlineData("/counter?q=KR-1A&scope=full&worn=abc", "is no list of position numbers.")]
    [InlineData("/counter?q=KR-1A&scope=full&worn=999", "has no position 999.")]
    [InlineData("/counter?q=KR-1A&variant=KR-2-001", "KR-2-001 is not among what is left.")]
    [InlineData("/counter?seen=ears%3D3", "There is no feature")]
    [InlineData("/counter?q=--", "There is no letter and no digit to search for.")]
    [InlineData("/warehouse?scan=NO-SUCH", "Nothing here has the code")]
    [InlineData("/compare?variant=KR-1A&variant=NONE", "There is no variant")]
    [InlineData("/warehouse/receive?part=10-0001&scan=PAGE-SUCH", "value=\"PAGE-SUCH\"")]
    [InlineData("/warehouse/labels?codes=NO-SUCH", "no label was made")]
    [InlineData("/counter/quote?variant=NONE&scope=full", "There is no variant")]
    [InlineData("/bench?job=NO-SUCH", "NO-SUCH")]
    [InlineData("/bench?after=nonsense", "The cursor is none of this list's.")]
    public async Task What_cannot_be_shown_is_said_in_a_sentence(string address, string sentence) =>
        Assert.Contains(sentence, await Page(address), StringComparison.Ordinal);

    [Fact]
    public async Task What_was_typed_is_shown_as_text_and_a_text_of_any_length_is_answered()
    {
        var page = await Raw("/counter?q=%3Cscript%3Ealert(1)%3C%2Fscript%3E\"%27");
        Assert.DoesNotContain("<script>", page, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("&lt;script&gt;", page, StringComparison.Ordinal);
        Assert.Contains("No number is longer than", await Page("/counter?q=" + new string('A', 5_000)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Sheet_and_script_are_sent_once_and_for_good_and_the_first_visit_is_light()
    {
        var page = await Raw("/counter");
        var weight = page.Length;
        foreach (var file in (string[])["/shop.css", "/shop.js"])
        {
            var start = page.IndexOf(file + "?", StringComparison.Ordinal);
            using var first = await api.Http.GetAsync(page[start..page.IndexOf('"', start)]);
            Assert.Contains(first.Headers.CacheControl!.Extensions, one => one.Name == "immutable");
            weight += (await first.Content.ReadAsByteArrayAsync()).Length;

            using var plain = await api.Http.GetAsync(file);
            Assert.True(plain.Headers.CacheControl!.NoCache);
            using var request = new HttpRequestMessage(HttpMethod.Get, file);
            request.Headers.IfNoneMatch.Add(first.Headers.ETag!);
            using var again = await api.Http.SendAsync(request);
            Assert.Equal(HttpStatusCode.NotModified, again.StatusCode);
        }
        Assert.True(weight < 100_000, $"{weight} bytes, not even compressed.");
    }

    [Theory]
    [InlineData("20-00", "20-0002")]
    [InlineData("x", null)]
    [InlineData("%3Cb%3E", null)]
    public async Task Likely_answers_are_a_list_with_where_each_leads(string typed, string? likely)
    {
        var list = await Page("/counter/ahead?q=" + typed);
        if (likely is null) Assert.Empty(list.Trim());
        else
        {
            Assert.StartsWith("<ul role=\"listbox\"", list.Trim(), StringComparison.Ordinal);
            Assert.Contains($"data-go=\"/counter?q={likely}\"", list, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task A_label_printed_from_the_page_is_read_back_by_an_independent_reader()
    {
        PaperReaders.Needs("zbarimg", "zbar-tools");
        PaperReaders.Needs("pdftoppm", "poppler-utils");
        using var printed = await api.Http.GetAsync("/warehouse/labels.pdf?codes=10-0001%0A80-0001&paper=sheet");
        Assert.Equal("application/pdf", printed.Content.Headers.ContentType?.MediaType);
        var file = Path.GetTempFileName();
        try
        {
            await File.WriteAllBytesAsync(file, await printed.Content.ReadAsByteArrayAsync());
            PaperReaders.Run("pdftoppm", "-r", "300", "-png", "-singlefile", file, file);
            Assert.Equal(["10-0001", "80-0001"], PaperReaders.Run("zbarimg", "--quiet", "--raw", file + ".png").Order());
        }
        finally
        {
            File.Delete(file);
            File.Delete(file + ".png");
        }
    }

    private async Task<string> Page(string address) => WebUtility.HtmlDecode(await Raw(address));

    private async Task<string> Raw(string address)
    {
        using var response = await api.Http.GetAsync(address);
        Assert.Equal(HttpStatusCode.OK, response.StatusCode);
        return await response.Content.ReadAsStringAsync();
    }

    private static string Link(string page, string text)
    {
        var end = page.IndexOf($">{text}</a>", StringComparison.Ordinal);
        Assert.True(end > 0, $"No link {text}.");
        var start = page.LastIndexOf("href=\"", end, StringComparison.Ordinal) + "href=\"".Length;
        return page[start..page.IndexOf('"', start)];
    }
}
