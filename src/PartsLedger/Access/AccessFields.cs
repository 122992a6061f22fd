using System.ComponentModel;
using GraphQL;
using PartsLedger.Domain.Access;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;

namespace PartsLedger.Access;

/// <summary>What the API can be asked about people and tokens.</summary>
public sealed class AccessFields
{
    private AccessFields() { }

    [Description("Who works with the program, by name: for supervisors and administrators.")]
    public static async Task<Connection<PersonView>> People([FromServices] Asking asking,
        [Description("Only the person of this name.")] string? name = null,
        [Description(PageArguments.First)] int first = PageRequest.DefaultFirst, [Description(PageArguments.After)] string? after = null,
        CancellationToken cancellation = default) =>
        Connection.Of("people", (await asking.Answer<FindPeople.Query, Page<FindPeople.Person>>(
            new(PageRequest.Read("people", first, after).OrRefuse(), name), cancellation)).Select(person => new PersonView(person)));

    [Description("Which programs have tokens, by name: for administrators. A token itself is never told again.")]
    public static async Task<Connection<TokenView>> Tokens([FromServices] Asking asking,
        [Description(PageArguments.First)] int first = PageRequest.DefaultFirst, [Description(PageArguments.After)] string? after = null,
        CancellationToken cancellation = default) =>
        Connection.Of("tokens", (await asking.Answer<FindTokens.Query, Page<FindTokens.Token>>(
            new(PageRequest.Read("tokens", first, after).OrRefuse()), cancellation)).Select(token => new TokenView(token)));

    [Description("Who did, saw or was refused what, the latest first: for supervisors and administrators. Asking is written down too.")]
    public static async Task<Connection<AuditEntryView>> Audit([FromServices] Asking asking,
        [Description("The whole name that stands beside it.")] string? who = null, [Description("The use case, such as `MoveStock`.")] string? what = null,
        [Description("Only what was done, seen or refused.")] AuditKind? kind = null, [Description("The refusal's code.")] string? code = null,
        [Description("From then on.")] DateTimeOffset? since = null, [Description("Earlier than that.")] DateTimeOffset? before = null,
        [Description(PageArguments.First)] int first = PageRequest.DefaultFirst, [Description(PageArguments.After)] string? after = null,
        CancellationToken cancellation = default) =>
        Connection.Of("audit", (await asking.Answer<FindAudit.Query, Page<FindAudit.Entry>>(
            new(PageRequest.Read("audit", first, after).OrRefuse(), who, what, kind, code, since, before), cancellation)).Select(entry => new AuditEntryView(entry)));
}

/// <summary>What the API can do with people and tokens.</summary>
public sealed class AccessActs
{
    private const string NameText = "The person's name.";
    private const string RolesText = "All their roles from now on.";

    private AccessActs() { }

    [Description("Somebody new: an administrator's act. They choose their own password by the link in the answer.")]
    public static Task<Payload<PersonActedView>> AddPerson([FromServices] Acting acting, [Description(ActingExtensions.RequestId)] string requestId,
        [Description("The name that will stand beside what they do.")] string name, [Description(RolesText)] IReadOnlyList<Role> roles,
        CancellationToken cancellation = default) => Act(acting, new AddPerson.Command(requestId, name, roles), cancellation);

    [Description("Somebody's roles change, from their next request on: an administrator's act.")]
    public static Task<Payload<PersonActedView>> ChangeRoles([FromServices] Acting acting, [Description(ActingExtensions.RequestId)] string requestId,
        [Description(NameText)] string name, [Description(RolesText)] IReadOnlyList<Role> roles, CancellationToken cancellation = default) =>
        Act(acting, new ChangeRoles.Command(requestId, name, roles), cancellation);

    [Description("Somebody leaves and is signed out everywhere, or comes back: an administrator's act.")]
    public static Task<Payload<PersonActedView>> SetPersonActive([FromServices] Acting acting, [Description(ActingExtensions.RequestId)] string requestId,
        [Description(NameText)] string name, [Description("False when they leave.")] bool active, CancellationToken cancellation = default) =>
        Act(acting, new SetPersonActive.Command(requestId, name, active), cancellation);

    [Description("Somebody's password is taken away and they get a link to choose another: a supervisor's act, for an administrator another administrator's.")]
    public static Task<Payload<PersonActedView>> ResetPassword([FromServices] Acting acting, [Description(ActingExtensions.RequestId)] string requestId,
        [Description(NameText)] string name, [Description("Take the second factor off as well.")] bool secondFactorToo = false,
        CancellationToken cancellation = default) => Act(acting, new ResetPassword.Command(requestId, name, secondFactorToo), cancellation);

    [Description("Somebody of the warehouse or the benches gets a badge with a PIN, or gives it back: a supervisor's act.")]
    public static Task<Payload<PersonActedView>> GiveBadge([FromServices] Acting acting, [Description(ActingExtensions.RequestId)] string requestId,
        [Description(NameText)] string name, [Description("What scanning the badge gives; left out when the badge is taken away.")] string? badge = null,
        [Description("4 to 8 digits.")] string? pin = null, CancellationToken cancellation = default) => Act(acting, new GiveBadge.Command(
            requestId, name, badge is null ? null : new Secret(badge), pin is null ? null : new Secret(pin)), cancellation);

    [Description("Somebody's account at the shop's sign-in service is linked to them, or no longer: a supervisor's act, for an administrator another administrator's.")]
    public static Task<Payload<PersonActedView>> LinkAccount([FromServices] Acting acting, [Description(ActingExtensions.RequestId)] string requestId,
        [Description(NameText)] string name, [Description("What the service calls the account; left out when the link is taken away.")] string? account = null,
        CancellationToken cancellation = default) => Act(acting, new LinkAccount.Command(requestId, name, account), cancellation);

    [Description("A token for another program: an administrator's act. It is told in this answer and never again.")]
    public static Task<Payload<TokenMadeView>> MakeToken([FromServices] Acting acting, [Description(ActingExtensions.RequestId)] string requestId,
        [Description("The program's name, as it will stand beside what it does.")] string name, [Description("What the program may do.")] IReadOnlyList<Role> roles,
        [Description("For how many days it is good, 1 to 366.")] int days = 90, CancellationToken cancellation = default) =>
        acting.Act<MakeToken.Command, MakeToken.Answer, TokenMadeView>(
            new MakeToken.Command(requestId, name, roles, days), made => new TokenMadeView(made), cancellation);

    [Description("A token is good no longer: an administrator's act.")]
    public static Task<Payload<PersonActedView>> RevokeToken([FromServices] Acting acting, [Description(ActingExtensions.RequestId)] string requestId,
        [Description("The token's name.")] string name, CancellationToken cancellation = default) =>
        Act(acting, new RevokeToken.Command(requestId, name), cancellation);

    private static Task<Payload<PersonActedView>> Act<TAct>(Acting acting, TAct act, CancellationToken cancellation) where TAct : IAct<PersonActed> =>
        acting.Act<TAct, PersonActed, PersonActedView>(act, acted => new PersonActedView(acted), cancellation);
}
