using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Http.HttpResults;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Hosting.Pages;

/// <summary>How the shop writes, for the request that is being answered: asked once, before anything of the page is made.</summary>
public sealed class CurrentFormat(Asking asking)
{
    private bool _asked;

    public ShopFormat Format { get; private set; } = ShopFormat.Usual;

    /// <summary>Who is not signed in sees nothing of the shop, and neither how it writes: that is no refusal to be written down.</summary>
    public async Task Read(CancellationToken cancellation)
    {
        if (_asked || Permission.WhyNot(typeof(FormatOfShop.Query), asking.Caller) is not null) return;
        _asked = true;
        var format = await asking.Ask<FormatOfShop.Query, ShopFormat>(new(), cancellation);
        if (format.Succeeded) Format = format.Result;
    }
}

/// <summary>A page, made once it is known how the shop writes.</summary>
public sealed class ShopPageResult<TPage>(IReadOnlyDictionary<string, object?> parameters) : IResult where TPage : IComponent
{
    public async Task ExecuteAsync(HttpContext httpContext)
    {
        await httpContext.RequestServices.GetRequiredService<CurrentFormat>().Read(httpContext.RequestAborted);
        await new RazorComponentResult<TPage>(parameters) { PreventStreamingRendering = true }.ExecuteAsync(httpContext);
    }
}
