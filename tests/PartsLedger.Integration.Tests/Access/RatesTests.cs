using System.Net;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Domain.Access;
using PartsLedger.Hosting;

namespace PartsLedger.Integration.Tests.Access;

/// <summary>How often one account or one address may do what others pay for.</summary>
public sealed class RatesTests
{
    private const string Small = "{ variants(first: 1) { nodes { code } } }";

    private const string Heavy = "{ kitFor(variant: \"X-1\", scope: RESEAL) { variant } }";

    [Fact]
    public void Heavy_requests_say_so_and_are_these() => Assert.Equal(
        ["CanBuild", "ChangeMyPassword", "ConfirmSecondFactor", "HoldProposal", "ImportOptions", "JobFile", "KitFor", "KitForAny", "LabelsFor", "PlanHoning", "ProposePairs", "Quote", "Recall", "StartSecondFactor", "StockAsOf",
            "StockValue", "ToOrder", "VerifyLedger"],
        typeof(Dispatcher).Assembly.GetTypes().Where(HeavyAttribute.IsOn).Select(UseCase.Of).Order(StringComparer.Ordinal));

    [Fact]
    public async Task One_account_asks_heavy_questions_up_to_its_number_and_others_are_answered_meanwhile()
    {
        await using var shop = await DoorShop.Open(new ServeSettings { HeavyPerMinute = 3, HeavyPerAddress = 5 });
        await shop.Add("Kim", Role.Counter);
        using var program = shop.Visit();
        var (first, second) = (await shop.Token("first", 5, Role.Reader), await shop.Token("second", 5, Role.Reader));
        for (var asked = 0; asked < 3; asked++) Assert.Equal("UNKNOWN_VARIANT", await Code(first, Heavy));
        Assert.Equal("TOO_MANY", await Code(first, Heavy));
        Assert.Null(await Code(first, "{ variants { nodes { code } } }"));

        // Another account is answered until the address they share has asked for too much.
        for (var asked = 0; asked < 2; asked++) Assert.Equal("UNKNOWN_VARIANT", await Code(second, Heavy));
        Assert.Equal("TOO_MANY", await Code(second, Heavy));

        // The machine itself is not counted.
        for (var asked = 0; asked < 9; asked++)
            Assert.Equal("UNKNOWN_FAMILY", (await shop.Dispatcher.Ask<PartsLedger.Fit.ProposePairs.Query, PartsLedger.Fit.ProposePairs.Answer>(
                new("X", null), Caller.CommandLine, CancellationToken.None)).Refusal?.Code);

        async Task<string?> Code(string token, string query)
        {
            var (status, answer) = await program.Ask(query, ("Authorization", $"Bearer {token}"));
            Assert.Equal(HttpStatusCode.OK, status);
            return answer.TryGetProperty("errors", out _) ? Browser.Code(answer) : null;
        }
    }

    [Fact]
    public async Task Whoever_sends_documents_of_no_use_is_read_no_further_and_waits()
    {
        await using var shop = await DoorShop.Open(new ServeSettings { UselessPerMinute = 12 });
        await shop.Add("Kim", Role.Counter);
        using var program = shop.Visit();
        var (useless, useful) = (await shop.Token("useless", 5, Role.Reader), await shop.Token("useful", 5, Role.Reader));
        foreach (var document in (string[])["{ nothing }", "{", "{ ...a } fragment a on Query { ...a }"])
            Assert.Equal(HttpStatusCode.OK, (await program.Ask(document, ("Authorization", $"Bearer {useless}"))).Status);
        var (status, answer) = await program.Ask(Small, ("Authorization", $"Bearer {useless}"));
        Assert.Equal((HttpStatusCode.TooManyRequests, "TOO_MANY"), (status, Browser.Code(answer)));
        for (var asked = 0; asked < 9; asked++) Assert.Equal(HttpStatusCode.OK, (await program.Ask(Small, ("Authorization", $"Bearer {useful}"))).Status);
    }

