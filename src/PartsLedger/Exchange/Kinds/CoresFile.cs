using Microsoft.EntityFrameworkCore;
using PartsLedger.Data.Cores;
using PartsLedger.Data.Fit;
using PartsLedger.Domain.Cores;
using PartsLedger.Domain.Measures;
using PartsLedger.Exchange.Reading;

namespace PartsLedger.Exchange.Kinds;

/// <summary>
/// Used pumps in the house. A new tag is taken in, with its deposit as owed. A core that is already on the books is described anew; what
/// has happened to it since, and its deposit, are not a file's to change.
/// </summary>
public sealed class CoresFile : FileKind<CoreRow, string>
{
    private Register<Named> _families = null!;
    private Register<Named> _variants = null!;
    private Dictionary<int, int> _familyOf = [];

    public override string Name => "cores";

    public override IReadOnlyList<Column> Columns { get; } =
    [
        Column.Key("tag"), Column.Optional("family"), Column.Optional("variant"), Column.Optional("serial"), Column.Optional("condition"),
        Column.Optional("received_on"), Column.Optional("received_from"), Column.Optional("deposit"),
    ];

    protected override async Task Prepare(KindRun run, CancellationToken cancellation)
    {
        (_families, _variants) = (await run.Registers.Families(), await run.Registers.Variants());
        _familyOf = await run.Db.Variants.AsNoTracking().ToDictionaryAsync(row => row.Id, row => row.FamilyId, cancellation);
    }

    protected override CoreRow Read(RowCells cells)
    {
        var tag = cells.Tag("tag");
        var (family, variant) = (_families.FindIfGiven(cells, "family"), _variants.FindIfGiven(cells, "variant"));
        if (family is not null && variant is not null && _familyOf[variant.Id] != family.Id)
            cells.Reject("variant", $"Variant {variant.Code} is not of family {family.Code}; leave one of them open if it is not certain.");
        return new CoreRow
        {
            Tag = tag.Text, TagKey = tag.Key, VariantId = variant?.Id, FamilyId = family?.Id ?? (variant is null ? null : _familyOf[variant.Id]),
            Serial = cells.OptionalText("serial", Limits.Code), ConditionOnArrival = cells.OptionalText("condition", Limits.Text),
            ReceivedOn = cells.OptionalDay("received_on", lastOfPeriod: false), ReceivedFrom = cells.OptionalText("received_from", Limits.Name),
            State = CoreState.Arrived, Deposit = cells.OptionalMoney("deposit") ?? Money.Zero,
        };
    }

    protected override string KeyOf(CoreRow row) => row.TagKey;

    protected override async Task Apply(KindRun run, IReadOnlyList<Judged<CoreRow, string>> rows, CancellationToken cancellation)
    {
        var known = await run.Db.Cores.ToDictionaryAsync(row => row.TagKey, StringComparer.Ordinal, cancellation);
        var taken = await TakenTags.Read(run.Db, cores: false, cancellation);
        var today = DateOnly.FromDateTime(run.Context.Now.UtcDateTime);
        foreach (var (line, row, key) in rows)
        {
            if (row.ReceivedOn > today) run.Reject(line, "received_on", $"{row.ReceivedOn:yyyy-MM-dd} has not come yet.");
            else if (taken.TryGetValue(key, out var by)) run.Reject(line, "tag", $"The tag {row.Tag} is already on {by}; no tag is used twice.");
            else if (known.TryGetValue(key, out var before)) Describe(run, line, before, row);
            else await TakeIn(run, row, cancellation);
            if (run.IsRejected(line)) run.NameRejected(Name, key, line);
        }
        await run.Db.SaveChangesAsync(cancellation);
        run.Db.ChangeTracker.Clear();
    }

    private static void Describe(KindRun run, int line, CoreRow before, CoreRow row)
    {
        if (before.Deposit != row.Deposit)
        {
            run.Reject(line, "deposit", $"Core {before.Tag} is on the books with a deposit of {before.Deposit}; a file cannot change it. Settle it instead.");
            return;
        }
        if ((before.FamilyId, before.VariantId, before.Serial, before.ConditionOnArrival, before.ReceivedOn, before.ReceivedFrom)
            == (row.FamilyId, row.VariantId, row.Serial, row.ConditionOnArrival, row.ReceivedOn, row.ReceivedFrom))
        {
            run.Unchanged++;
            return;
        }
        (before.FamilyId, before.VariantId, before.Serial, before.ConditionOnArrival, before.ReceivedOn, before.ReceivedFrom)
            = (row.FamilyId, row.VariantId, row.Serial, row.ConditionOnArrival, row.ReceivedOn, row.ReceivedFrom);
        before.Version++;
        run.Changed++;
    }

    private static async Task TakeIn(KindRun run, CoreRow row, CancellationToken cancellation)
    {
        run.Db.Cores.Add(row);
        await run.Db.SaveChangesAsync(cancellation);
        var (id, now, who) = ($"import-{Guid.NewGuid():n}", run.Context.Now, run.Context.Caller.Name);
        if (row.Deposit > Money.Zero)
            run.Db.DepositEntries.Add(new DepositEntryRow { CoreId = row.Id, Entry = DepositEntry.Owed, Amount = row.Deposit, At = now, Who = who, RequestId = id });
        run.Db.UnitEvents.Add(new UnitEventRow { CoreId = row.Id, What = "arrived", Detail = row.ConditionOnArrival, At = now, Who = who, RequestId = id });
        run.New++;
    }
}
