using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using PartsLedger.Access;
using PartsLedger.Domain.Access;
using PartsLedger.Hosting;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Integration.Tests.Stock;
using PartsLedger.Stock;

namespace PartsLedger.Integration.Tests.Access;

/// <summary>Who did, saw or was refused what, and that nothing of it can be changed afterwards without verify naming the place.</summary>
public abstract class AuditSpecification<TStore>(TStore store) : Specification<TStore>(store) where TStore : Store
{
    private static readonly Caller Robin = new("robin", Role.Administrator) { Way = Way.Api, Address = "203.0.113.9" };
    private static readonly Caller Lee = new("lee", Role.Supervisor) { Way = Way.Page };

    public override async ValueTask InitializeAsync()
    {
        await base.InitializeAsync();
        // What the same caller sees again within a second, or is refused within a minute, is written once, and all tests of a class have one clock.
        Store.Clock.Advance(TimeSpan.FromMinutes(1));
    }

    [Fact]
    public async Task An_act_is_written_down_with_who_sent_it_and_from_where_once_however_often_it_is_sent()
    {
        var act = new AddPerson.Command(NewId(), "Kim", [Role.Counter]);
        await Send(act);
        await Send(act);
        await Send(new RevokeToken.Command(NewId(), "nothing"));
        var entries = await Entries();
        Assert.Equal(["RevokeToken", "AddPerson"], entries.Select(entry => entry.What));
        Assert.Equal(new FindAudit.Entry(1, Store.Clock.GetUtcNow(), "robin", AuditKind.Did, "AddPerson", "Kim", null, act.RequestId, Way.Api, "203.0.113.9",
            entries[1].Hash), entries[1]);
        Assert.Equal((AuditKind.Refused, "UNKNOWN_TOKEN", null), (entries[0].Kind, entries[0].Code, entries[0].About));
    }

