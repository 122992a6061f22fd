using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Domain.Access;

/// <summary>What names, passwords, PINs and badges must be like.</summary>
public static class AccessRules
{
    public const int MaxName = 60;
    public const int MinPassword = 12;
    public const int MaxPassword = 200;

    // Names under which the program itself writes down what was done.
    private static readonly string[] Own = ["API", "COMMAND LINE", "NOBODY", "SET-UP LINK", "THIS MACHINE"];

    /// <summary>A name to sign in with, with spare white space removed.</summary>
    public static Outcome<string> Name(string? text)
    {
        var name = string.Join(' ', (text ?? "").Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        if (name.Length is 0 or > MaxName || name.Any(char.IsControl))
            return new Refusal("BAD_PERSON_NAME", $"A name has 1 to {MaxName} characters.", "Give the name that is to be written beside what they do.");
        return Own.Contains(Code.KeyOf(name)) || Code.KeyOf(name).StartsWith("TOKEN ", StringComparison.Ordinal)
            ? new Refusal("NAME_IS_THE_PROGRAMS", $"The program itself writes as '{name}'.", "Choose another name.")
            : name;
    }

    /// <summary>Why this is no good password for somebody of that name, else null. Long and not the name; no rules about kinds of characters.</summary>
    public static Refusal? WhyNoPassword(string? password, string name)
    {
        if (password is not { Length: >= MinPassword and <= MaxPassword })
            return new Refusal("PASSWORD_LENGTH", $"A password has {MinPassword} to {MaxPassword} characters.", "Take a few words that nobody would put together.");
        return password.Contains(name, StringComparison.OrdinalIgnoreCase) || password.Distinct().Count() < 5
            ? new Refusal("PASSWORD_TOO_PLAIN", "The password is too easy to guess.", "Leave your name out of it and do not repeat one character.")
            : null;
    }

    /// <summary>Why this is no PIN for a shared bench, else null.</summary>
    public static Refusal? WhyNoPin(string? pin)
    {
        if (pin is not { Length: >= 4 and <= 8 } || !pin.All(char.IsAsciiDigit))
            return new Refusal("BAD_PIN", "A PIN has 4 to 8 digits.", "Choose digits that are not on the badge.");
        var steps = pin.Zip(pin.Skip(1), (one, next) => next - one).Distinct().ToList();
        return steps is [0 or 1 or -1] ? new Refusal("PIN_TOO_PLAIN", "The PIN is too easy to guess.", "Leave out rows such as 1111 and 1234.") : null;
    }

    /// <summary>Who may sign in by badge and PIN: people whose every role is the warehouse's or the bench's.</summary>
    public static bool MayUseBadge(IReadOnlyCollection<Role> roles) =>
        roles.Count > 0 && roles.All(role => role is Role.Warehouse or Role.Rebuilder);
}
