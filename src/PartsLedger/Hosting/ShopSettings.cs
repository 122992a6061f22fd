using System.Globalization;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Fit.Conformity;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Stock;

namespace PartsLedger.Hosting;

/// <summary>The shop's choices, each with what it is while nobody has chosen. Read inside the transaction that depends on them.</summary>
public sealed class ShopSettings
{
    public const string CostingName = "costing";
    public const string RecountAboveName = "recount-above";
    public const string GuardFactorName = "guard-factor";

    /// <summary>Every choice there is.</summary>
    public static IReadOnlyList<string> Names { get; } = [CostingName, RecountAboveName, GuardFactorName, .. FormatChoice.All.Select(choice => choice.Name)];

    public async Task<Costing> Costing(LedgerContext db, CancellationToken cancellation) =>
        CostingOf(await Read(db, CostingName, cancellation));

    /// <summary>What is kept under <see cref="CostingName"/>, read.</summary>
    public static Costing CostingOf(string? value) => Words.TryParse<Costing>(value, out var costing) ? costing : Domain.Stock.Costing.Average;

    /// <summary>Waits for whoever chooses the costing at this moment, and keeps anybody else from choosing it until the commit.</summary>
    public async Task HoldCosting(LedgerContext db, CancellationToken cancellation)
    {
        var there = await db.Database.ExecuteSqlAsync($"update settings set value = value where name = {CostingName}", cancellation);
        if (there > 0) return;
        var unchosen = Words.Of(Domain.Stock.Costing.Average);
        await db.Database.ExecuteSqlAsync($"insert into settings (name, value) values ({CostingName}, {unchosen})", cancellation);
    }

    /// <summary>A count that differs by more than this is counted again before the difference is posted.</summary>
    public async Task<Quantity> RecountAbove(LedgerContext db, CancellationToken cancellation) =>
        Quantity.TryParse(await Read(db, RecountAboveName, cancellation), out var limit) ? limit : Quantity.FromWhole(5);

    /// <summary>How much of the gauges' uncertainty is kept clear of the limits when halves are paired; all of it while nobody has chosen.</summary>
    public async Task<GuardFactor> GuardFactor(LedgerContext db, CancellationToken cancellation) =>
        decimal.TryParse(await Read(db, GuardFactorName, cancellation), NumberStyles.Number, CultureInfo.InvariantCulture, out var factor)
            && Domain.Fit.Conformity.GuardFactor.From(factor) is { Succeeded: true } read ? read.Result : Domain.Fit.Conformity.GuardFactor.Full;

    /// <summary>How the shop writes sizes, numbers and money; as usual in whatever nobody has chosen.</summary>
    public async Task<ShopFormat> Format(LedgerContext db, CancellationToken cancellation)
    {
        var names = FormatChoice.All.Select(choice => choice.Name).ToArray();
        var chosen = await db.Settings.AsNoTracking().Where(row => names.Contains(row.Name)).ToDictionaryAsync(row => row.Name, row => row.Value, cancellation);
        return FormatChoice.All.Aggregate(ShopFormat.Usual, (format, choice) =>
            chosen.TryGetValue(choice.Name, out var value) && choice.With(format, value) is { Succeeded: true, Result: var with } ? with : format);
    }

    private static Task<string?> Read(LedgerContext db, string name, CancellationToken cancellation) =>
        db.Settings.AsNoTracking().Where(row => row.Name == name).Select(row => row.Value).SingleOrDefaultAsync(cancellation);
}