    [Fact]
    public async Task An_act_that_was_not_committed_is_not_written_down_as_done()
    {
        using var gone = new CancellationTokenSource();
        await gone.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() =>
            Store.Dispatcher.Send<AddPerson.Command, PersonActed>(new(NewId(), "Kim", [Role.Counter]), Robin, gone.Token));
        await Store.Dispatcher.Send<MoveStock.Command, StockPosted>(new(NewId(), "nothing", "A", "B", PartsLedger.Domain.Measures.Quantity.FromWhole(1)),
            Caller.CommandLine, default);
        Assert.Empty(await Entries());
    }

    [Fact]
    public async Task Who_saw_a_delicate_list_and_who_was_not_allowed_is_written_down()
    {
        var page = new PageRequest(5, null);
        await Store.Dispatcher.Ask<FindPeople.Query, Page<FindPeople.Person>>(new(page), Lee, default);
        await Store.Dispatcher.Ask<FindTokens.Query, Page<FindTokens.Token>>(new(page), Lee, default);
        await Store.Dispatcher.Send<MakeToken.Command, MakeToken.Answer>(new(NewId(), "scale", [Role.Reader], 5), Lee, default);
        await Entries();
        Assert.Equal([("FindAudit", AuditKind.Saw, null), ("MakeToken", AuditKind.Refused, "NOT_ALLOWED"), ("FindTokens", AuditKind.Refused, "NOT_ALLOWED"),
            ("FindPeople", AuditKind.Saw, (string?)null)], (await Entries()).Select(entry => (entry.What, entry.Kind, entry.Code)));
    }

    [Fact]
    public async Task Signing_in_and_in_vain_is_written_down_and_what_was_typed_is_not()
    {
        await Send(new ChoosePassword.Command(NewId(), Link(await Send(new AddPerson.Command(NewId(), "Kim", [Role.Counter]))), new Secret("seven brass shims")));
        await SignIn("kim", "wrong");
        await SignIn("my password by mistake", "wrong");
        await SignIn("kim", "seven brass shims");
        for (var wrong = 0; wrong < 6; wrong++) await SignIn("Kim", "wrong");
        var entries = (await Entries()).Where(entry => entry.What == "SignInByPassword").Select(entry => (entry.Who, entry.About, entry.Code)).ToList();
        Assert.Equal(("nobody", "Kim", "SIGN_IN_LOCKED"), entries[0]);
        Assert.Equal([("nobody", "Kim", "SIGN_IN_REFUSED"), ("Kim", null, null), ("nobody", null, "SIGN_IN_REFUSED"), ("nobody", "Kim", "SIGN_IN_REFUSED")],
            entries[5..]);
    }

    [Fact]
    public async Task It_is_searched_by_who_what_kind_code_and_time_and_read_in_pages()
    {
        var start = Store.Clock.GetUtcNow();
        for (var at = 1; at <= 7; at++)
        {
            await Send(new AddPerson.Command(NewId(), $"Person {at}", [Role.Reader]));
            Store.Clock.Advance(TimeSpan.FromHours(1));
        }
        await Store.Dispatcher.Ask<FindTokens.Query, Page<FindTokens.Token>>(new(new(5, null)), Lee, default);
        var first = await Find(new(new(3, null), What: "AddPerson"));
        Assert.Equal(["Person 7", "Person 6", "Person 5"], first.Entries.Select(entry => entry.Item.About));
        var next = await Find(new(new(3, first.Entries[^1].Place), What: "AddPerson"));
        Assert.Equal(["Person 4", "Person 3", "Person 2"], next.Entries.Select(entry => entry.Item.About));
        Assert.True(next.HasNext);
        Assert.Equal(["Person 3", "Person 2"], (await Find(new(new(9, null), Since: start.AddHours(1), Before: start.AddHours(3)))).Entries.Select(entry => entry.Item.About));
        Assert.Equal("FindTokens", Assert.Single((await Find(new(new(9, null), Who: "lee", Kind: AuditKind.Refused, Code: "NOT_ALLOWED"))).Entries).Item.What);
    }

    [Fact]
    public async Task Writers_and_sealers_side_by_side_leave_every_act_once_in_a_whole_chain()
    {
        const int writers = 6, each = 5;
        using var writing = new CancellationTokenSource();
        var sealers = Enumerable.Range(0, 2).Select(_ => Task.Run(async () =>
        {
            while (!writing.IsCancellationRequested) await Seal();
        })).ToList();
        await Task.WhenAll(Enumerable.Range(0, writers).Select(writer => Task.Run(async () =>
        {
            for (var at = 0; at < each; at++) await Send(new AddPerson.Command(NewId(), $"Person {writer} {at}", [Role.Reader]));
        })));
        await writing.CancelAsync();
        await Task.WhenAll(sealers);
        var verified = await Verify(full: true);
        Assert.True(verified.Sound, string.Join('\n', verified.Breaches));
        Assert.Equal(writers * each, verified.Counted.AuditEntries);
        var entries = (await Find(new(new(100, null), What: "AddPerson"))).Entries.Select(entry => entry.Item).ToList();
        Assert.Equal(writers * each, entries.Select(entry => entry.About).Distinct().Count());
        Assert.Equal(Enumerable.Range(1, writers * each).Reverse().Select(at => (long)at), entries.Select(entry => entry.Place));
    }

    [Theory]
    [InlineData("update audit_entries set who = 'somebody else'")]
    [InlineData("delete from audit_entries")]
    [InlineData("update audit_seals set hash = 'x'")]
    [InlineData("delete from audit_seals")]
    public async Task The_database_lets_nothing_be_changed_or_deleted(string sql)
    {
        await Send(new AddPerson.Command(NewId(), "Kim", [Role.Reader]));
        await Seal();
        await Assert.ThrowsAnyAsync<System.Data.Common.DbException>(() => Store.With(db => db.Database.ExecuteSqlRawAsync(sql)));
        Assert.True((await Verify(full: true)).Sound);
    }

    private const string Third = "(select entry_id from audit_seals where position = 3)";
    private const string Fourth = "(select entry_id from audit_seals where position = 4)";

    [Theory]
    [InlineData("place 3", "update audit_entries set who = 'somebody else' where id = " + Third)]
    [InlineData("place 3", "update audit_entries set at = at + 1 where id = " + Third)]
    [InlineData("place 3", "update audit_entries set address = null where id = " + Third)]
    [InlineData("place 3", "delete from audit_entries where id = " + Third)]
    [InlineData("place 3", "delete from audit_seals where position = 3")]
    [InlineData("place 3", "update audit_seals set entry_id = case position when 3 then " + Fourth + " else " + Third + " end where position in (3, 4)")]
    [InlineData("place 3", "update audit_seals set position = position + 1000 where position >= 3")]
    [InlineData("place 3", "update audit_seals set hash = (select hash from audit_seals where position = 2) where position = 3")]
    [InlineData("entry f0", "insert into audit_entries (id, at, who, kind, what, way) values ('f0', 1931083200000000, 'kim', 'did', 'MoveStock', 'page')")]
    public async Task Tampering_past_the_triggers_is_found_and_the_first_broken_place_named(string where, string sql)
    {
        for (var at = 1; at <= 6; at++) await Send(new AddPerson.Command(NewId(), $"Person {at}", [Role.Reader]));
        await Seal();
        await Damage.Do(Store, sql, uniqueIndex: "audit_seals.ix_audit_seals_entry_id");
        var found = await Verify(full: false);
        Assert.Contains(found.Breaches, breach => breach.Rule == "AUDIT_IS_WHOLE" && breach.Where == where);
        Assert.False((await Verify(full: true)).Sound);
    }

    [Fact]
    public async Task What_was_verified_cannot_be_cut_off_or_written_anew()
    {
        for (var at = 1; at <= 3; at++) await Send(new AddPerson.Command(NewId(), $"Person {at}", [Role.Reader]));
        Assert.True((await Verify(full: false)).Sound);
        Assert.True((await Verify(full: false)) is { Sound: true, Counted.AuditEntries: 0 });
        await Send(new AddPerson.Command(NewId(), "Person 4", [Role.Reader]));
        Assert.True((await Verify(full: false)) is { Sound: true, Counted.AuditEntries: 1 });
        await Damage.Do(Store, "delete from audit_seals where position >= 3");
        Assert.Contains("does not reach so far", Assert.Single((await Verify(full: false)).Breaches, breach => breach.Where == "place 4").What, StringComparison.Ordinal);
    }

    private async Task<PersonActed> Send<TAct>(TAct act) where TAct : IAct<PersonActed> =>
        (await Store.Dispatcher.Send<TAct, PersonActed>(act, Robin, default)) is { Succeeded: true } done ? done.Result : new PersonActed("", "");

    private async Task SignIn(string name, string password)
    {
        await using var scope = Store.Services.CreateAsyncScope();
        await scope.ServiceProvider.GetRequiredService<SignIn>().ByPassword(name, password, default);
    }

    private async Task Seal()
    {
        await using var scope = Store.Services.CreateAsyncScope();
        await scope.ServiceProvider.GetRequiredService<AuditSealer>().SealAll(default);
    }

    private async Task<List<FindAudit.Entry>> Entries() => [.. (await Find(new(new(100, null)))).Entries.Select(entry => entry.Item)];

    private async Task<Page<FindAudit.Entry>> Find(FindAudit.Query query)
    {
        var found = await Store.Dispatcher.Ask<FindAudit.Query, Page<FindAudit.Entry>>(query, Robin, default);
        Assert.True(found.Succeeded, found.Refusal?.ToString());
        return found.Result;
    }

    private async Task<VerifyLedger.Answer> Verify(bool full) => (await Store.Dispatcher.Ask<VerifyLedger.Query, VerifyLedger.Answer>(new(full), default)).Result;

    private static Secret Link(PersonActed acted) => new(acted.Link!.Reveal().Split("code=")[1]);

    private static string NewId() => Guid.NewGuid().ToString();
}

public sealed class AuditOnSqlite(SqliteStore store) : AuditSpecification<SqliteStore>(store);

public sealed class AuditOnPostgreSql(PostgreSqlStore store) : AuditSpecification<PostgreSqlStore>(store);

public sealed class AuditOnSqlServer(SqlServerStore store) : AuditSpecification<SqlServerStore>(store);
