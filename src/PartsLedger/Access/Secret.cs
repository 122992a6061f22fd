using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.Json.Serialization;
using Microsoft.AspNetCore.WebUtilities;

namespace PartsLedger.Access;

/// <summary>
/// A text that must not be written down: a password, a PIN, a code shown once. It is left out of JSON, and so out of a request's fingerprint
/// and of the answer that is kept for a repeat, and prints as a word.
/// </summary>
[JsonConverter(typeof(LeftOut))]
public sealed class Secret(string text)
{
    /// <summary>The text itself: for hashing, comparing and showing once.</summary>
    public string Reveal() => text;

    public override string ToString() => "(secret)";

    /// <summary>A new code of 32 random bytes, in 43 characters that an address may hold.</summary>
    public static Secret NewCode(string prefix = "") => new(prefix + WebEncoders.Base64UrlEncode(RandomNumberGenerator.GetBytes(32)));

    /// <summary>SHA-256 in hexadecimal: enough for codes of 32 random bytes, which cannot be guessed; never for a password or a PIN.</summary>
    public static string HashOfCode(string? code) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(code ?? "")));

    private sealed class LeftOut : JsonConverter<Secret>
    {
        public override Secret? Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
        {
            reader.Skip();
            return null;
        }

        public override void Write(Utf8JsonWriter writer, Secret value, JsonSerializerOptions options) => writer.WriteNullValue();
    }
}
