using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Stock;
using PartsLedger.Kits;

namespace PartsLedger.Hosting;

/// <summary>How answers are written as JSON: camelCase, money and quantities as exact decimal numbers, enumerations as their words.</summary>
public static class ShopJson
{
    public static JsonSerializerOptions Options { get; } = Make(indented: false);

    /// <summary>The same, for people to read.</summary>
    public static JsonSerializerOptions Indented { get; } = Make(indented: true);

    /// <summary>The same with what a kit list says beyond the published form: for what is kept and read by the program itself.</summary>
    public static JsonSerializerOptions Kept { get; } = Make(indented: false, whole: true);

    private static JsonSerializerOptions Make(bool indented, bool whole = false)
    {
        var options = new JsonSerializerOptions(JsonSerializerDefaults.Web)
        {
            WriteIndented = indented,
            Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
            NumberHandling = JsonNumberHandling.Strict,
        };
        options.Converters.Add(new DecimalConverter<Quantity>(q => q.ToDecimal(), d => Quantity.FromThousandths((long)(d * Quantity.PerWhole))));
        options.Converters.Add(new DecimalConverter<Money>(m => m.ToDecimal(), d => Money.FromTenThousandths((long)(d * Money.PerUnit))));
        options.Converters.Add(new WordJson<PartKind>());
        options.Converters.Add(new WordJson<PartService>());
        options.Converters.Add(new WordJson<PartGroup>());
        options.Converters.Add(new WordJson<RenewRule>());
        options.Converters.Add(new WordJson<SupersessionRule>());
        options.Converters.Add(new WordJson<ValveFit>());
        options.Converters.Add(new WordJson<Tracking>());
        options.Converters.Add(new WordJson<Severity>());
        options.Converters.Add(new WordJson<LocationKind>());
        options.Converters.Add(new WordJson<StockCondition>());
        options.Converters.Add(new WordJson<OutsideWorld>());
        options.Converters.Add(new WordJson<ReserveRule>());
        options.Converters.Add(new WordJson<PullFrom>());
        options.Converters.Add(new WordJson<CountVerdict>());
        options.Converters.Add(new WordJson<Costing>());
        options.Converters.Add(new WordJson<JobScope>());
        options.Converters.Add(new WordJson<KitPreference>());
        options.Converters.Add(new WordJson<BuildRule>());
        options.Converters.Add(new WordJson<JobState>());
        options.Converters.Add(new WordJson<JobPriority>());
        options.Converters.Add(new WordJson<Role>());
        if (!whole) options.TypeInfoResolver = new DefaultJsonTypeInfoResolver { Modifiers = { AsPublished } };
        return options;
    }

    /// <summary>The names of a kit list are published: what was added since is not written, and read where it stands.</summary>
    private static void AsPublished(JsonTypeInfo type)
    {
        if (type.Type != typeof(KitSurplus)) return;
        foreach (var property in type.Properties.Where(property => property.PropertyType == typeof(bool))) property.ShouldSerialize = (_, _) => false;
    }

    private sealed class DecimalConverter<T>(Func<T, decimal> write, Func<decimal, T> read) : JsonConverter<T>
    {
        public override T Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) => read(reader.GetDecimal());

        // Idle zeros of the decimal's scale are dropped: 4.8000 is written 4.8.
        public override void Write(Utf8JsonWriter writer, T value, JsonSerializerOptions options) =>
            writer.WriteNumberValue(write(value) / 1.0000000000000000000000000000m);
    }

    private sealed class WordJson<T> : JsonConverter<T> where T : struct, Enum
    {
        public override T Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            Words.TryParse<T>(reader.GetString(), out var value) ? value : throw new JsonException($"'{reader.GetString()}' is no {typeof(T).Name}.");

        public override void Write(Utf8JsonWriter writer, T value, JsonSerializerOptions options) => writer.WriteStringValue(Words.Of(value));
    }
}
