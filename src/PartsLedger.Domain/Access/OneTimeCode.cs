using System.Buffers.Binary;
using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Security.Cryptography;

namespace PartsLedger.Domain.Access;

/// <summary>
/// The six digits that an authenticator shows, RFC 6238: HMAC-SHA-1 over the number of half minutes since 1970. Written here and not left to
/// the framework's provider because that one does not tell which half minute a code was of, and so cannot keep it from being used twice.
/// </summary>
public static class OneTimeCode
{
    public const int StepSeconds = 30;

    /// <summary>Half minutes that a clock may be off, either way.</summary>
    public const int Slack = 1;

    private const string Alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567";

    /// <summary>Which half minute's code this is, within the slack around now; null when it is none.</summary>
    public static long? StepOf(string key, string? code, DateTimeOffset now)
    {
        var given = string.Concat((code ?? "").Where(character => !char.IsWhiteSpace(character)));
        var current = now.ToUnixTimeSeconds() / StepSeconds;
        long? found = null;

        // All are computed and compared in constant time, so that the time taken tells nothing.
        for (var step = current - Slack; step <= current + Slack; step++)
            if (CryptographicOperations.FixedTimeEquals(System.Text.Encoding.UTF8.GetBytes(Of(FromBase32(key), step, 6)), System.Text.Encoding.UTF8.GetBytes(given)))
                found = step;
        return found;
    }

    /// <summary>The code of a step in so many digits.</summary>
    [SuppressMessage("Security", "CA5350", Justification = "RFC 6238's default and the only one every authenticator knows.")]
    public static string Of(byte[] key, long step, int digits)
    {
        Span<byte> message = stackalloc byte[8];
        BinaryPrimitives.WriteInt64BigEndian(message, step);
        Span<byte> hash = stackalloc byte[HMACSHA1.HashSizeInBytes];
        HMACSHA1.HashData(key, message, hash);
        var number = BinaryPrimitives.ReadInt32BigEndian(hash[(hash[^1] & 15)..]) & int.MaxValue;
        var modulus = 1;
        for (var digit = 0; digit < digits; digit++) modulus *= 10;
        return (number % modulus).ToString(CultureInfo.InvariantCulture).PadLeft(digits, '0');
    }

    public static string ToBase32(byte[] bytes)
    {
        var text = new System.Text.StringBuilder();
        var (buffer, bits) = (0, 0);
        foreach (var one in bytes)
        {
            buffer = ((buffer << 8) | one) & 0xFFFF;
            for (bits += 8; bits >= 5; bits -= 5) text.Append(Alphabet[(buffer >> (bits - 5)) & 31]);
        }
        return bits == 0 ? text.ToString() : text.Append(Alphabet[(buffer << (5 - bits)) & 31]).ToString();
    }

    public static byte[] FromBase32(string text)
    {
        var bytes = new List<byte>();
        var (buffer, bits) = (0, 0);
        foreach (var character in text)
        {
            buffer = ((buffer << 5) | Alphabet.IndexOf(char.ToUpperInvariant(character), StringComparison.Ordinal)) & 0xFFFF;
            if ((bits += 5) < 8) continue;
            bytes.Add((byte)((buffer >> (bits -= 8)) & 0xFF));
        }
        return [.. bytes];
    }
}
