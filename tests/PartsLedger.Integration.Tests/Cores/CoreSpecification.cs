using System.Data.Common;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Cores;
using PartsLedger.Data.Catalog;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Cores;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Stock;
using PartsLedger.Hosting;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Integration.Tests.Fit;

namespace PartsLedger.Integration.Tests.Cores;

public abstract class CoreSpecification<TStore>(TStore store) : BenchSpecification<TStore>(store) where TStore : Store
{
    [Fact]
    public async Task A_core_comes_in_is_graded_torn_down_and_its_deposit_given_back()
    {
        await Core(TakeIn("C-1", 40m));
        Assert.Equal(Each(40m), (await Ask<CoreBank.Query, CoreBank.Answer>(new())).Owed);
        await Core(new GradeCore.Command(NewId(), "C-1", CoreGrade.Sound, [new(4, Finding.Worn), new(15, Finding.Good, "free in its bore")]));
        await Core(new TearDownCore.Command(NewId(), "C-1", new("H-1", "30-HSG"), new("V-1", "30-VLV", null, 3, 1_200_000), "P-1", "S-01",
            [new("30-ROT", Quantity.FromWhole(1), "S-02")]));
        await Core(new SettleDeposit.Command(NewId(), "C-1", GiveBack: true));

        Assert.Equal(Money.Zero, (await Ask<CoreBank.Query, CoreBank.Answer>(new())).Owed);
        var used = await Store.With(db => db.StockBalances.Include(row => row.Part).SingleAsync());
        Assert.Equal(("30-ROT", StockCondition.Used, Quantity.FromWhole(1)), (used.Part.Number, used.Condition, used.OnHand));
        var transaction = await Store.With(db => db.StockTransactions.SingleAsync());
        Assert.Equal(("core", "C-1"), (transaction.BelongsTo, transaction.BelongsToRef));
    }

    [Fact]
    public async Task The_checklist_names_every_position_to_look_at_and_what_was_found()
    {
        await Store.With(async db =>
        {
            var variant = await db.Variants.SingleAsync();
            var part = await db.Parts.SingleAsync(row => row.NumberKey == "30ROT");
            db.AddRange(At(variant, 4, "Rotor"), At(variant, 15, "Valve"));
            await db.SaveChangesAsync();

            PositionRow At(VariantRow of, int position, string name) => new()
            {
                Variant = of, Position = position, Name = name, Part = part, Quantity = Quantity.FromWhole(1), PartGroup = PartGroup.Rotating, Renew = RenewRule.IfWorn,
            };
        });
        await Core(TakeIn("C-1", 40m));
        var before = await Ask<CoreByTag.Query, CoreByTag.Answer>(new("c-1"));
        Assert.Equal([(4, "Rotor", null), (15, "Valve", (Finding?)null)], before.Checklist.Select(check => (check.Position, check.Name, check.Finding)));
        Assert.Equal((CoreState.Arrived, null, Each(40m)), (before.State, before.Grade, before.Owed));

        await Core(new GradeCore.Command(NewId(), "C-1", CoreGrade.Sound, [new(4, Finding.Worn, "scored"), new(77, Finding.Missing)]));
        var after = await Ask<CoreByTag.Query, CoreByTag.Answer>(new("C-1"));
        Assert.Equal([(4, "Rotor", Finding.Worn), (15, "Valve", null), (77, "", Finding.Missing)],
            after.Checklist.Select(check => (check.Position, check.Name, check.Finding)));
        Assert.Equal("scored", after.Checklist[0].Note);
        Assert.Equal("UNKNOWN_CORE", (await Store.Dispatcher.Ask<CoreByTag.Query, CoreByTag.Answer>(new("C-9"), CancellationToken.None)).Refusal?.Code);
    }

