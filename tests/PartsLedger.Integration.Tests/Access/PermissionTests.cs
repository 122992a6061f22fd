using PartsLedger.Domain.Access;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Integration.Tests.Access;

public sealed class PermissionTests
{
    [Fact]
    public void Every_request_says_who_may_send_it()
    {
        var requests = typeof(Dispatcher).Assembly.GetTypes().Where(type => !type.IsInterface && type.GetInterfaces().Any(face => face.IsGenericType
            && (face.GetGenericTypeDefinition() == typeof(IQuery<>) || face.GetGenericTypeDefinition() == typeof(IAct<>)))).ToList();
        Assert.True(requests.Count > 90, $"Only {requests.Count} requests were found.");
        Assert.Empty(requests.Where(request => Permission.RolesFor(request).Count == 0 && !Permission.IsForAnybody(request)).Select(request => request.FullName));
    }

    [Fact]
    public void Whoever_comes_may_send_only_what_a_one_time_code_lets_them() => Assert.Equal(["ChoosePassword", "SetUpShop"],
        typeof(Dispatcher).Assembly.GetTypes().Where(Permission.IsForAnybody).Select(type => type.DeclaringType!.Name).Order());

    [Fact]
    public void What_says_nothing_of_who_may_send_it_is_refused_to_everybody() =>
        Assert.Equal("NOT_ALLOWED", Permission.WhyNot(typeof(PermissionTests), Caller.CommandLine)?.Code);

    [Fact]
    public void A_refusal_names_the_use_case_whose_it_is_and_what_the_caller_has()
    {
        Assert.Equal("Move stock is for: warehouse, rebuilder, supervisor. Kim has: reader.",
            Permission.WhyNot(typeof(MoveStock.Command), new Caller("Kim", Role.Reader))?.Sentence);
        Assert.Equal("Set shop choice is for: supervisor, administrator. Kim has: no role.",
            Permission.WhyNot(typeof(SetShopChoice.Command), new Caller("Kim"))?.Sentence);
    }

    [Theory]
    [InlineData(Role.Counter, true)]
    [InlineData(Role.Warehouse, true)]
    [InlineData(Role.Rebuilder, true)]
    [InlineData(Role.Supervisor, true)]
    [InlineData(Role.Administrator, false)]
    [InlineData(Role.Reader, false)]
    public void A_supervisor_may_do_the_shops_work_and_no_administrators(Role needed, bool may) => Assert.Equal(may, new[] { Role.Supervisor }.Cover(needed));
}
