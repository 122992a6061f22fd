using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Tests.Kits.Reference;

namespace PartsLedger.Domain.Tests.Kits;

/// <summary>Asks the kit question as a clerk would and reads the answer back in one line. Every answer given here is checked for soundness.</summary>
internal static class KitCounter
{
    public static KitAnswer AnswerOf(
        CatalogueDraft shop, JobScope scope = JobScope.Reseal, KitPreference prefer = KitPreference.Cost, params int[] worn)
    {
        var (catalogue, question) = (shop.Finished(), CatalogueDraft.Ask(scope, worn, prefer));
        var answer = KitAnswering.Answer(catalogue, question, TestContext.Current.CancellationToken).Result;
        Assert.Empty(KitAnswerChecker.Breaches(catalogue, question, answer));
        return answer;
    }

    /// <summary><c>2 × KIT (1 4)</c>: quantity, number, positions covered.</summary>
    public static string Lines(KitAnswer answer) =>
        string.Join(", ", answer.Lines.Select(line => $"{line.Quantity} × {line.Part} ({string.Join(' ', line.Covers)})"));

    public static string Surplus(KitAnswer answer) =>
        string.Join(", ", answer.Surplus.Select(surplus => $"{surplus.Quantity} × {surplus.Part}"));

    /// <summary><c>3: 1 × SEAL</c>: position, quantity, number.</summary>
    public static string Uncovered(KitAnswer answer) =>
        string.Join(", ", answer.Uncovered.Select(uncovered => $"{uncovered.Position}: {uncovered.Quantity} × {uncovered.Part}"));
}
