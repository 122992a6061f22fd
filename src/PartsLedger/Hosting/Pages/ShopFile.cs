using System.Security.Cryptography;
using Microsoft.Net.Http.Headers;

namespace PartsLedger.Hosting.Pages;

/// <summary>A file that every page loads; it travels inside the program, so it is the same however that was published or started.</summary>
internal sealed class ShopFile
{
    private readonly string _name, _type, _tag;
    private readonly byte[] _content;

    public ShopFile(string name, string type)
    {
        using var stream = typeof(ShopFile).Assembly.GetManifestResourceStream($"PartsLedger.Hosting.Pages.{name}")
            ?? throw new InvalidOperationException($"{name} is not in the program.");
        using var copy = new MemoryStream();
        stream.CopyTo(copy);
        (_name, _type, _content) = (name, type, copy.ToArray());
        _tag = Convert.ToHexStringLower(SHA256.HashData(_content))[..16];
    }

    /// <summary>Another address whenever it is another file, so that a browser may keep it for good.</summary>
    public string Address => $"/{_name}?{_tag}";

    /// <summary>Open to everybody: the page at the door loads it too.</summary>
    public void Map(IEndpointRouteBuilder routes) => routes.MapGet($"/{_name}", (HttpContext http) =>
    {
        http.Response.Headers.CacheControl = http.Request.QueryString.Value == $"?{_tag}" ? "public, max-age=31536000, immutable" : "no-cache";
        return Results.Bytes(_content, $"{_type}; charset=utf-8", entityTag: new EntityTagHeaderValue($"\"{_tag}\""));
    }).AllowAnonymous();
}
