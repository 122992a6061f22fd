using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Exchange;

public sealed record NamedPart(int Id, string Number, string Key, string Unit, Tracking Tracking, Money Cost);

public sealed record Named(int Id, string Code, string Key);

/// <summary>Loads the names that rows of one kind refer to: one query each, however many rows there are.</summary>
public sealed class Registers(LedgerContext db, RejectedNames rejected, CancellationToken cancellation)
{
    public async Task<Register<NamedPart>> Parts() => new("part", PartNumber.Canonical,
        await db.Parts.AsNoTracking().Select(row => new NamedPart(row.Id, row.Number, row.NumberKey, row.Unit, row.Tracking, row.Cost))
            .ToDictionaryAsync(row => row.Key, StringComparer.Ordinal, cancellation),
        row => row.Number, rejected.Of("parts"));

    public Task<Register<Named>> Families() =>
        Codes("family", "families", db.Families.Select(row => new Named(row.Id, row.Code, row.CodeKey)));

    public Task<Register<Named>> PressureClasses() =>
        Codes("pressure class", "pressure-classes", db.PressureClasses.Select(row => new Named(row.Id, row.Code, row.CodeKey)));

    public Task<Register<Named>> Variants() =>
        Codes("variant", "variants", db.Variants.Select(row => new Named(row.Id, row.Code, row.CodeKey)));

    public Task<Register<Named>> Features() =>
        Codes("feature", "feature-guide", db.Features.Select(row => new Named(row.Id, row.Code, row.CodeKey)));

    public Task<Register<Named>> Locations() =>
        Codes("location", "locations", db.Locations.Select(row => new Named(row.Id, row.Code, row.CodeKey)));

    public Task<Register<Named>> Cores() => Codes("core", "cores", db.Cores.Select(row => new Named(row.Id, row.Tag, row.TagKey)));

    public Task<Register<Named>> Gauges() => Codes("gauge", "gauges", db.Gauges.Select(row => new Named(row.Id, row.Code, row.CodeKey)));

    public Task<Register<Named>> Units() => Codes("unit", "units", db.Units.Select(row => new Named(row.Id, row.Tag, row.TagKey)));

    private async Task<Register<Named>> Codes(string what, string kind, IQueryable<Named> rows) => new(what, Code.KeyOf,
        await rows.ToDictionaryAsync(row => row.Key, StringComparer.Ordinal, cancellation), row => row.Code, rejected.Of(kind));
}

/// <summary>The names whose own rows were rejected in this import, so that a row that depends on one can say so.</summary>
public sealed class RejectedNames
{
    private readonly Dictionary<string, Dictionary<string, string>> _byKind = new(StringComparer.Ordinal);

    /// <param name="where">File and line.</param>
    public void Add(string kind, string key, string where)
    {
        if (!_byKind.TryGetValue(kind, out var names)) _byKind.Add(kind, names = new(StringComparer.Ordinal));
        names.TryAdd(key, where);
    }

    public IReadOnlyDictionary<string, string> Of(string kind) =>
        _byKind.GetValueOrDefault(kind) ?? (IReadOnlyDictionary<string, string>)new Dictionary<string, string>(StringComparer.Ordinal);
}
