using System.ComponentModel;
using GraphQL;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Hosting.GraphQl;

[NamedAfterItem("Payload")]
[Description("What became of an act: its result, or why it was refused. A refused act has changed nothing.")]
public sealed class Payload<T> where T : class
{
    internal Payload(T? result, Refusal? refusal) => (Result, Refusals) = (result, refusal is null ? [] : [new RefusalView(refusal)]);

    [Description("What was done; null when it was refused.")]
    public T? Result { get; }

    [Description("Why it was refused; empty when it was done.")]
    public IReadOnlyList<RefusalView> Refusals { get; }
}

[Name("Refusal")]
[Description("A \"no\": a code for programs, a sentence for the person at the counter, and what to do about it.")]
public sealed class RefusalView(Refusal refusal)
{
    [Description("Upper case with underscores; stable.")]
    public string Code => refusal.Code;

    [Description("What is wrong, and where.")]
    public string Sentence => refusal.Sentence;

    [Description("The next sensible step.")]
    public string WhatToDo => refusal.WhatToDo;
}

/// <summary>How a resolver sends an act: in the name of whoever sent the request it belongs to.</summary>
public sealed class Acting(Dispatcher dispatcher, CurrentCaller current)
{
    /// <summary>Sends the act; a refusal is part of the answer. An act that could not even be written down is refused without being sent.</summary>
    public async Task<Payload<TView>> Act<TAct, TAnswer, TView>(Outcome<TAct> act, Func<TAnswer, TView> view, CancellationToken cancellation)
        where TAct : IAct<TAnswer> where TAnswer : notnull where TView : class
    {
        if (!act.Succeeded) return new(null, act.Refusal);
        var outcome = await dispatcher.Send<TAct, TAnswer>(act.Result, current.Caller, cancellation);
        return outcome.Succeeded ? new(view(outcome.Result), null) : new(null, outcome.Refusal);
    }
}

/// <summary>What only an act is sent, and how it is read.</summary>
public static class ActingExtensions
{
    /// <summary>The id argument that every act takes.</summary>
    public const string RequestId =
        "Chosen by the caller, 1 to 100 characters, new for every new act and the same when trying again: the first answer comes back and nothing is done twice.";

    /// <summary>
    /// A quantity as the API is sent it. Refuses what is finer than a thousandth; what is larger than any quantity becomes the largest,
    /// which the act's own rule refuses with its own code.
    /// </summary>
    public static Outcome<Quantity> ToQuantity(this decimal number)
    {
        if (Math.Abs(number) > long.MaxValue / Quantity.PerWhole) return Quantity.FromThousandths(number > 0 ? long.MaxValue : -long.MaxValue);
        var thousandths = number * Quantity.PerWhole;
        return thousandths == decimal.Truncate(thousandths) ? Quantity.FromThousandths((long)thousandths)
            : new Refusal("QUANTITY_TOO_FINE", "A quantity has more than three decimals.", "Round it to the thousandth.");
    }
}
