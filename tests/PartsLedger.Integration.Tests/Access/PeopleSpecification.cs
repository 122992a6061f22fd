using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using PartsLedger.Access;
using PartsLedger.Data.Access;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Integration.Tests.Databases;

namespace PartsLedger.Integration.Tests.Access;

/// <summary>People, what they show to be let in, and their tokens, on every database.</summary>
public abstract class PeopleSpecification<TStore>(TStore store) : Specification<TStore>(store) where TStore : Store
{
    private const string Password = "seven brass shims";
    private static readonly Caller Administrator = new("robin", Role.Administrator);
    private static readonly Caller Supervisor = new("lee", Role.Supervisor);

    [Fact]
    public async Task Five_wrong_passwords_lock_for_minutes_that_double_and_the_right_one_opens_again()
    {
        await Add("Kim", Role.Counter);
        for (var round = 0; round < 3; round++)
        {
            for (var wrong = 0; wrong < 5; wrong++) Assert.False(await SignsIn("Kim", "wrong password"));
            Assert.False(await SignsIn("Kim", Password));
            Store.Clock.Advance(TimeSpan.FromMinutes(5 << round) - TimeSpan.FromSeconds(1));
            Assert.False(await SignsIn("Kim", Password));
            Store.Clock.Advance(TimeSpan.FromSeconds(1));
        }
        Assert.True(await SignsIn(" kim ", Password));
        for (var wrong = 0; wrong < 4; wrong++) Assert.False(await SignsIn("Kim", "wrong password"));
        Assert.True(await SignsIn("Kim", Password));
    }

    [Fact]
    public async Task Of_many_tries_at_once_no_more_are_judged_than_of_many_in_a_row()
    {
        await Add("Kim", Role.Counter);
        var tries = await Task.WhenAll(Enumerable.Range(0, 12).Select(_ => SignsIn("Kim", "wrong password")));
        Assert.DoesNotContain(true, tries);
        Assert.False(await SignsIn("Kim", Password));
        var row = await Store.With(db => db.SignInTries.SingleAsync(one => one.Means == SignInMeans.Password));
        Assert.Equal((0, 1), (row.Wrong, row.Locks));
    }

    [Fact]
    public async Task A_link_is_good_once_for_an_hour_and_only_the_latest()
    {
        await Sent(new AddPerson.Command(NewId(), "Kim", [Role.Counter]), Administrator);
        var first = Link(await Sent(new ResetPassword.Command(NewId(), "Kim"), Supervisor));
        var second = Link(await Sent(new ResetPassword.Command(NewId(), "Kim"), Supervisor));
        await Refused("LINK_NOT_GOOD", new ChoosePassword.Command(NewId(), first, new Secret(Password)));
        await Refused("PASSWORD_LENGTH", new ChoosePassword.Command(NewId(), second, new Secret("short")));
        await Sent(new ChoosePassword.Command(NewId(), second, new Secret(Password)), new Caller("nobody"));
        await Refused("LINK_NOT_GOOD", new ChoosePassword.Command(NewId(), second, new Secret(Password)));
        var late = Link(await Sent(new ResetPassword.Command(NewId(), "Kim"), Supervisor));
        Assert.False(await SignsIn("Kim", Password));
        Store.Clock.Advance(TimeSpan.FromHours(1));
        await Refused("LINK_NOT_GOOD", new ChoosePassword.Command(NewId(), late, new Secret(Password)));
    }

    [Fact]
    public async Task A_link_is_told_in_the_first_answer_only()
    {
        var act = new AddPerson.Command(NewId(), "Kim", [Role.Counter]);
        Assert.NotNull((await Sent(act, Administrator)).Link);
        var again = await Sent(act, Administrator);
        Assert.Null(again.Link);
        Assert.Equal("Kim", again.Name);
    }

    [Fact]
    public async Task A_supervisor_helps_everybody_but_administrators_and_the_last_administrator_stays()
    {
        await Add("Robin", Role.Administrator);
        await Add("Kim", Role.Counter);
        await Sent(new ResetPassword.Command(NewId(), "Kim"), Supervisor);
        await Refused("ADMINISTRATOR_NEEDED", new ResetPassword.Command(NewId(), "Robin"), Supervisor);
        await Refused("LAST_ADMINISTRATOR", new SetPersonActive.Command(NewId(), "Robin", Active: false), Administrator);
        await Refused("LAST_ADMINISTRATOR", new ChangeRoles.Command(NewId(), "Robin", [Role.Reader]), Administrator);
        await Sent(new ChangeRoles.Command(NewId(), "Kim", [Role.Counter, Role.Administrator]), Administrator);
        await Sent(new SetPersonActive.Command(NewId(), "Robin", Active: false), Administrator);
        Assert.False(await SignsIn("Robin", Password));
        await Refused("NAME_TAKEN", new AddPerson.Command(NewId(), "ROBIN", [Role.Reader]), Administrator);
        await Refused("UNKNOWN_PERSON", new ResetPassword.Command(NewId(), "Mallory"), Supervisor);
        await Refused("ROLES_MISSING", new AddPerson.Command(NewId(), "Sam", []), Administrator);
    }

