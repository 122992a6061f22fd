using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;
using PartsLedger.Hosting;

namespace PartsLedger.Jobs;

/// <summary>A kit answer as a list that is shown, compared and accepted.</summary>
internal static class ListText
{
    public static IReadOnlyList<ListedPieces> Of(KitAnswer answer) =>
        [.. answer.Lines.Select(line => new ListedPieces(line.Part, Quantity.FromWhole(line.Quantity)))];

    /// <summary>
    /// Twelve characters that change with every line, quantity and uncovered need: who accepts a list names the one that was shown. What
    /// is on the shelf is no part of it: that may change without the list changing.
    /// </summary>
    public static string MarkOf(KitAnswer answer) =>
        Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(JsonSerializer.Serialize(new
    {
        answer.Variant, answer.Scope, Lines = answer.Lines.Select(line => new { line.Part, line.Quantity, line.Covers }),
        Uncovered = answer.Uncovered.Select(need => new { need.Position, need.Part, need.Quantity }), answer.Surplus,
    }, ShopJson.Options))))[..12];
}
