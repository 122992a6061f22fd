using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Access;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Access;

/// <summary>
/// Judges what people show to be let in. A try is counted before it is judged, in one statement: of a hundred tries at once no more are judged
/// than of a hundred in a row. Whoever is not known costs the same work and gets the same answer as whoever is.
/// </summary>
public sealed class SignIn(LedgerContext db, IPasswordHasher<PersonRow> hasher, AuditDesk audit, CurrentCaller current, TimeProvider clock)
{
    // What an unknown name's password is compared with: nobody's, at the cost of anybody's.
    private static readonly PersonRow Nobody = new() { Name = "", NameKey = "", Stamp = "", MadeBy = "" };
    private static string? _nobodysHash;

    public static Refusal NotTogether { get; } = new("SIGN_IN_REFUSED", "These do not belong together, or there were too many wrong tries.",
        "Check both and try again; after several wrong tries wait some minutes, or ask a supervisor to reset it.");

    public async Task<Outcome<PersonRow>> ByPassword(string? name, string? password, CancellationToken cancellation)
    {
        var key = Code.KeyOf(name);
        return await WrittenDown(nameof(ByPassword), await Judge(
            SignInMeans.Password, people => people.Where(row => row.NameKey == key), person => person.PasswordHash, password, cancellation), cancellation);
    }

    /// <summary>At a shared bench. Only who has nothing but the warehouse's and the bench's roles can sign in like this.</summary>
    public async Task<Outcome<PersonRow>> ByBadge(string? badge, string? pin, CancellationToken cancellation)
    {
        var hash = Secret.HashOfCode(Code.KeyOf(badge));
        var judged = await Judge(SignInMeans.Badge, people => people.Where(row => row.BadgeHash == hash), person => person.PinHash, pin, cancellation);
        var mayUse = judged.Person is { } person && AccessRules.MayUseBadge([.. person.Roles.Select(row => row.Role)]);
        return await WrittenDown(nameof(ByBadge), judged with { Right = judged.Right && mayUse }, cancellation);
    }

    /// <summary>The second factor of somebody whose password was right.</summary>
    public async Task<Outcome<PersonRow>> BySecondFactor(int personId, string? code, CancellationToken cancellation) =>
        await WrittenDown(nameof(BySecondFactor), await JudgeSecondFactor(personId, code, cancellation), cancellation);

    /// <summary>By the account that the shop's sign-in service vouches for: nobody is made here by it, and whoever is locked out stays so.</summary>
    public async Task<Outcome<PersonRow>> ByService(string? account, CancellationToken cancellation)
    {
        var found = string.IsNullOrEmpty(account) ? null : await Find(people => people.Where(row => row.Subject == account), cancellation);
        // Some databases take capitals and small letters for the same; the service does not.
        var person = found?.Subject == account ? found : null;
        var now = clock.GetUtcNow();
        var locked = person is not null && await db.SignInTries.AnyAsync(
            row => row.PersonId == person.Id && row.Means == SignInMeans.Password && row.LockedUntil > now, cancellation);
        var judged = await WrittenDown(nameof(ByService), new(person, locked, Right: person is not null && !locked), cancellation);
        return judged.Succeeded ? judged : SignInService.NotKnown;
    }

    private async Task<Judged> JudgeSecondFactor(int personId, string? code, CancellationToken cancellation)
    {
        var person = await Find(people => people.Where(row => row.Id == personId), cancellation);
        if (person is not { SecondFactorSince: not null }) return new(person, Locked: false, Right: false);
        if (!await TakeTry(person.Id, SignInMeans.SecondFactor, cancellation)) return new(person, Locked: true, Right: false);
        if (OneTimeCode.StepOf(person.SecondFactorKey!, code, clock.GetUtcNow()) is not { } step) return new(person, Locked: false, Right: false);

        // Taken only while no code of this step or a later one was: the same code never opens twice, not even twice at once.
        var taken = await db.Database.ExecuteSqlAsync(
            $"update people set second_factor_step = {step} where id = {person.Id} and second_factor_step < {step}", cancellation);
        if (taken == 1) await Forget(person.Id, SignInMeans.SecondFactor, cancellation);
        return new(person, Locked: false, Right: taken == 1);
    }

