using System.Collections.Concurrent;
using System.Reflection;
using System.Text;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Hosting;

/// <summary>Who may send a request: stands on its record and is checked by the dispatcher, so that no door can forget it.</summary>
/// <param name="roles">Any of these is enough. A supervisor may do all of the shop's work; see <see cref="Roles.Cover"/>.</param>
[AttributeUsage(AttributeTargets.Class)]
public sealed class AllowedAttribute(params Role[] roles) : Attribute
{
    public IReadOnlyList<Role> Roles { get; } = roles;
}

/// <summary>Every role may send it: the questions that are the shop's common knowledge.</summary>
[AttributeUsage(AttributeTargets.Class)]
public sealed class AllowedToEveryoneAttribute : Attribute;

/// <summary>Whoever comes may send it, signed in or not: something else lets them.</summary>
/// <param name="because">What does.</param>
[AttributeUsage(AttributeTargets.Class)]
public sealed class AllowedToAnybodyAttribute(string because) : Attribute
{
    public string Because { get; } = because;
}

/// <summary>
/// The audit tells who asked this question and got an answer, and who was refused this act, for whatever reason. Acts that are done, and whoever
/// is not allowed a request, are written down without it.
/// </summary>
[AttributeUsage(AttributeTargets.Class)]
public sealed class WrittenDownAttribute : Attribute
{
    private static readonly ConcurrentDictionary<Type, bool> Known = new();

    public static bool IsOn(Type request) => Known.GetOrAdd(request, static type => type.IsDefined(typeof(WrittenDownAttribute), inherit: false));
}

/// <summary>
/// The request costs so much that nobody may send it without end: stands on its record and is counted by the dispatcher, whoever's page, field
/// or download it is. The machine's own command line is not counted.
/// </summary>
[AttributeUsage(AttributeTargets.Class)]
public sealed class HeavyAttribute : Attribute
{
    private static readonly ConcurrentDictionary<Type, bool> Known = new();

    public static bool IsOn(Type request) => Known.GetOrAdd(request, static type => type.IsDefined(typeof(HeavyAttribute), inherit: false));
}

/// <summary>What a request's record says of who may send it.</summary>
public static class Permission
{
    private static readonly ConcurrentDictionary<Type, IReadOnlyList<Role>> Rules = new();

    /// <summary>The roles that may send this kind of request; none where nothing is said.</summary>
    public static IReadOnlyList<Role> RolesFor(Type request) => Rules.GetOrAdd(request, static type =>
        type.GetCustomAttribute<AllowedAttribute>() is { } some ? some.Roles
        : type.GetCustomAttribute<AllowedToEveryoneAttribute>() is not null ? Enum.GetValues<Role>() : []);

    public static bool IsForAnybody(Type request) => request.IsDefined(typeof(AllowedToAnybodyAttribute), inherit: false);

    /// <summary>Why this caller may not send such a request (<c>NOT_ALLOWED</c>), else null.</summary>
    public static Refusal? WhyNot(Type request, Caller caller)
    {
        var roles = RolesFor(request);
        if (roles.Any(role => caller.Roles.Cover(role)) || IsForAnybody(request)) return null;
        var holders = roles.Any(Roles.Shop.Contains) ? roles.Append(Role.Supervisor) : roles;
        var whose = roles.Count == 0 ? "nobody" : holders.Distinct().Say();
        var has = caller.Roles.Count == 0 ? "no role" : caller.Roles.Say();
        return new("NOT_ALLOWED", $"{InWords(request)} is for: {whose}. {caller.Name} has: {has}.",
            "Ask somebody with such a role to do it, or an administrator to give it to you.");
    }

    /// <summary>The use case in words: <c>MoveStock.Command</c> is "Move stock".</summary>
    public static string InWords(Type request) => InWords(UseCase.Of(request));

    /// <summary>A use case's name as the audit has it, in words.</summary>
    public static string InWords(string useCase)
    {
        var words = new StringBuilder();
        foreach (var character in useCase)
            if (char.IsUpper(character) && words.Length > 0) words.Append(' ').Append(char.ToLowerInvariant(character));
            else words.Append(character);
        return words.ToString();
    }
}
