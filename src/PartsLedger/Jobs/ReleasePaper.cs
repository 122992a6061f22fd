using System.Globalization;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Exchange;
using PartsLedger.Kits;

namespace PartsLedger.Jobs;

/// <summary>The paper that goes out with the pump, as PDF: <c>/jobs/NUMBER/release.pdf</c>. A job that is not released has none.</summary>
public static class ReleasePaper
{
    /// <param name="shop">How the shop writes; as usual when null.</param>
    public static Outcome<byte[]> Print(JobFile.Answer file, ShopFormat? shop = null)
    {
        shop ??= ShopFormat.Usual;
        var job = file.Job.Summary;
        if (job is not { State: JobState.Released, ReleasedAt: { } releasedAt })
            return new Refusal("NOT_RELEASED", $"Job {job.Number} is {JobCourse.Say(job.State)}: there is no release paper yet.",
                "Release it first.");
        var head = $"Release paper of job {job.Number}: variant {job.Variant}, pressure class {job.PressureClass}";
        using var paper = new PrintedPaper($"Release of job {job.Number}", head, KitPhrases.MakerComesFirst);
        paper.Line("RELEASE PAPER", 6, bold: true);
        paper.Gap(2);
        paper.Boxes(("Job", job.Number, 0.3, false), ("Variant", job.Variant ?? "", 0.4, false),
            ("PRESSURE CLASS", job.PressureClass ?? "", 0.3, true));
        paper.Boxes(("Matched pair", file.Pair?.Code ?? "none: fitted as an assembly", 0.3, false),
            ("Housing and valve", file.Pair is null ? "-" : $"{file.Pair.Housing} + {file.Pair.Valve}", 0.4, false),
                ("Released", releasedAt.UtcDateTime.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture), 0.3, false));
        if (file.Pair is { } pair) paper.Line($"Shims under the relief spring: found {pair.Found}; fitted {pair.Fitted}.", bold: true);
        paper.Line(string.Join("; ", Known(("Core", job.Core), ("Customer's reference", job.CustomerReference), ("Machine", job.Machine),
            ("Scope", KitPhrases.Of(job.Scope)))));
        Cautions(paper, file);
        Parts(paper, file, shop);
        Checks(paper, file);
        Bench(paper, file, shop);
        paper.Gap(8);
        paper.Line("Name and signature: ______________________________     Date: ________________", 3.4);
        return paper.Finish();
    }

    private static IEnumerable<string> Known(params (string Label, string? Text)[] facts) =>
        facts.Where(fact => !string.IsNullOrWhiteSpace(fact.Text)).Select(fact => $"{fact.Label}: {fact.Text}");

    private static void Cautions(PrintedPaper paper, JobFile.Answer file)
    {
        if (file.Job.List is not { Cautions.Count: > 0 } list) return;
        paper.Heading("Cautions for installation");
        foreach (var caution in KitPhrases.GravestFirst(list.Cautions)) paper.Line($"{KitPhrases.Of(caution.Severity)}  {caution.Text}",
            bold: caution.Severity == Severity.Warning);
    }

    private static void Parts(PrintedPaper paper, JobFile.Answer file, ShopFormat shop)
    {
        paper.Heading("Parts and lots used");
        paper.Table([("Part", 0.34), ("Lot or serial number", 0.4), ("Quantity", 0.26)],
            [.. file.Job.InHand.Where(pieces => pieces.Quantity > Quantity.Zero)
            .Select(pieces => (IReadOnlyList<string>)[pieces.Part, pieces.Lot ?? "", shop.Of(pieces.Quantity)])]);
        foreach (var line in file.Shorts)
            paper.Line($"{shop.Of(line.Quantity)} of {line.Part} {(line.Substitute is null ? "left out" : $"replaced by {line.SubstituteQuantity} of {line.Substitute}")}: {line.Why}", 2.7);
        foreach (var line in file.Surplus.Where(line =>
            line.Lot is not null)) paper.Line($"Not used out of {line.Pack}: {shop.Of(line.Quantity)} of {line.Part}.", 2.7);
    }

    private static void Checks(PrintedPaper paper, JobFile.Answer file)
    {
        if (file.Testing.Checks.Count == 0) return;
        paper.Heading("Checks");
        paper.Table([("No.", 0.07), ("Check", 0.37), ("Expected", 0.2), ("Found", 0.15), ("Result", 0.21)],
            [.. file.Testing.Checks.Select(check => (IReadOnlyList<string>)
        [
            check.Check.Sequence.ToString(CultureInfo.InvariantCulture), check.Check.Text, check.Check.Expected
                ?? $"{KitPhrases.Limits(check.Check)} {check.Check.Unit}".Trim(), check.Last?.Given ?? "",
            check.Last is not { } last ? ""
            : $"{Words.Of(last.Result)}{(last.Signature is { } signed ? $", signed by {signed.Who}: {signed.Why}" : "")}",
        ])]);
    }

    private static void Bench(PrintedPaper paper, JobFile.Answer file, ShopFormat shop)
    {
        if (file.Testing.Runs.LastOrDefault(run => run.Counts) is not { } run) return;
        paper.Heading("Bench");
        paper.Line(FormattableString.Invariant($"Run {run.Number} on bench {run.Bench} by {run.TestedBy}, {run.At.UtcDateTime:yyyy-MM-dd HH:mm} UTC: {Words.Of(run.Verdict).Replace('-', ' ')}."), bold: true);
        paper.Line(FormattableString.Invariant($"Relief opens at {shop.Twice(run.Relief)}, class {run.PressureClass}. Oil ISO VG {run.OilGrade} at {shop.Temperature(run.OilCelsius)}. Outward leakage {run.Leakage.Microlitres / 1000m:0.###} ml/min.")
            + (run.Noise is null ? "" : $" Noise: {run.Noise}."));
        paper.Table([("Speed, 1/min", 0.25), ($"Flow, {shop.FlowUnit.Name}", 0.25), ($"Expected, {shop.FlowUnit.Name}", 0.5)],
            [.. run.Flows.Select(flow => (IReadOnlyList<string>)
        [
            flow.RevolutionsPerMinute.ToString("0", CultureInfo.InvariantCulture),
                shop.Flow(flow.LitresPerMinute),
            run.Expected.FirstOrDefault(point => point.RevolutionsPerMinute == flow.RevolutionsPerMinute) is { } point
            ? $"{shop.Flow(point.Low)} to {shop.Flow(point.High)}" : "not reckoned",
        ])]);
    }
}
