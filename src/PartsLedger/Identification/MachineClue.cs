using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Catalog;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Identification;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Identification;

/// <summary>
/// Which variants a machine carries. Make, model, year and option are taken as the list has them where it does; what it does not have so
/// is searched for in words, as free text is, and the answer says how it was read.
/// </summary>
public sealed class MachineClue(LedgerContext db, MachineHits machines, TimeProvider clock)
{
    public async Task<Outcome<Clue>> Read(string? make, string? model, string? option, string? year, CancellationToken cancellation)
    {
        int? built = null;
        if (!string.IsNullOrWhiteSpace(year))
        {
            var read = MachineYear.Read(year, Now.Year);
            if (!read.Succeeded) return read.Refusal;
            built = read.Result;
        }
        var said = string.Join(' ', new[] { make, model, option, built?.ToString(System.Globalization.CultureInfo.InvariantCulture) }
            .Where(word => !string.IsNullOrWhiteSpace(word)).Select(word => word!.Trim()));
        var listed = await Listed(Code.KeyOf(make), Code.KeyOf(model), Code.KeyOf(option), built, cancellation);
        if (listed.Count > 0) return new Clue("machine", said, listed);
        if (built is not null && string.IsNullOrWhiteSpace($"{make}{model}{option}")) return new Clue("machine", said, listed, NoMachine(said));
        return await InWords(said, tellDoubts: false, cancellation);
    }

    /// <summary>Free text: words of make, model and option in any order, and perhaps a year.</summary>
    public Task<Outcome<Clue>> Read(string text, CancellationToken cancellation) => InWords(text, tellDoubts: true, cancellation);

    /// <param name="tellDoubts">A number in the text may have been meant as a year.</param>
    private async Task<Outcome<Clue>> InWords(string text, bool tellDoubts, CancellationToken cancellation)
    {
        var read = MachineText.Read(text, Now.Year);
        if (!read.Succeeded) return read.Refusal;
        var found = await machines.Find(read.Result, cancellation);
        if (found.More)
            return new Refusal("TOO_MANY_MACHINES", $"More than {MachineHits.Most} machines are found by '{text.Trim()}'.", "Add another word of its name, or the year.");
        var best = found.Hits.Where(hit => TierOf(hit.Match) == TierOf(found.Hits[0].Match)).ToList();
        var fits = new Dictionary<int, string>();
        foreach (var hit in best) fits.TryAdd(hit.VariantId, $"{Named(hit.Match.Application)}: {hit.Match.Why}");
        var doubts = tellDoubts ? string.Join(' ', read.Result.Doubts) : "";
        return new Clue("machine", text.Trim(), fits, best.Count == 0 ? $"{NoMachine(text.Trim())} {doubts}".TrimEnd()
            : best[0].Match.IsExact ? null
            : $"The machine was read as {Named(best[0].Match.Application)}: {best[0].Match.Why}. {(TierOf(best[0].Match) > 1 ? doubts : "")}".TrimEnd());
    }

    private DateTimeOffset Now => clock.GetUtcNow();

    /// <summary>Exactly as said, with slips or a year beside, or only some of the words.</summary>
    private static int TierOf(MachineMatch match) => match.IsExact ? 0 : match.Penalty < 100 ? 1 : match.Penalty / 100 + 1;

    private async Task<Dictionary<int, string>> Listed(string make, string model, string option, int? year, CancellationToken cancellation)
    {
        IQueryable<ApplicationRow> rows = db.Applications.AsNoTracking();
        if (make.Length > 0) rows = rows.Where(row => row.MakeKey == make);
        if (model.Length > 0) rows = rows.Where(row => row.ModelKey == model);
        if (option.Length > 0) rows = rows.Where(row => row.OptionKey == option);
        if (year is { } built) rows = rows.Where(row => row.YearFrom <= built && (row.YearTo == null || row.YearTo >= built));
        var ids = await rows.GroupBy(row => row.VariantId).Select(group => group.Min(row => row.Id)).ToListAsync(cancellation);
        var shown = await Catalog.CatalogLoaders.InChunks(ids, some => db.Applications.AsNoTracking().Where(row => some.Contains(row.Id)), cancellation);
        return shown.ToDictionary(row => row.VariantId, row => Named(MachineHits.Application(row)));
    }

    private static string Named(MachineApplication machine)
    {
        var name = string.IsNullOrWhiteSpace(machine.Option) ? $"{machine.Make} {machine.Model}" : $"{machine.Make} {machine.Model}, {machine.Option}";
        return machine.Years.Length == 0 ? name : $"{name} ({machine.Years})";
    }

    private static string NoMachine(string said) => $"No machine on the list answers '{said}'.";
}
