using PartsLedger.Domain.Measures;

namespace PartsLedger.Exchange.Reading;

/// <summary>A column of a file kind, by the name it has in the templates (a measure's without its unit).</summary>
public sealed record Column
{
    private Column(string name) => Name = name;

    public string Name { get; }

    /// <summary>Belongs to the natural key.</summary>
    public bool IsKey { get; private init; }

    /// <summary>The file is of no use without it.</summary>
    public bool IsNeeded { get; private init; }

    /// <summary>The units of a measure, the templates' one first; empty for anything else.</summary>
    public IReadOnlyList<MeasureUnit> Units { get; private init; } = [];

    /// <summary>As the templates write it: <c>relief_kpa</c>.</summary>
    public string TemplateName => Units.Count == 0 ? Name : $"{Name}_{Units[0].Suffix}";

    public static Column Key(string name) => new(name) { IsKey = true, IsNeeded = true };

    /// <summary>Part of the key, but what is missing is empty: no lot, no option.</summary>
    public static Column OptionalKey(string name) => new(name) { IsKey = true };

    public static Column Needed(string name) => new(name) { IsNeeded = true };

    public static Column Optional(string name) => new(name);

    public static Column Measure(string name, bool needed, MeasureUnit usual, IReadOnlyList<MeasureUnit> all) =>
        new(name) { IsNeeded = needed, Units = [usual, .. all.Where(unit => unit != usual)] };
}