    [Fact]
    public async Task A_badge_with_a_pin_lets_in_whoever_has_the_benchs_roles_only()
    {
        await Add("Sam", Role.Warehouse, Role.Rebuilder);
        await Add("Kim", Role.Rebuilder, Role.Counter);
        await Refused("BADGE_FOR_BENCH_ONLY", new GiveBadge.Command(NewId(), "Kim", new Secret("B-000042"), new Secret("4711")), Supervisor);
        await Refused("PIN_TOO_PLAIN", new GiveBadge.Command(NewId(), "Sam", new Secret("B-000042"), new Secret("1234")), Supervisor);
        await Refused("BAD_BADGE", new GiveBadge.Command(NewId(), "Sam", new Secret("B-1"), new Secret("4711")), Supervisor);
        await Sent(new GiveBadge.Command(NewId(), "Sam", new Secret("B-000042"), new Secret("4711")), Supervisor);
        Assert.True((await Judge(signIn => signIn.ByBadge("b-000042", "4711", default))).Succeeded);
        await Add("Alex", Role.Warehouse);
        await Refused("BADGE_TAKEN", new GiveBadge.Command(NewId(), "Alex", new Secret("B-000042"), new Secret("4711")), Supervisor);

        // Three wrong PINs lock the badge, and not the password.
        for (var wrong = 0; wrong < 3; wrong++) Assert.False((await Judge(signIn => signIn.ByBadge("B-000042", "4712", default))).Succeeded);
        Assert.False((await Judge(signIn => signIn.ByBadge("B-000042", "4711", default))).Succeeded);
        Assert.True(await SignsIn("Sam", Password));
        Store.Clock.Advance(TimeSpan.FromMinutes(5));
        Assert.True((await Judge(signIn => signIn.ByBadge("B-000042", "4711", default))).Succeeded);

        await Sent(new ChangeRoles.Command(NewId(), "Sam", [Role.Warehouse, Role.Counter]), Administrator);
        Assert.False((await Judge(signIn => signIn.ByBadge("B-000042", "4711", default))).Succeeded);
    }

    [Fact]
    public async Task A_second_factors_code_opens_once_and_guessing_locks()
    {
        await Add("Kim", Role.Counter);
        var kim = await Store.With(db => db.People.AsNoTracking().SingleAsync());
        var self = new Caller("Kim", Role.Counter) { PersonId = kim.Id };
        await Refused("WRONG_PASSWORD", new StartSecondFactor.Command(NewId(), new Secret("wrong password")), self);
        await Refused("NO_SECOND_FACTOR_BEGUN", new ConfirmSecondFactor.Command(NewId(), new Secret("123456")), self);
        var key = (await Sent(new StartSecondFactor.Command(NewId(), new Secret(Password)), self)).Link!.Reveal();
        await Refused("WRONG_CODE", new ConfirmSecondFactor.Command(NewId(), new Secret("12345")), self);
        await Sent(new ConfirmSecondFactor.Command(NewId(), new Secret(Code(key))), self);
        await Refused("SECOND_FACTOR_IS_ON", new StartSecondFactor.Command(NewId(), new Secret(Password)), self);

        Assert.False((await BySecondFactor(kim, Code(key))).Succeeded);
        Store.Clock.Advance(TimeSpan.FromSeconds(30));
        var code = Code(key);
        var atOnce = await Task.WhenAll(Enumerable.Range(0, 4).Select(_ => BySecondFactor(kim, code)));
        Assert.Single(atOnce, outcome => outcome.Succeeded);
        Store.Clock.Advance(TimeSpan.FromMinutes(6));
        for (var wrong = 0; wrong < 5; wrong++) Assert.False((await BySecondFactor(kim, "00000x")).Succeeded);
        Assert.False((await BySecondFactor(kim, Code(key))).Succeeded);
        Store.Clock.Advance(TimeSpan.FromMinutes(10));
        Assert.True((await BySecondFactor(kim, Code(key))).Succeeded);
        await Sent(new ResetPassword.Command(NewId(), "Kim", SecondFactorToo: true), Supervisor);
        Assert.Null((await Store.With(db => db.People.AsNoTracking().SingleAsync())).SecondFactorKey);
    }