    [Fact]
    public async Task Cores_are_listed_by_family_and_state_in_pages()
    {
        foreach (var tag in new[] { "C-1", "C-2", "C-3" }) await Core(TakeIn(tag, 0m));
        await Core(new EndCore.Command(NewId(), "C-2", SendBack: true, "not ours"));
        var first = await Ask<FindCores.Query, Page<FindCores.Found>>(new(null, "arrived", new PageRequest(1, null)));
        var rest = await Ask<FindCores.Query, Page<FindCores.Found>>(new(null, "arrived", new PageRequest(5, first.Entries[^1].Place)));
        Assert.Equal((true, "C-1", "C-3"), (first.HasNext, first.Entries.Single().Item.Tag, rest.Entries.Single().Item.Tag));
        Assert.Equal("sent back", (await Ask<FindCores.Query, Page<FindCores.Found>>(new("vs30", "sent-back", new PageRequest(5, null)))).Entries.Single().Item.State);
        Assert.Equal("UNKNOWN_STATE", (await Store.Dispatcher.Ask<FindCores.Query, Page<FindCores.Found>>(new(null, "asleep", new PageRequest(5, null)), CancellationToken.None)).Refusal?.Code);
        Assert.Equal("UNKNOWN_FAMILY", (await Store.Dispatcher.Ask<FindCores.Query, Page<FindCores.Found>>(new("NONE", null, new PageRequest(5, null)), CancellationToken.None)).Refusal?.Code);
    }

    [Fact]
    public async Task A_step_that_is_not_possible_says_what_is_possible_now()
    {
        await Core(TakeIn("C-1", 0m));
        Assert.Contains("graded, sent back, scrapped", (await No("CORE_STEP_NOT_POSSIBLE", TearDown("C-1"))).WhatToDo, StringComparison.Ordinal);
        await Core(new EndCore.Command(NewId(), "C-1", SendBack: true, "not ours"));
        await No("CORE_STEP_NOT_POSSIBLE", new GradeCore.Command(NewId(), "C-1", CoreGrade.Sound, []));
        await No("CORE_STEP_NOT_POSSIBLE", new EndCore.Command(NewId(), "C-1", SendBack: false, "again"));
        await No("UNKNOWN_CORE", new EndCore.Command(NewId(), "C-9", SendBack: false, "which"));
    }

    [Fact]
    public async Task A_deposit_is_settled_once_and_only_after_grading()
    {
        await Core(TakeIn("C-1", 40m));
        await No("CORE_NOT_GRADED", new SettleDeposit.Command(NewId(), "C-1", GiveBack: true));
        await Core(new GradeCore.Command(NewId(), "C-1", CoreGrade.Hopeless, []));
        await No("REASON_MISSING", new SettleDeposit.Command(NewId(), "C-1", GiveBack: false));
        await Core(new SettleDeposit.Command(NewId(), "C-1", GiveBack: false, "housing cracked through"));
        await No("DEPOSIT_SETTLED", new SettleDeposit.Command(NewId(), "C-1", GiveBack: true));
        await Core(TakeIn("C-2", 0m));
        await Core(new GradeCore.Command(NewId(), "C-2", CoreGrade.Sound, []));
        await No("NO_DEPOSIT", new SettleDeposit.Command(NewId(), "C-2", GiveBack: true));
    }

    [Fact]
    public async Task Two_who_settle_one_deposit_at_the_same_moment_settle_it_once()
    {
        await Core(TakeIn("C-1", 40m));
        await Core(new GradeCore.Command(NewId(), "C-1", CoreGrade.Sound, []));
        var outcomes = await Task.WhenAll(Enumerable.Range(0, 6).Select(_ =>
            Store.Dispatcher.Send<SettleDeposit.Command, CoreActed>(new(NewId(), "C-1", GiveBack: true), Rebuilder, CancellationToken.None)));
        Assert.Single(outcomes, outcome => outcome.Succeeded);
        Assert.All(outcomes.Where(outcome => !outcome.Succeeded), outcome => Assert.Equal("DEPOSIT_SETTLED", outcome.Refusal!.Code));
        Assert.Equal(Money.Zero, (await Ask<CoreBank.Query, CoreBank.Answer>(new())).Owed);
    }

    [Theory]
    [InlineData("update deposit_entries set amount = 1")]
    [InlineData("delete from deposit_entries")]
    [InlineData("update cores set deposit = -1")]
    [InlineData("update cores set state = 'lost'")]
    [InlineData("update cores set grade = null, state = 'torn-down'")]
    public async Task The_database_refuses_what_must_never_be(string sql)
    {
        await Core(TakeIn("C-1", 40m));
        await Assert.ThrowsAnyAsync<DbException>(() => Store.With(db => db.Database.ExecuteSqlRawAsync(sql)));
    }

