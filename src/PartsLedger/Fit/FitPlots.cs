using PartsLedger.Domain.Fit.Conformity;
using PartsLedger.Domain.Fit.Plots;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Fit;

/// <summary>
/// Drawings of a family's loose halves for screen and paper: <c>/plots/sizes.svg</c> and <c>/plots/clearances.svg</c>, each with
/// <c>?family=CODE&amp;class=CODE</c>.
/// </summary>
public static class FitPlots
{
    private const string Svg = "image/svg+xml; charset=utf-8";

    public static void MapFitPlots(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/plots/sizes.svg", (Asking asking, string? family, string? @class, CancellationToken cancellation) =>
            Draw(asking, family, @class, Sizes, cancellation));
        routes.MapGet("/plots/clearances.svg", (Asking asking, string? family, string? @class, CancellationToken cancellation) =>
            Draw(asking, family, @class, Clearances, cancellation));
    }

    /// <summary>Sizes against each other with the fitting band, the proposed pairs, and of the halves left over the pairs that cannot be told.</summary>
    public static string Sizes(ProposePairs.Answer answer)
    {
        var (limits, nominal) = (answer.Family.Limits.Result, answer.Family.Bore ?? answer.Halves.Select(pair => pair.Housing.Size!.Size).FirstOrDefault());
        var housings = answer.Halves.Select(pair => pair.Housing).Concat(answer.Left.Where(unit => unit.Role == Domain.Fit.UnitRole.Housing)).ToList();
        var valves = answer.Halves.Select(pair => pair.Valve).Concat(answer.Left.Where(unit => unit.Role == Domain.Fit.UnitRole.Valve)).ToList();
        var rule = new FitRule(limits, answer.Factor);
        var untold = from housing in answer.Left.Where(unit => unit.Role == Domain.Fit.UnitRole.Housing)
                     from valve in answer.Left.Where(unit => unit.Role == Domain.Fit.UnitRole.Valve)
                     where (housing.ClassId is null || housing.ClassId == valve.ClassId) && rule.Judge(housing.Half, valve.Half).Outcome == FitOutcome.CannotTell
                     select new PlottedPair(Plotted(housing), Plotted(valve), FitOutcome.CannotTell);
        return FitPlot.Draw("sizes", Title("Bores and spools", answer), nominal, limits, housings.ConvertAll(Plotted), valves.ConvertAll(Plotted),
            [.. answer.Halves.Select(pair => new PlottedPair(Plotted(pair.Housing), Plotted(pair.Valve), FitOutcome.Fits)), .. untold.Take(FitPlot.MostMarks)]);
    }

    public static string Clearances(ProposePairs.Answer answer) => ClearanceHistogram.Draw("clearances", Title("Clearances of the proposed pairs", answer),
        answer.Family.Limits.Result, [.. answer.Halves.Select(pair => pair.Housing.Size!.Size - pair.Valve.Size!.Size)]);

    private static string Title(string what, ProposePairs.Answer answer) =>
        $"{what}, family {answer.Shown.Family}{(answer.Shown.Class is { } ofClass ? $", class {ofClass}" : "")}";

    private static PlottedUnit Plotted(SizedUnit unit) => new(unit.Tag, unit.Size!.Size);

    private static async Task<IResult> Draw(
        Asking asking, string? family, string? ofClass, Func<ProposePairs.Answer, string> drawing, CancellationToken cancellation)
    {
        if (string.IsNullOrWhiteSpace(family)) return Sentence(new Refusal("UNKNOWN_FAMILY", "No family is named.", "Name it in the address: ?family=CODE."));
        var answer = await asking.Ask<ProposePairs.Query, ProposePairs.Answer>(new(family, string.IsNullOrWhiteSpace(ofClass) ? null : ofClass), cancellation);
        return answer.Succeeded ? Results.Text(drawing(answer.Result), Svg) : Sentence(answer.Refusal);
    }

    private static IResult Sentence(Refusal refusal) => Results.Text($"{refusal}\n", statusCode: StatusCodes.Status404NotFound);
}
