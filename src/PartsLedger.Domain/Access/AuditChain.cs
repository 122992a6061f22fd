using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace PartsLedger.Domain.Access;

/// <summary>What an entry of the audit tells: something was done, something delicate was seen, or somebody was refused.</summary>
public enum AuditKind { Did, Saw, Refused }

/// <summary>By which of the program's doors somebody came; <see cref="Program"/> is the program by itself.</summary>
public enum Way { Program, Command, Page, Api }

/// <summary>
/// The hashes by which each sealed entry of the audit holds fast all before it: changing, leaving out, adding or swapping entries anywhere
/// changes every hash from there on.
/// </summary>
public static class AuditChain
{
    /// <summary>What comes before the first entry.</summary>
    public const string Beginning = "";

    /// <summary>The hash of one entry: SHA-256 in hexadecimal over the hash before it, its place and all its words.</summary>
    /// <param name="before">The hash of the entry before.</param>
    /// <param name="place">The entry's place, from 1.</param>
    /// <param name="words">Everything the entry tells, in a fixed order.</param>
    public static string Next(string before, long place, params ReadOnlySpan<string?> words)
    {
        // Each with its length in front, so that no letters can move from one word to its neighbour; a missing one is none of length 0.
        var text = new StringBuilder().Append(before).Append(CultureInfo.InvariantCulture, $"\n{place}\n");
        foreach (var word in words)
            if (word is null) text.Append("-\n");
            else text.Append(CultureInfo.InvariantCulture, $"{word.Length}:{word}\n");
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())));
    }
}
