namespace PartsLedger.Domain.Access;

/// <summary>What somebody does in the shop. One person may have several; a machine's token has them too.</summary>
public enum Role { Counter, Warehouse, Rebuilder, Supervisor, Administrator, Reader }

/// <summary>What having roles comes to.</summary>
public static class Roles
{
    /// <summary>The work that a supervisor may do in anybody's place.</summary>
    public static readonly IReadOnlyList<Role> Shop = [Role.Counter, Role.Warehouse, Role.Rebuilder];

    /// <summary>Whoever has these roles may do what is for that one: having it, or being a supervisor where it is the shop's work.</summary>
    public static bool Cover(this IReadOnlyCollection<Role> held, Role needed) =>
        held.Contains(needed) || (held.Contains(Role.Supervisor) && Shop.Contains(needed));

    /// <summary>"counter, warehouse".</summary>
    public static string Say(this IEnumerable<Role> roles) => string.Join(", ", roles.Order().Select(role => Catalog.Words.Of(role)));
}