    [Fact]
    public async Task A_document_that_asks_for_very_much_counts_as_several()
    {
        await using var shop = await DoorShop.Open(new ServeSettings { HeavyPerMinute = 2 });
        await shop.Add("Kim", Role.Counter);
        using var program = shop.Visit();
        var token = await shop.Token("greedy", 5, Role.Reader);
        const string Much = "{ variants(first: 100) { nodes { positions { part { usedIn(first: 10) { nodes { name } } } } } } }";
        Assert.False((await program.Ask(Much, ("Authorization", $"Bearer {token}"))).Answer.TryGetProperty("errors", out _));
        await program.Ask(Much, ("Authorization", $"Bearer {token}"));
        Assert.Equal("TOO_MANY", Browser.Code((await program.Ask(Much, ("Authorization", $"Bearer {token}"))).Answer));
    }

    [Fact]
    public async Task Pages_downloads_and_forms_that_come_too_often_are_answered_429_with_when_to_come_again()
    {
        await using var shop = await DoorShop.Open(new ServeSettings { HeavyPerMinute = 2 });
        await shop.Add("Robin", Role.Administrator);
        using var browser = shop.Visit();
        await browser.SignIn("Robin", DoorShop.Password);
        Assert.Equal(HttpStatusCode.NotFound, (await browser.Get("/plots/sizes.svg?family=X")).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await browser.Get("/office/order")).StatusCode);
        foreach (var address in (string[])["/plots/sizes.svg?family=X", "/office/order", "/jobs/J-1.xlsx", "/warehouse/labels.pdf?codes=A"])
        {
            using var turnedAway = await browser.Get(address);
            Assert.Equal((address, HttpStatusCode.TooManyRequests, 30), (address, turnedAway.StatusCode, (int)turnedAway.Headers.RetryAfter!.Delta!.Value.TotalSeconds));
            Assert.Contains("Try again in 30 seconds", await turnedAway.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        }
        Assert.Equal(HttpStatusCode.OK, (await browser.Get("/counter")).StatusCode);
    }

    [Fact]
    public async Task Asking_in_vain_over_and_over_does_not_make_the_audit_long()
    {
        await using var shop = await DoorShop.Open();
        await shop.Add("Kim", Role.Counter);
        using var program = shop.Visit();
        var token = await shop.Token("curious", 5, Role.Reader);
        for (var asked = 0; asked < 40; asked++)
            Assert.Equal("NOT_ALLOWED", Browser.Code((await program.Ask("{ people { nodes { name } } }", ("Authorization", $"Bearer {token}"))).Answer));

        // Twice where the minute changed meanwhile.
        Assert.InRange(await shop.With(db => db.AuditEntries.CountAsync(row => row.Who == "token curious" && row.Code == "NOT_ALLOWED")), 1, 2);
    }

    [Theory]
    [InlineData("Kim")]
    [InlineData("Nobody Here")]
    public async Task Tries_under_one_name_are_few_wherever_they_come_from_and_whether_it_is_known(string name)
    {
        await using var shop = await DoorShop.Open(new ServeSettings { SignInsPerName = 2 });
        await shop.Add("Kim", Role.Counter);
        await shop.Add("Sam", Role.Counter);
        using var browser = shop.Visit();
        for (var wrong = 0; wrong < 2; wrong++) Assert.Equal(HttpStatusCode.UnprocessableEntity, (await browser.SignIn(name, "wrong")).StatusCode);
        using var turnedAway = await browser.SignIn(name.ToUpperInvariant(), DoorShop.Password);
        Assert.Equal((HttpStatusCode.TooManyRequests, 60), (turnedAway.StatusCode, (int)turnedAway.Headers.RetryAfter!.Delta!.Value.TotalSeconds));
        Assert.Equal(HttpStatusCode.SeeOther, (await browser.SignIn("Sam", DoorShop.Password)).StatusCode);
    }
}
