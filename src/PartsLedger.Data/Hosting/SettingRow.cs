namespace PartsLedger.Data.Hosting;

/// <summary>One of the shop's choices, by its name.</summary>
public sealed class SettingRow
{
    public required string Name { get; init; }
    public required string Value { get; set; }
}
