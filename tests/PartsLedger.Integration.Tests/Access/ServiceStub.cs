using System.Collections.Concurrent;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.WebUtilities;
using Microsoft.Extensions.Logging;

namespace PartsLedger.Integration.Tests.Access;

/// <summary>
/// A sign-in service on this machine, as OpenID Connect Core 1.0 (sections 3.1 and 10) and RFC 7636 have it: says how it is asked, gives a code
/// for an account without asking anybody, and a signed token for the code to whoever has the client's secret and the code's verifier.
/// </summary>
internal sealed class ServiceStub : IAsyncDisposable
{
    public const string Client = "shop", Secret = "the shop's secret at the service";

    private readonly RSA _key = RSA.Create(2048);
    private readonly ConcurrentDictionary<string, (string Nonce, string Challenge, string Back)> _codes = new();
    private WebApplication? _app;

    public Uri Address => new(_app!.Urls.First());

    /// <summary>Whom it vouches for next.</summary>
    public string Account { get; set; } = "account-1";

    /// <summary>What it puts in place of the nonce that it was sent; null for that itself.</summary>
    public string? OtherNonce { get; set; }

    /// <summary>For whom its tokens are.</summary>
    public string Audience { get; set; } = Client;

    /// <summary>Signs with a key that it does not publish.</summary>
    public bool ForeignKey { get; set; }

    public static async Task<ServiceStub> Start()
    {
        var stub = new ServiceStub();
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        var app = stub._app = builder.Build();
        app.MapGet("/.well-known/openid-configuration", () => Results.Json(new Dictionary<string, object>
        {
            ["issuer"] = stub.Issuer, ["authorization_endpoint"] = $"{stub.Issuer}/authorize", ["token_endpoint"] = $"{stub.Issuer}/token", ["jwks_uri"] = $"{stub.Issuer}/keys",
            ["response_types_supported"] = new[] { "code" }, ["subject_types_supported"] = new[] { "public" }, ["id_token_signing_alg_values_supported"] = new[] { "RS256" },
        }));
        app.MapGet("/keys", () =>
        {
            var key = stub._key.ExportParameters(includePrivateParameters: false);
            return Results.Json(new { keys = new[] { new { kty = "RSA", use = "sig", kid = "1", alg = "RS256", n = Base64(key.Modulus!), e = Base64(key.Exponent!) } } });
        });
        app.MapGet("/authorize", (HttpRequest request) =>
        {
            string Asked(string name) => request.Query[name].ToString();
            if (Asked("client_id") != Client || Asked("response_type") != "code" || Asked("code_challenge_method") != "S256") return Results.BadRequest();
            var code = Guid.NewGuid().ToString("N");
            stub._codes[code] = (Asked("nonce"), Asked("code_challenge"), Asked("redirect_uri"));
            return Results.Redirect(QueryHelpers.AddQueryString(Asked("redirect_uri"), new Dictionary<string, string?> { ["code"] = code, ["state"] = Asked("state") }));
        });
        app.MapPost("/token", async (HttpRequest request) =>
        {
            var form = await request.ReadFormAsync();
            var known = stub._codes.TryRemove(form["code"].ToString(), out var asked) && form["client_id"] == Client && form["client_secret"] == Secret
                && form["redirect_uri"] == asked.Back && Base64(SHA256.HashData(Encoding.ASCII.GetBytes(form["code_verifier"].ToString()))) == asked.Challenge;
            return known ? Results.Json(new { token_type = "Bearer", access_token = "unused", expires_in = 300, id_token = stub.Token(asked.Nonce) })
                : Results.Json(new { error = "invalid_grant" }, statusCode: 400);
        });
        await app.StartAsync();
        return stub;
    }

    private string Issuer => Address.ToString().TrimEnd('/');

    private string Token(string nonce)
    {
        var now = TimeProvider.System.GetUtcNow().ToUnixTimeSeconds();
        var signed = Base64(JsonSerializer.SerializeToUtf8Bytes(new { alg = "RS256", typ = "JWT", kid = "1" })) + "." + Base64(JsonSerializer.SerializeToUtf8Bytes(
            new { iss = Issuer, sub = Account, aud = Audience, iat = now, exp = now + 300, nonce = OtherNonce ?? nonce }));
        using var foreign = RSA.Create(2048);
        return signed + "." + Base64((ForeignKey ? foreign : _key).SignData(Encoding.ASCII.GetBytes(signed), HashAlgorithmName.SHA256, RSASignaturePadding.Pkcs1));
    }

    private static string Base64(byte[] bytes) => WebEncoders.Base64UrlEncode(bytes);

    public async ValueTask DisposeAsync()
    {
        if (_app is not null) await _app.DisposeAsync();
        _key.Dispose();
    }
}