    [Fact]
    public async Task A_token_lets_in_with_its_roles_until_it_expires_or_is_revoked_and_is_told_once()
    {
        var act = new MakeToken.Command(NewId(), "Scale", [Role.Warehouse], 30);
        var token = (await Make(act)).Result.Token!.Reveal();
        Assert.Matches("^pl_[A-Za-z0-9_-]{43}$", token);
        Assert.Null((await Make(act)).Result.Token);
        Assert.Equal("NAME_TAKEN", (await Make(act with { RequestId = NewId(), Name = "scale" })).Refusal?.Code);
        Assert.Equal("BAD_EXPIRY", (await Make(act with { RequestId = NewId(), Name = "B", Days = 367 })).Refusal?.Code);

        var caller = (await Whose(token)).Result;
        Assert.Equal(("token Scale", CameBy.Token, Role.Warehouse), (caller.Name, caller.CameBy, Assert.Single(caller.Roles)));
        var used = Store.Clock.GetUtcNow();
        Store.Clock.Advance(TimeSpan.FromSeconds(59));
        await Whose(token);
        Assert.Equal(used, (await Listed()).LastUsedAt);
        Store.Clock.Advance(TimeSpan.FromSeconds(1));
        await Whose(token);
        Assert.Equal(used.AddMinutes(1), (await Listed()).LastUsedAt);

        foreach (var other in (string[])["", "pl_", token[..^1], token + "A", token.ToUpperInvariant()]) Assert.Equal("BAD_TOKEN", (await Whose(other)).Refusal?.Code);
        Store.Clock.Advance(TimeSpan.FromDays(30));
        Assert.Equal("BAD_TOKEN", (await Whose(token)).Refusal?.Code);
        var second = (await Make(new MakeToken.Command(NewId(), "Second", [Role.Reader], 1))).Result.Token!.Reveal();
        Assert.True((await Whose(second)).Succeeded);
        await Sent(new RevokeToken.Command(NewId(), "second"), Administrator);
        Assert.Equal("BAD_TOKEN", (await Whose(second)).Refusal?.Code);
        await Refused("UNKNOWN_TOKEN", new RevokeToken.Command(NewId(), "third"), Administrator);
    }

    private string Code(string key) => OneTimeCode.Of(OneTimeCode.FromBase32(key), Store.Clock.GetUtcNow().ToUnixTimeSeconds() / 30, 6);

    private Task<Outcome<PersonRow>> BySecondFactor(PersonRow person, string code) => Judge(signIn => signIn.BySecondFactor(person.Id, code, default));

    private async Task<bool> SignsIn(string name, string password) => (await Judge(signIn => signIn.ByPassword(name, password, default))).Succeeded;

    private async Task<Outcome<PersonRow>> Judge(Func<SignIn, Task<Outcome<PersonRow>>> judge)
    {
        await using var scope = Store.Services.CreateAsyncScope();
        return await judge(scope.ServiceProvider.GetRequiredService<SignIn>());
    }

    private async Task<Outcome<Caller>> Whose(string token)
    {
        await using var scope = Store.Services.CreateAsyncScope();
        return await scope.ServiceProvider.GetRequiredService<TokenDesk>().Whose(token, CancellationToken.None);
    }

    private async Task<FindTokens.Token> Listed() => Assert.Single((await Store.Dispatcher.Ask<FindTokens.Query, Page<FindTokens.Token>>(
        new(new PageRequest(5, null)), Administrator, CancellationToken.None)).Result.Entries).Item;

    private Task<Outcome<MakeToken.Answer>> Make(MakeToken.Command act) =>
        Store.Dispatcher.Send<MakeToken.Command, MakeToken.Answer>(act, Administrator, CancellationToken.None);

    private async Task Add(string name, params Role[] roles) => await Sent(new ChoosePassword.Command(
        NewId(), Link(await Sent(new AddPerson.Command(NewId(), name, roles), Administrator)), new Secret(Password)), new Caller("nobody"));

    private async Task<PersonActed> Sent<TAct>(TAct act, Caller caller) where TAct : IAct<PersonActed>
    {
        var outcome = await Store.Dispatcher.Send<TAct, PersonActed>(act, caller, CancellationToken.None);
        Assert.True(outcome.Succeeded, outcome.Refusal?.ToString());
        return outcome.Result;
    }

    private async Task Refused<TAct>(string code, TAct act, Caller? caller = null) where TAct : IAct<PersonActed> => Assert.Equal(code,
        (await Store.Dispatcher.Send<TAct, PersonActed>(act, caller ?? new Caller("nobody"), CancellationToken.None)).Refusal?.Code);

    private static Secret Link(PersonActed acted) => new(acted.Link!.Reveal().Split("code=")[1]);

    private static string NewId() => Guid.NewGuid().ToString();
}

public sealed class PeopleOnSqlite(SqliteStore store) : PeopleSpecification<SqliteStore>(store);
public sealed class PeopleOnPostgreSql(PostgreSqlStore store) : PeopleSpecification<PostgreSqlStore>(store);
public sealed class PeopleOnSqlServer(SqlServerStore store) : PeopleSpecification<SqlServerStore>(store);