    /// <summary>A person by what a session holds, if they still are who they were: active, and nothing changed that ends sessions.</summary>
    public async Task<PersonRow?> Known(int personId, string stamp, CancellationToken cancellation) =>
        await Find(people => people.Where(row => row.Id == personId), cancellation) is { } person && person.Stamp == stamp ? person : null;

    /// <summary>Whether this is the password of the person, counted like a try to sign in.</summary>
    public async Task<bool> IsPassword(int personId, string? password, CancellationToken cancellation) => (await Judge(
        SignInMeans.Password, people => people.Where(row => row.Id == personId), person => person.PasswordHash, password, cancellation)).Right;

    private async Task<Judged> Judge(SignInMeans means, Func<IQueryable<PersonRow>, IQueryable<PersonRow>> who,
        Func<PersonRow, string?> hash, string? shown, CancellationToken cancellation)
    {
        var person = await Find(who, cancellation);
        var mayTry = person is not null && await TakeTry(person.Id, means, cancellation);
        var judged = person is not null && hash(person) is { } known ? known : _nobodysHash ??= hasher.HashPassword(Nobody, Secret.NewCode().Reveal());
        var right = hasher.VerifyHashedPassword(person ?? Nobody, judged, Shortened(shown)) != PasswordVerificationResult.Failed;
        if (!right || !mayTry || person is null || hash(person) is null) return new(person, Locked: person is not null && !mayTry, Right: false);
        await Forget(person.Id, means, cancellation);
        return new(person, Locked: false, Right: true);
    }

    /// <summary>
    /// What whoever tries is told, after the audit was told more: whose try it was if such a person is known, and whether they were locked out.
    /// What was typed for a name is not written down: now and then it is a password.
    /// </summary>
    private async Task<Outcome<PersonRow>> WrittenDown(string by, Judged judged, CancellationToken cancellation)
    {
        var (what, person) = ($"SignIn{by}", judged.Person);
        if (person is not null && judged.Right)
        {
            await audit.Write(current.Caller with { Name = person.Name }, new(AuditKind.Did, what), cancellation);
            return person;
        }
        await audit.Write(current.Caller, new(AuditKind.Refused, what, person?.Name, judged.Locked ? "SIGN_IN_LOCKED" : NotTogether.Code), cancellation);
        return NotTogether;
    }

    private readonly record struct Judged(PersonRow? Person, bool Locked, bool Right);

    // The hasher's work grows with what it is given, and nobody's password is longer.
    private static string Shortened(string? shown) => shown is { Length: > AccessRules.MaxPassword } ? "" : shown ?? "";

    private Task<PersonRow?> Find(Func<IQueryable<PersonRow>, IQueryable<PersonRow>> who, CancellationToken cancellation) =>
        who(db.People.AsNoTracking()).Include(row => row.Roles).Where(row => row.IsActive).SingleOrDefaultAsync(cancellation);

    /// <returns>The try may be judged: the means is not locked. The last try before a lock locks unless it proves right.</returns>
    private async Task<bool> TakeTry(int personId, SignInMeans means, CancellationToken cancellation)
    {
        var (limit, word, now) = (TryLimit.Of(means), Words.Of(means), clock.GetUtcNow());
        long Until(int locks) => Instant.ToMicroseconds(now + limit.LockAfter(locks));
        return await db.Database.ExecuteSqlAsync($"""
            update sign_in_tries set
                wrong = case when wrong + 1 >= {limit.Wrong} then 0 else wrong + 1 end,
                locked_until = case when wrong + 1 < {limit.Wrong} then null
                    when locks = 0 then {Until(0)} when locks = 1 then {Until(1)} when locks = 2 then {Until(2)}
                    when locks = 3 then {Until(3)} else {Until(4)} end,
                locks = case when wrong + 1 >= {limit.Wrong} then locks + 1 else locks end
            where person_id = {personId} and means = {word} and (locked_until is null or locked_until <= {Instant.ToMicroseconds(now)})
            """, cancellation) == 1;
    }

    private Task<int> Forget(int personId, SignInMeans means, CancellationToken cancellation) => db.Database.ExecuteSqlAsync(
        $"update sign_in_tries set wrong = 0, locks = 0, locked_until = null where person_id = {personId} and means = {Words.Of(means)}", cancellation);
}
