using System.ComponentModel;
using GraphQL;
using PartsLedger.Domain.Catalog;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;

namespace PartsLedger.Planning;

/// <summary>What the API can be asked about what to order.</summary>
public sealed class PlanningFields
{
    private PlanningFields() { }

    [Description("What open jobs lack, and what will have run out before new pieces can be here.")]
    public static async Task<ToOrderView> ToOrder([FromServices] Asking asking, CancellationToken cancellation = default) =>
        new(await asking.Answer<ToOrder.Query, ToOrder.Answer>(new(), cancellation));
}

[Name("ToOrder")]
[Description("What to order.")]
public sealed class ToOrderView(ToOrder.Answer answer)
{
    [Description("Parts of which the accepted lists of open jobs need more than they have reserved and is free; by part number.")]
    public Connection<ShortPartView> Short(
        [Description(PageArguments.First)] int first = PageRequest.DefaultFirst, [Description(PageArguments.After)] string? after = null) =>
        Paged("to-order-short", first, after, answer.Short.Select(line => (PartNumber.Canonical(line.Part), new ShortPartView(line))));

    [Description("Parts that last no longer, used on as lately, than new ones take to come; what runs out first comes first.")]
    public Connection<RunningOutView> RunningOut(
        [Description(PageArguments.First)] int first = PageRequest.DefaultFirst, [Description(PageArguments.After)] string? after = null) =>
        Paged("to-order-soon", first, after, answer.Soon.Select(line => (FormattableString.Invariant($"{line.DaysLeft:0000} {line.Part}"), new RunningOutView(line))));

    private static Connection<TLine> Paged<TLine>(string kind, int first, string? after, IEnumerable<(string Key, TLine Line)> lines) where TLine : notnull
    {
        var page = PageRequest.Read(kind, first, after).OrRefuse();
        var rows = lines.OrderBy(entry => entry.Key, StringComparer.Ordinal)
            .Where(entry => page.After is null || string.CompareOrdinal(entry.Key, page.After) > 0).Take(page.First + 1).ToList();
        var keys = rows.ToDictionary(entry => (object)entry.Line, entry => entry.Key);
        return Connection.Of(kind, Page.Of(page, rows.ConvertAll(entry => entry.Line), line => keys[line]));
    }
}

[Name("ShortPart")]
[Description("A part that open jobs lack.")]
public sealed class ShortPartView(ToOrder.ShortPart line)
{
    [Description("The part's number.")]
    public string Part => line.Part;

    [Description("What the part is called.")]
    public string Name => line.Name;

    [Description("Still to be pulled by all open jobs together.")]
    public decimal Needed => line.Needed.ToDecimal();

    [Description("Of that, what these jobs have reserved and what is free.")]
    public decimal There => line.There.ToDecimal();

    [Description("What has to be ordered for them.")]
    public decimal Missing => line.Missing.ToDecimal();

    [Description("How long new ones take to come; null where nobody knows.")]
    public int? LeadDays => line.LeadDays;

    [Description("What one costs by the catalogue, in the shop's currency.")]
    public decimal UnitCost => line.Cost.ToDecimal();

    [Description("Who needs it, the job due first first.")]
    public IEnumerable<string> Jobs => line.Jobs;
}

[Name("RunningOut")]
[Description("A part that will have run out before new ones can be here.")]
public sealed class RunningOutView(ToOrder.RunningOut line)
{
    [Description("The part's number.")]
    public string Part => line.Part;

    [Description("What the part is called.")]
    public string Name => line.Name;

    [Description("On hand in good condition less reserved, less what open jobs still need.")]
    public decimal Free => line.Free.ToDecimal();

    [Description("Used by jobs in the last 90 days, less what they gave back.")]
    public decimal Used => line.Used.ToDecimal();

    [Description("Whole days that it lasts when used on like that.")]
    public int DaysLeft => line.DaysLeft;

    [Description("Days that new ones take to come.")]
    public int LeadDays => line.LeadDays;
}
