using PartsLedger.Domain.Access;

namespace PartsLedger.Data.Access;

/// <summary>Somebody who works with the program. People are made inactive, never deleted: their names stand beside what they did.</summary>
public sealed class PersonRow
{
    public int Id { get; private set; }
    public required string Name { get; init; }
    public required string NameKey { get; init; }
    public bool IsActive { get; set; } = true;

    /// <summary>As the framework's hasher wrote it; null until a password was chosen.</summary>
    public string? PasswordHash { get; set; }

    /// <summary>Changes with everything that must end the sessions in which it stands.</summary>
    public required string Stamp { get; set; }

    /// <summary>The second factor's key in base 32; counts once <see cref="SecondFactorSince"/> is set.</summary>
    public string? SecondFactorKey { get; set; }
    public DateTimeOffset? SecondFactorSince { get; set; }

    /// <summary>The time step of the last code that was taken: no code is taken twice.</summary>
    public long SecondFactorStep { get; set; }

    /// <summary>SHA-256 of the badge's code in hexadecimal.</summary>
    public string? BadgeHash { get; set; }
    public string? PinHash { get; set; }

    /// <summary>Who this is to the shop's sign-in service.</summary>
    public string? Subject { get; set; }

    /// <summary>Counts the changes, so that two people cannot both decide on the same one.</summary>
    public int Version { get; set; }
    public DateTimeOffset MadeAt { get; init; }
    public required string MadeBy { get; init; }
    public List<PersonRoleRow> Roles { get; } = [];
    public List<SignInTriesRow> Tries { get; } = [];
}

public sealed class PersonRoleRow
{
    public int PersonId { get; private set; }
    public Role Role { get; init; }
}

/// <summary>Wrong tries of one person with one means since the last right one.</summary>
public sealed class SignInTriesRow
{
    public int PersonId { get; private set; }
    public SignInMeans Means { get; init; }
    public int Wrong { get; set; }

    /// <summary>Locks since the last right try.</summary>
    public int Locks { get; set; }
    public DateTimeOffset? LockedUntil { get; set; }
}

/// <summary>A code that may be used once, to set the shop up (no person) or to choose a new password.</summary>
public sealed class OneTimeLinkRow
{
    public int Id { get; private set; }

    /// <summary>SHA-256 of the code in hexadecimal; the code itself is kept nowhere.</summary>
    public required string CodeHash { get; init; }
    public int? PersonId { get; init; }
    public PersonRow? Person { get; private set; }
    public DateTimeOffset MadeAt { get; init; }
    public required string MadeBy { get; init; }
    public DateTimeOffset ExpiresAt { get; init; }
    public DateTimeOffset? UsedAt { get; set; }
}

/// <summary>What another program shows to be let in.</summary>
public sealed class AccessTokenRow
{
    public int Id { get; private set; }
    public required string Name { get; init; }
    public required string NameKey { get; init; }

    /// <summary>SHA-256 of the token in hexadecimal; the token itself is kept nowhere.</summary>
    public required string Hash { get; init; }
    public DateTimeOffset MadeAt { get; init; }
    public required string MadeBy { get; init; }
    public DateTimeOffset ExpiresAt { get; init; }
    public DateTimeOffset? RevokedAt { get; set; }
    public string? RevokedBy { get; set; }
    public DateTimeOffset? LastUsedAt { get; set; }
    public List<TokenRoleRow> Roles { get; } = [];
}

public sealed class TokenRoleRow
{
    public int TokenId { get; private set; }
    public Role Role { get; init; }
}

/// <summary>A key with which cookies and forms are protected: in the database, so that several copies of the program take each other's.</summary>
public sealed class ProtectionKeyRow
{
    public int Id { get; private set; }
    public required string Name { get; init; }
    public required string Xml { get; init; }
}
