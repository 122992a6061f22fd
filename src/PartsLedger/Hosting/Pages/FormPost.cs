using PartsLedger.Access;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Hosting.Pages;

/// <summary>A form that a page sent: its fields, and how to do what it asks in the name of whoever sent it.</summary>
public sealed class FormPost(HttpContext http, IFormCollection fields)
{
    /// <summary>The field that <c>ShopForm</c> fills with the act's request id.</summary>
    public const string RequestField = "request";

    /// <summary>The field that holds the antiforgery token.</summary>
    public const string TokenField = "form";

    public HttpContext Http => http;

    public Caller Caller => http.RequestServices.GetRequiredService<CurrentCaller>().Caller;

    public string RequestId => Text(RequestField);

    /// <summary>A field's words without white space around them; empty when the form has no such field.</summary>
    public string Text(string name) => fields[name].ToString().Trim();

    /// <summary>A field's words, or null when nothing was given.</summary>
    public string? TextIfGiven(string name) => Text(name) is { Length: > 0 } text ? text : null;

    /// <summary>Every field's name.</summary>
    public IEnumerable<string> Names => fields.Keys;

    /// <summary>Every value of a field that may stand several times: boxes that were ticked.</summary>
    public IReadOnlyList<string> All(string name) => [.. fields[name].OfType<string>()];

    /// <summary>The files that were chosen; a form must be made for them (<c>ShopForm.Files</c>).</summary>
    public IReadOnlyList<IFormFile> Files => fields.Files;

    /// <summary>A field that must not be written down anywhere, as typed.</summary>
    public Secret Secret(string name) => new(fields[name].ToString());

    public Task<Outcome<TAnswer>> Send<TAct, TAnswer>(TAct act, CancellationToken cancellation) where TAct : IAct<TAnswer> where TAnswer : notnull =>
        http.RequestServices.GetRequiredService<Dispatcher>().Send<TAct, TAnswer>(act, Caller, cancellation);
}