    [Fact]
    public async Task Bad_intakes_are_refused_with_what_to_do()
    {
        await Core(TakeIn("C-1", 0m));
        await No("TAG_TAKEN", TakeIn("c-1", 0m));
        await No("DEPOSIT_BELOW_ZERO", TakeIn("C-2", -1m));
        await No("TAG_INVISIBLE", TakeIn("C 2", 0m));
        await No("TAG_LOOKALIKE", TakeIn("\u0421-2", 0m));
        await No("UNKNOWN_FAMILY", TakeIn("C-2", 0m) with { Family = "VS3O" });
        await No("UNKNOWN_VARIANT", TakeIn("C-2", 0m) with { Variant = "VS30-056" });
        await No("OTHER_FAMILY", TakeIn("C-2", 0m) with { Family = "OM45" });
        await No("DATE_IN_FUTURE", TakeIn("C-2", 0m) with { ReceivedOn = new DateOnly(2032, 1, 1) });
        await No("TEXT_TOO_LONG", TakeIn("C-2", 0m) with { Condition = new string('x', 10_000) });
        await Core(TakeIn("C-3", 0m) with { Family = null, Variant = null });
    }

    [Fact]
    public async Task Bad_tear_downs_are_refused_and_leave_nothing()
    {
        await Core(TakeIn("C-1", 0m));
        await Core(new GradeCore.Command(NewId(), "C-1", CoreGrade.Sound, []));
        await No("PAIR_STAYS_TOGETHER", TearDown("C-1") with { Pair = null });
        await No("SHIMS_MISSING", TearDown("C-1") with { Valve = new("V-1") });
        await No("TAG_TAKEN", TearDown("C-1") with { Pair = "H-1" });
        await No("TAG_TAKEN", TearDown("C-1") with { Housing = new("C-1") });
        await No("UNKNOWN_PART", TearDown("C-1") with { Parts = [new("no such", Quantity.FromWhole(1), "S-01")] });
        await No("UNKNOWN_LOCATION", TearDown("C-1") with { Location = "Z-1" });
        await No("QUANTITY_NOT_WHOLE", TearDown("C-1") with { Parts = [new("30-ROT", Quantity.FromThousandths(1500), "S-01")] });
        Assert.Equal(0, await Store.With(db => db.Units.CountAsync()));
        Assert.Equal(CoreState.Graded, await Store.With(db => db.Cores.Select(row => row.State).SingleAsync()));
        await Core(TearDown("C-1"));
    }

    [Fact]
    public async Task The_bank_counts_cores_by_family_class_and_grade_with_what_is_owed()
    {
        await Core(TakeIn("C-1", 40m));
        await Core(TakeIn("C-2", 35m));
        await Core(TakeIn("C-3", 10m) with { Family = null, Variant = null });
        await Core(new GradeCore.Command(NewId(), "C-2", CoreGrade.Worn, []));
        await Core(new EndCore.Command(NewId(), "C-3", SendBack: true, "not ours"));
        var bank = await Ask<CoreBank.Query, CoreBank.Answer>(new());
        Assert.Equal([new("VS30", "P055", null, 1, Each(40m)), new("VS30", "P055", "worn", 1, Each(35m))], bank.Lines);
        Assert.Equal((Each(85m), Each(10m)), (bank.Owed, bank.OwedForLeft));
    }

    private static Money Each(decimal amount) => Money.FromTenThousandths((long)(amount * Money.PerUnit));

    private static TakeInCore.Command TakeIn(string tag, decimal deposit) =>
        new(NewId(), tag, "VS30", "VS30-055", "30A10022", "dirty, complete", null, "Riverside Lifts", Each(deposit));

    private static TearDownCore.Command TearDown(string core) =>
        new(NewId(), core, new("H-1", "30-HSG"), new("V-1", "30-VLV", null, 3, 1_200_000), "P-1", "S-01", []);

    private async Task<Domain.Outcomes.Refusal> No<TAct>(string code, TAct act) where TAct : IAct<CoreActed>
    {
        var outcome = await Store.Dispatcher.Send<TAct, CoreActed>(act, Rebuilder, CancellationToken.None);
        Assert.False(outcome.Succeeded, $"Expected {code}.");
        Assert.Equal(code, outcome.Refusal.Code);
        Assert.NotEmpty(outcome.Refusal.WhatToDo);
        return outcome.Refusal;
    }
}

public sealed class CoresOnSqlite(SqliteStore store) : CoreSpecification<SqliteStore>(store);

public sealed class CoresOnPostgreSql(PostgreSqlStore store) : CoreSpecification<PostgreSqlStore>(store);

public sealed class CoresOnSqlServer(SqlServerStore store) : CoreSpecification<SqlServerStore>(store);
