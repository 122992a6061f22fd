namespace PartsLedger.Domain.Access;

/// <summary>How many wrong tries lock a person's means of signing in, and for how long: each lock in a row twice as long as the last.</summary>
/// <param name="Wrong">So many tries are judged; the last of them locks unless it is right.</param>
/// <param name="Lock">How long the first lock lasts.</param>
public sealed record TryLimit(int Wrong, TimeSpan Lock)
{
    /// <summary>Locks grow up to sixteen times the first.</summary>
    public const int MostDoublings = 4;

    /// <summary>Our own choice: five passwords or codes, three PINs (which are short), then five minutes.</summary>
    public static TryLimit Of(SignInMeans means) => new(means == SignInMeans.Badge ? 3 : 5, TimeSpan.FromMinutes(5));

    /// <param name="locksBefore">Locks since the last right try.</param>
    public TimeSpan LockAfter(int locksBefore) => Lock * (1 << Math.Clamp(locksBefore, 0, MostDoublings));
}
