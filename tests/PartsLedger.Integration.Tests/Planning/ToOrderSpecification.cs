using Microsoft.EntityFrameworkCore;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Integration.Tests.Jobs;
using PartsLedger.Planning;

namespace PartsLedger.Integration.Tests.Planning;

/// <summary>What to order: what open jobs lack, and what runs out before new pieces can be here.</summary>
public abstract class ToOrderSpecification<TStore>(TStore store) : WorkSpecification<TStore>(store) where TStore : Store
{
    [Fact]
    public async Task Jobs_share_what_is_there_and_the_rest_is_to_be_ordered()
    {
        await Receive("80-RSL", 2, "A-02", "K1");
        foreach (var number in (string[])["1", "2", "3"])
        {
            await TornDownCore(number);
            await Do($"startJob(number: \"J-{number}\", scope: RESEAL, core: \"C-{number}\", prefer: STOCK, dueOn: \"2032-04-0{4 - int.Parse(number, System.Globalization.CultureInfo.InvariantCulture)}\")");
            await Do($"recordFindings(job: \"J-{number}\", findings: [])");
            await AcceptList($"J-{number}", "the rest is ordered");
        }
        await Do("reserveList(job: \"J-1\")", "job");

        // One kit is reserved, one free, three needed: one is to be ordered, and the job that is due first is named first.
        var kit = Assert.Single((await Ask()).Short, line => line.Part == "80-RSL");
        Assert.Equal("80-RSL: 3 needed, 2 there, 1 to order for J-3 J-2 J-1",
            $"{kit.Part}: {kit.Needed} needed, {kit.There} there, {kit.Missing} to order for {string.Join(' ', kit.Jobs)}");

        await Do("pullForJob(job: \"J-1\", scan: \"80-RSL\", lot: \"K1\")");
        kit = Assert.Single((await Ask()).Short, line => line.Part == "80-RSL");
        Assert.Equal("2 needed, 1 there, 1 to order for J-3 J-2", $"{kit.Needed} needed, {kit.There} there, {kit.Missing} to order for {string.Join(' ', kit.Jobs)}");
        await Receive("80-RSL", 1, "A-02", "K2");
        Assert.DoesNotContain((await Ask()).Short, line => line.Part == "80-RSL");
    }

    [Fact]
    public async Task A_part_runs_out_when_what_is_free_lasts_no_longer_than_new_ones_take_to_come()
    {
        await Store.With(db => db.Parts.Where(row => row.Number == "10-RING").ExecuteUpdateAsync(set => set.SetProperty(row => row.LeadDays, 14)));

        // With the 20 that were there a hundred.
        await Receive("10-RING", 80, "A-01");
        await Do("pullStock(job: \"OLD\", part: \"10-RING\", quantity: 40)", "job");
        Store.Clock.Advance(TimeSpan.FromDays(ToOrder.UsageDays + 1));
        await Do("pullStock(job: \"NOW\", part: \"10-RING\", quantity: 55)", "job");
        await Do("returnFromJob(job: \"NOW\", part: \"10-RING\", quantity: 5, to: \"A-01\")", "transaction");

        // 50 in 90 days, 10 left: 18 days, which is longer than 14. One job more and 8 last 13 days.
        Assert.Empty((await Ask()).Soon);
        await Do("pullStock(job: \"MORE\", part: \"10-RING\", quantity: 2)", "job");
        var soon = Assert.Single((await Ask()).Soon);
        Assert.Equal("10-RING: 8 free, 52 used, 13 days left, 14 to come", $"{soon.Part}: {soon.Free} free, {soon.Used} used, {soon.DaysLeft} days left, {soon.LeadDays} to come");
    }

    private async Task<ToOrder.Answer> Ask()
    {
        var asked = await Store.Dispatcher.Ask<ToOrder.Query, ToOrder.Answer>(new(), CancellationToken.None);
        Assert.True(asked.Succeeded, asked.Refusal?.ToString());
        return asked.Result;
    }
}

public sealed class ToOrderOnSqlite(SqliteStore store) : ToOrderSpecification<SqliteStore>(store);

public sealed class ToOrderOnPostgreSql(PostgreSqlStore store) : ToOrderSpecification<PostgreSqlStore>(store);

public sealed class ToOrderOnSqlServer(SqlServerStore store) : ToOrderSpecification<SqlServerStore>(store);
