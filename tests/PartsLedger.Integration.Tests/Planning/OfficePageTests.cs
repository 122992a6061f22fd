using System.Net;
using System.Net.Http.Headers;
using System.Text;
using PartsLedger.Catalog;
using PartsLedger.Domain.Access;
using PartsLedger.Hosting;
using PartsLedger.Integration.Tests.Access;

namespace PartsLedger.Integration.Tests.Planning;

/// <summary>The office's pages as a browser without scripts uses them.</summary>
public sealed class OfficePageTests : IAsyncLifetime
{
    private const string Parts = "number,name,kind,service,tracking,unit,cost,price,supplied\r\n88-0001,Office ring,seal,separate,bulk,pc,1.25,2.50,yes\r\n88-0002,Bad ring,nonsense,separate,bulk,pc,1,2,yes\r\n";

    private DoorShop? _shop;

    private DoorShop Shop => _shop ?? throw new InvalidOperationException("The shop is not open.");

    public async ValueTask InitializeAsync()
    {
        _shop = await DoorShop.Open();
        await _shop.Add("Kim", Role.Administrator, Role.Supervisor);
        await _shop.Add("Ada", Role.Counter);
    }

    public async ValueTask DisposeAsync()
    {
        if (_shop is not null) await _shop.DisposeAsync();
    }

