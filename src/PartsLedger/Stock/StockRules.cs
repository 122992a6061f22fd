using FluentValidation;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Stock;

/// <summary>Rules of form that many acts share, each with its code and what to do.</summary>
public static class StockRules
{
    public static IRuleBuilderOptions<T, string> Named<T>(this IRuleBuilder<T, string> rule, string what) => rule
        .NotEmpty().WithErrorCode("NAME_MISSING").WithMessage($"No {what} was given.").WithState(_ => $"Give the {what}.")
        .MaximumLength(100).WithErrorCode("TEXT_TOO_LONG").WithMessage($"The {what} is longer than 100 characters.")
        .WithState(_ => "Scan or type it again: two codes may have run together.");

    public static IRuleBuilderOptions<T, string?> CodeIfGiven<T>(this IRuleBuilder<T, string?> rule, string what) => rule
        .MaximumLength(100).WithErrorCode("TEXT_TOO_LONG").WithMessage($"The {what} is longer than 100 characters.")
        .WithState(_ => "Scan or type it again: two codes may have run together.");

    public static IRuleBuilderOptions<T, string?> ShortText<T>(this IRuleBuilder<T, string?> rule, string what) => rule
        .MaximumLength(500).WithErrorCode("TEXT_TOO_LONG").WithMessage($"The {what} is longer than 500 characters.")
        .WithState(_ => "Say it shorter.");

    public static IRuleBuilderOptions<T, string?> Reason<T>(this IRuleBuilder<T, string?> rule) => rule
        .NotEmpty().WithErrorCode("REASON_MISSING").WithMessage("No reason was given.").WithState(_ => "Say why in a few words.")
        .MaximumLength(500).WithErrorCode("TEXT_TOO_LONG").WithMessage("The reason is longer than 500 characters.").WithState(_ => "Say it shorter.");

    /// <summary>What a count found: zero is an answer too.</summary>
    public static IRuleBuilderOptions<T, Quantity> Counted<T>(this IRuleBuilder<T, Quantity> rule) => rule
        .Must(quantity => quantity >= Quantity.Zero).WithErrorCode("QUANTITY_NEGATIVE").WithMessage((_, quantity) => $"{quantity} cannot be counted.")
        .WithState(_ => "Give what is there; zero when there is nothing.")
        .Must(quantity => quantity <= StockRefusals.Largest).WithErrorCode("QUANTITY_TOO_LARGE").WithMessage((_, quantity) => $"{quantity} is too many to be true.")
        .WithState(_ => "Check the number: a code may have been scanned into the quantity.");

    public static IRuleBuilderOptions<T, IReadOnlyList<TLine>> SomeLines<T, TLine>(this IRuleBuilder<T, IReadOnlyList<TLine>> rule, string what) => rule
        .NotEmpty().WithErrorCode("NOTHING_TO_DO").WithMessage($"The {what} has no lines.").WithState(_ => "Give at least one line.")
        .Must(lines => lines is not { Count: > 500 }).WithErrorCode("TOO_MANY_LINES").WithMessage($"A {what} has at most 500 lines.")
        .WithState(_ => "Book it in several.");

    public static IRuleBuilderOptions<T, Quantity> Positive<T>(this IRuleBuilder<T, Quantity> rule) => rule
        .Must(quantity => quantity > Quantity.Zero).WithErrorCode("QUANTITY_NOT_POSITIVE").WithMessage((_, quantity) => $"{quantity} is not above zero.")
        .WithState(_ => "Give how many.")
        .Must(quantity => quantity <= StockRefusals.Largest).WithErrorCode("QUANTITY_TOO_LARGE").WithMessage((_, quantity) => $"{quantity} is too many to be true.")
        .WithState(_ => "Check the number: a code may have been scanned into the quantity.");

    public static IRuleBuilderOptions<T, Money?> NotNegative<T>(this IRuleBuilder<T, Money?> rule) => rule
        .Must(money => money is null || (money >= Money.Zero && money <= Money.FromTenThousandths(1_000_000_000L * Money.PerUnit)))
        .WithErrorCode("COST_OUT_OF_RANGE").WithMessage("The cost is below zero or above a thousand million.").WithState(_ => "Give the cost of one piece.");
}
