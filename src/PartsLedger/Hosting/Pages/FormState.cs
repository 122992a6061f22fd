using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Hosting.Pages;

/// <summary>What became of the form that this request brought: empty while none did, else why it was refused and what stood in it.</summary>
public sealed class FormState
{
    // Trying again may have been done after all, so it goes under the same id; anything else refused is a new act when it is sent again.
    private static readonly string[] TryAgain = ["BUSY", Dispatcher.DatabaseAway.Code];

    private string? _action;
    private Refusal? _refusal;
    private FormPost? _post;

    public void Refused(string action, FormPost post, Refusal refusal) => (_action, _post, _refusal) = (action, post, refusal);

    public Refusal? RefusalOf(string action) => _action == action ? _refusal : null;

    /// <summary>What was typed into a field of the refused form; nothing for fields whose words are secret, which nobody asks for here.</summary>
    public string? Typed(string name) => _post?.Text(name);

    public string RequestIdFor(string action) =>
        _action == action && TryAgain.Contains(_refusal!.Code) ? _post!.RequestId : Guid.NewGuid().ToString("N");
}