    [Fact]
    public async Task Files_are_looked_at_first_and_taken_then_and_what_was_rejected_comes_back()
    {
        using var browser = await SignedIn("Kim");
        using var looked = await Send(browser, "parts.csv", Parts);
        Assert.Equal(HttpStatusCode.SeeOther, looked.StatusCode);
        var address = looked.Headers.Location!.ToString();
        var page = WebUtility.HtmlDecode(await browser.Http.GetStringAsync(address));
        Assert.Contains("What would change", page, StringComparison.Ordinal);
        Assert.Contains("Take 1 row", page, StringComparison.Ordinal);
        Assert.Contains("Line 3", page, StringComparison.Ordinal);
        Assert.Equal(0, await Count());

        using var taken = await browser.Submit(address, "/office/import/take");
        Assert.Equal((HttpStatusCode.SeeOther, address), (taken.StatusCode, taken.Headers.Location!.ToString()));
        Assert.Equal(1, await Count());
        Assert.Contains("<h2>Taken</h2>", await browser.Http.GetStringAsync(address), StringComparison.Ordinal);
        var rejects = await browser.Http.GetStringAsync(address.Replace("?id=", "/", StringComparison.Ordinal) + "/rejects/parts.csv");
        Assert.Contains("88-0002", rejects, StringComparison.Ordinal);

        // Sent again with another price: which row, and what in it.
        using var again = await Send(browser, "parts.csv", Parts.Replace("2.50", "2.80", StringComparison.Ordinal));
        Assert.Contains("<strong>88-0001</strong> price: 2.50, now 2.80</li>", WebUtility.HtmlDecode(await browser.Http.GetStringAsync(again.Headers.Location!.ToString())), StringComparison.Ordinal);

        // Nobody else sees what somebody sent.
        await Shop.Add("Lou", Role.Administrator);
        using var other = await SignedIn("Lou");
        Assert.Contains("no longer here", await other.Http.GetStringAsync(address), StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_cannot_be_imported_is_said_and_names_no_place_on_this_machine()
    {
        using var browser = await SignedIn("Kim");
        using var answer = await Send(browser, "holiday.txt", "sun");
        var page = WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync());
        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        Assert.Contains("What was sent holds no file that the import takes.", page, StringComparison.Ordinal);
        Assert.DoesNotContain(Path.GetTempPath(), page, StringComparison.Ordinal);
        using var clerk = await SignedIn("Ada");
        using var refused = await Send(clerk, "parts.csv", Parts);
        Assert.Equal(HttpStatusCode.Forbidden, refused.StatusCode);
        Assert.Equal(0, await Count());
    }

    [Fact]
    public async Task The_shop_chooses_and_a_choice_that_makes_no_sense_stays_typed_under_its_refusal()
    {
        using var browser = await SignedIn("Kim");
        using var chosen = await browser.Submit("/office/choices", "/office/choices/guard-factor", ("value", "0.5"));
        Assert.Equal(HttpStatusCode.SeeOther, chosen.StatusCode);
        Assert.Contains("value=\"0.5\"", await browser.Http.GetStringAsync("/office/choices"), StringComparison.Ordinal);
        using var wrong = await browser.Submit("/office/choices", "/office/choices/guard-factor", ("value", "1.5"));
        var page = WebUtility.HtmlDecode(await wrong.Content.ReadAsStringAsync());
        Assert.Equal(HttpStatusCode.UnprocessableEntity, wrong.StatusCode);
        Assert.Contains("value=\"1.5\"", page, StringComparison.Ordinal);
        using var clerk = await SignedIn("Ada");
        using var refused = await clerk.Submit("/office/choices", "/office/choices/recount-above", ("value", "9"));
        Assert.Equal(HttpStatusCode.Forbidden, refused.StatusCode);
    }

    [Fact]
    public async Task Prices_are_set_where_they_changed_and_never_over_somebody_elses()
    {
        using var kim = await SignedIn("Kim");
        using var looked = await Send(kim, "parts.csv", Parts + "88-0003,Plain ring,seal,separate,bulk,pc,0.40,,yes\r\n");
        using var taken = await kim.Submit(looked.Headers.Location!.ToString(), "/office/import/take");
        var page = WebUtility.HtmlDecode(await kim.Http.GetStringAsync("/office/prices?begin=88"));
        Assert.Contains("1 part that is sold has no price.", page, StringComparison.Ordinal);
        Assert.Contains("name=\"price-88-0001\" value=\"2.50\"", page, StringComparison.Ordinal);

        // Two look; the one who sets it second is told, and what both did not touch stays as it is.
        using var set = await kim.Submit("/office/prices?begin=88", "/office/prices/set", ("price-88-0001", "2,75"));
        Assert.Equal("/office/prices?begin=88&set=1", set.Headers.Location!.ToString());
        Assert.Equal((2.75m, (decimal?)null), (await Price("88-0001"), await Price("88-0003")));
        using var late = await kim.Submit("/office/prices?begin=88", "/office/prices/set", ("price-88-0001", "3"), ("was-88-0001", "2.50"), ("price-88-0003", "0.9"));
        var refused = WebUtility.HtmlDecode(await late.Content.ReadAsStringAsync());
        Assert.Contains("Somebody else has set the price of 88-0001 to 2.75 meanwhile.", refused, StringComparison.Ordinal);
        Assert.Contains("name=\"price-88-0003\" value=\"0.9\"", refused, StringComparison.Ordinal);
        Assert.Equal((2.75m, (decimal?)null), (await Price("88-0001"), await Price("88-0003")));

        using var below = await kim.Submit("/office/prices?begin=88", "/office/prices/set", ("price-88-0003", "-1"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, below.StatusCode);
        using var same = await kim.Submit("/office/prices?begin=88", "/office/prices/set");
        Assert.Contains("No price is another one than before.", await same.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        using var away = await kim.Submit("/office/prices?begin=88", "/office/prices/set", ("price-88-0001", ""), ("price-88-0003", "0.90"));
        Assert.Equal((null, (decimal?)0.90m), (await Price("88-0001"), await Price("88-0003")));

        using var clerk = await SignedIn("Ada");
        using var no = await clerk.Submit("/office/prices?begin=88", "/office/prices/set", ("price-88-0001", "5"));
        Assert.Equal(HttpStatusCode.Forbidden, no.StatusCode);
    }

    private async Task<decimal?> Price(string part) =>
        (await Shop.Dispatcher.Ask<PriceList.Query, PriceList.Answer>(new(part, false), Caller.CommandLine, CancellationToken.None)).Result.Entries[0].Price?.ToDecimal();

    [Theory]
    [InlineData("length-unit", "in", "yard")]
    [InlineData("pressure-unit", "psi", "atm")]
    [InlineData("flow-unit", "gpm", "barrels")]
    [InlineData("temperature-unit", "f", "kelvin")]
    [InlineData("number-format", "1 234,5", "1.234.5")]
    [InlineData("currency", "# €", "€")]
    [InlineData("currency", "Fr. #", "-#")]
    [InlineData("guard-factor", "0.25", "0,2,5")]
    public async Task How_the_shop_writes_is_chosen_and_what_makes_no_sense_is_refused(string choice, string value, string wrong)
    {
        using var browser = await SignedIn("Kim");
        using var refused = await browser.Submit("/office/choices", $"/office/choices/{choice}", ("value", wrong));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.StatusCode);
        using var chosen = await browser.Submit("/office/choices", $"/office/choices/{choice}", ("value", value.Replace('.', choice == "guard-factor" ? ',' : '.')));
        Assert.Equal(HttpStatusCode.SeeOther, chosen.StatusCode);
        Assert.Contains($"id=\"{choice}\" name=\"value\" value=\"{value}\"", WebUtility.HtmlDecode(await browser.Http.GetStringAsync("/office/choices")), StringComparison.Ordinal);
        if (choice == "currency")
            Assert.Contains(value.Replace("#", "0.00", StringComparison.Ordinal).Replace(' ', '\u00A0'), WebUtility.HtmlDecode(await browser.Http.GetStringAsync("/office/value")), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Stock_value_and_what_to_order_say_so_when_there_is_nothing()
    {
        using var browser = await SignedIn("Ada");
        Assert.Contains("Nothing lies on any shelf yet.", await browser.Http.GetStringAsync("/office/value"), StringComparison.Ordinal);
        Assert.Contains("Nothing. What the accepted lists", await browser.Http.GetStringAsync("/office/order"), StringComparison.Ordinal);
        Assert.Contains("/office/order", await browser.Http.GetStringAsync("/office"), StringComparison.Ordinal);
    }

    private Task<int> Count() => Shop.With(db => Task.FromResult(db.Parts.Count(row => row.Number.StartsWith("88-"))));

    private async Task<Browser> SignedIn(string name)
    {
        var browser = Shop.Visit();
        using var came = await browser.Submit("/sign-in", "/sign-in", ("name", name), ("password", DoorShop.Password));
        Assert.Equal(HttpStatusCode.SeeOther, came.StatusCode);
        return browser;
    }

    private static async Task<HttpResponseMessage> Send(Browser browser, string name, string text)
    {
        var page = await browser.Http.GetStringAsync("/office/import");
        using var form = new MultipartFormDataContent { { new StringContent(page.Split("name=\"form\" value=\"")[1].Split('"')[0]), "form" }, { new StringContent(DoorShop.NewId()), "request" } };
        using var file = new ByteArrayContent(Encoding.UTF8.GetBytes(text));
        file.Headers.ContentType = new MediaTypeHeaderValue("text/csv");
        form.Add(file, "files", name);
        return await browser.Http.PostAsync("/office/import", form);
    }
}
