using System.Globalization;
using System.Net;
using System.Text.Json;
using GraphQL.Types;
using Microsoft.Extensions.DependencyInjection;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;

namespace PartsLedger.Integration.Tests.Access;

/// <summary>
/// Every root field of the API, asked by a token of every role: who is refused is told by the request's own record and by nothing else. The
/// arguments are made up from their types; what becomes of an act that is let through does not matter here.
/// </summary>
public sealed class RoleMatrixTests
{
    [Fact]
    public async Task Each_role_may_send_over_the_API_exactly_what_the_requests_say()
    {
        await using var shop = await DoorShop.Open();
        await shop.Add("Robin", Role.Administrator);
        using var browser = shop.Visit();
        var tokens = new Dictionary<Role, string>();
        foreach (var role in Enum.GetValues<Role>()) tokens[role] = await shop.Token(Words.Of(role), 5, role);

        var requests = typeof(Dispatcher).Assembly.GetTypes().Where(type => type.Name is "Command" or "Query" && type.DeclaringType is not null)
            .GroupBy(Permission.InWords).ToDictionary(group => group.Key, group => group.Single());
        var schema = shop.App.Services.GetRequiredService<ShopSchema>();
        var (differences, walked) = (new List<string>(), new HashSet<Type>());
        foreach (var (field, isAct) in schema.Query.Fields.Select(field => (field, false)).Concat(schema.Mutation!.Fields.Select(field => (field, true))))
        {
            // Whose field it is, the refusal itself says: it names the use case. A field that nobody is refused is one that everybody may ask.
            var refused = new Dictionary<Role, string?>();
            foreach (var (role, token) in tokens)
            {
                var (status, answer) = await browser.Ask(Document(field, isAct), ("Authorization", $"Bearer {token}"));
                Assert.True(status == HttpStatusCode.OK, $"{field.Name}: {answer}");
                refused[role] = Refusal(answer, field.Name, isAct);
            }
            var named = refused.Values.OfType<string>().Select(sentence => sentence.Split(" is for:")[0]).Distinct().ToList();
            Assert.True(named.Count <= 1, $"{field.Name} sends {string.Join(" and ", named)}.");
            var may = named.Count == 0 ? Enum.GetValues<Role>() : Permission.RolesFor(requests[named[0]]);
            if (named.Count == 1) walked.Add(requests[named[0]]);
            foreach (var (role, sentence) in refused)
                if (may.Any(needed => new[] { role }.Cover(needed)) != (sentence is null)) differences.Add($"{field.Name} by {Words.Of(role)}: {sentence ?? "let through"}");
            if (isAct) Assert.True(named.Count == 1, $"{field.Name} is an act that a reader may do.");
        }
        Assert.Empty(differences);

        // What some role may not send was met on the walk, but for what has no field of its own.
        string[] withoutField = ["StockValue", "SetUpShop", "ChoosePassword", "OfferSetUp"];
        Assert.Empty(requests.Values.Where(request => Permission.RolesFor(request).Count < tokens.Count && !walked.Contains(request))
            .Select(request => request.DeclaringType!.Name).Except(withoutField));
    }

    [Fact]
    public async Task A_token_that_is_no_good_is_refused_before_anything_is_asked()
    {
        await using var shop = await DoorShop.Open();
        using var browser = shop.Visit();
        foreach (var shown in (string[])["Bearer pl_nothing", "Bearer ", "Basic YTpi", "pl_x"])
        {
            var (status, answer) = await browser.Ask("{ __typename }", ("Authorization", shown));
            Assert.Equal((HttpStatusCode.Unauthorized, "BAD_TOKEN"), (status, Browser.Code(answer)));
        }
    }

    private static string? Refusal(JsonElement answer, string field, bool isAct)
    {
        if (isAct && answer.TryGetProperty("data", out var data) && data.ValueKind == JsonValueKind.Object && data.TryGetProperty(field, out var payload))
            return payload.GetProperty("refusals").EnumerateArray().Where(one => one.GetProperty("code").GetString() == "NOT_ALLOWED")
                .Select(one => one.GetProperty("sentence").GetString()).FirstOrDefault();
        var errors = answer.TryGetProperty("errors", out var listed) ? listed.EnumerateArray().ToList() : [];
        Assert.DoesNotContain(errors, error => error.GetProperty("extensions").GetProperty("code").GetString() is "INTERNAL_ERROR" or "BAD_REQUEST");
        return errors.Where(error => error.GetProperty("extensions").GetProperty("code").GetString() == "NOT_ALLOWED")
            .Select(error => error.GetProperty("message").GetString()).FirstOrDefault();
    }

    private static string Document(FieldType field, bool isAct)
    {
        var arguments = string.Join(", ", (field.Arguments ?? []).Where(argument => argument.ResolvedType is NonNullGraphType)
            .Select(argument => $"{argument.Name}: {Value(argument.ResolvedType!, argument.Name)}"));
        var selection = isAct ? " { refusals { code sentence } }" : Unwrap(field.ResolvedType!) is IObjectGraphType or IInterfaceGraphType ? " { __typename }" : "";
        return $"{(isAct ? "mutation" : "query")} {{ {field.Name}{(arguments.Length > 0 ? $"({arguments})" : "")}{selection} }}";
    }

    private static string Value(IGraphType type, string name) => type switch
    {
        NonNullGraphType whole => Value(whole.ResolvedType!, name),
        ListGraphType list => $"[{Value(list.ResolvedType!, name)}]",
        EnumerationGraphType words => words.Values.First().Name,
        IInputObjectGraphType input => $"{{ {string.Join(", ", input.Fields.Where(field => field.ResolvedType is NonNullGraphType)
            .Select(field => $"{field.Name}: {Value(field.ResolvedType!, field.Name)}"))} }}",
        _ => type.Name switch
        {
            "Int" or "Long" or "Decimal" or "Float" => "1",
            "ID" => "\"1\"",
            "Boolean" => "true",
            "DateTimeOffset" or "DateTime" => "\"2031-03-12T12:00:00Z\"",
            "Date" or "DateOnly" => "\"2031-03-12\"",
            _ => name == "requestId" ? $"\"{Guid.NewGuid().ToString("N", CultureInfo.InvariantCulture)}\"" : "\"X1\"",
        },
    };

    private static IGraphType Unwrap(IGraphType type) => type is IProvideResolvedType { ResolvedType: { } inner } ? Unwrap(inner) : type;
}
