using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Http.Features;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Hosting.Pages;

/// <summary>
/// How pages do something. A <c>ShopForm</c> on a page posts to an address mapped here; the act goes through the dispatcher like any other.
/// When it was done the browser is sent on, so that reloading does nothing again; when it was refused the page comes back with the refusal
/// above the form and everything in it as it was typed.
/// </summary>
public static class ShopForms
{
    private static readonly FormOptions Limits = new() { ValueCountLimit = 500, KeyLengthLimit = 100, ValueLengthLimit = 20_000, BufferBody = false };

    public static void AddShopForms(this IServiceCollection services)
    {
        services.AddScoped<FormState>();
        services.AddAntiforgery(options =>
        {
            options.FormFieldName = FormPost.TokenField;
            options.Cookie.Name = "partsledger-form";
            options.Cookie.HttpOnly = true;
            options.Cookie.SameSite = SameSiteMode.Strict;
            options.Cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest;
            // The pages' own policy already keeps them out of frames.
            options.SuppressXFrameOptionsHeader = true;
        });
    }

    /// <summary>Takes a form.</summary>
    /// <typeparam name="TPage">The page that comes back when it is refused.</typeparam>
    /// <param name="routes">Where to.</param>
    /// <param name="path">The form's address, as in its <c>Action</c>.</param>
    /// <param name="act">Does it: the address to go on to, on this site, or why it was refused.</param>
    /// <param name="page">What that page is made with.</param>
    public static RouteHandlerBuilder MapForm<TPage>(this IEndpointRouteBuilder routes, string path,
        Func<FormPost, CancellationToken, Task<Outcome<string>>> act, Func<FormPost, (string Name, object? Value)[]>? page = null)
        where TPage : IComponent => routes.Map<TPage, string>(path, act, (post, to) =>
        {
            post.Http.Response.Headers.Location = LocalAddress.Of(to);
            return Results.StatusCode(StatusCodes.Status303SeeOther);
        }, page);

    /// <summary>
    /// Takes a form whose answer stands in no address: what is shown this once, such as a new token, or an answer that is not kept. The page
    /// comes back with it at once. Sent again by reloading it has the same request id, so nothing is done twice, and what was shown once is not.
    /// </summary>
    /// <param name="told">What the page is made with when it was done.</param>
    public static RouteHandlerBuilder MapTellingForm<TPage, TAnswer>(this IEndpointRouteBuilder routes, string path,
        Func<FormPost, CancellationToken, Task<Outcome<TAnswer>>> act, Func<FormPost, TAnswer, (string Name, object? Value)[]> told,
        Func<FormPost, (string Name, object? Value)[]>? page = null) where TPage : IComponent where TAnswer : notnull =>
        routes.Map<TPage, TAnswer>(path, act, (post, answer) => ShopPages.Page<TPage>(post.Http, told(post, answer)), page);

    private static RouteHandlerBuilder Map<TPage, TAnswer>(this IEndpointRouteBuilder routes, string path,
        Func<FormPost, CancellationToken, Task<Outcome<TAnswer>>> act, Func<FormPost, TAnswer, IResult> done, Func<FormPost, (string Name, object? Value)[]>? page)
        where TPage : IComponent where TAnswer : notnull => routes.MapPost(path, async (HttpContext http, IAntiforgery antiforgery, FormState state) =>
        {
            FormPost post;
            try
            {
                http.Features.Set<IFormFeature>(new FormFeature(http.Request, Limits));
                post = new FormPost(http, await http.Request.ReadFormAsync(http.RequestAborted));
                await antiforgery.ValidateRequestAsync(http);
            }
            catch (Exception problem) when (problem is AntiforgeryValidationException or InvalidDataException or InvalidOperationException or BadHttpRequestException)
            {
                if (problem is AntiforgeryValidationException)
                    await http.RequestServices.GetRequiredService<Access.AuditDesk>().Refused(
                        http.RequestServices.GetRequiredService<CurrentCaller>().Caller, "SendForm", NotOurs.Code, http.RequestAborted);
                http.Response.StatusCode = StatusCodes.Status400BadRequest;
                return ShopPages.Page<Access.ClosedPage>(http, (nameof(Access.ClosedPage.Refusal), NotOurs));
            }
            await http.RequestServices.GetRequiredService<CurrentFormat>().Read(http.RequestAborted);
            var outcome = await act(post, http.RequestAborted);
            if (outcome.Succeeded) return done(post, outcome.Result);
            state.Refused(http.Request.Path, post, outcome.Refusal);
            http.RequestServices.GetRequiredService<CurrentCaller>().MustWait = http.RequestServices.GetRequiredService<Access.Rates>().WaitAfter(outcome.Refusal);
            http.Response.StatusCode = outcome.Refusal.Code == "NOT_ALLOWED" ? StatusCodes.Status403Forbidden : StatusCodes.Status422UnprocessableEntity;
            return ShopPages.Page<TPage>(http, page?.Invoke(post) ?? []);
        });

    private static Refusal NotOurs { get; } = new("FORM_NOT_OURS", "This form was not made by this site for you, or it is too old.",
        "Go back, load the page again and send it anew; nothing was done.");
}

/// <summary>Addresses that may be gone on to: of this site and no other.</summary>
public static class LocalAddress
{
    /// <summary>The address if it is a path of this site, else the first page.</summary>
    public static string Of(string? address) =>
        address is ['/', ..] && !address.StartsWith("//", StringComparison.Ordinal) && !address.Contains('\\', StringComparison.Ordinal)
            && !address.Any(char.IsControl) && Uri.TryCreate(address, UriKind.Relative, out _) ? address : "/";
}
