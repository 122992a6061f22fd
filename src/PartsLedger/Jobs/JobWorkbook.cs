using ClosedXML.Excel;
using PartsLedger.Exchange;
using PartsLedger.Kits;

namespace PartsLedger.Jobs;

/// <summary>
/// One workbook for one job or several: the kit sheets as for a kit answer, what is still to be pulled, the checks with their results or
/// with room for them, and the history. Texts and numbers only, as in <see cref="KitWorkbook"/>.
/// </summary>
public static class JobWorkbook
{
    /// <summary>Jobs in one workbook at the most: six sheets each.</summary>
    public const int MostJobs = 40;

    private const int LongestName = 31;

    /// <summary>Writes the .xlsx file to <paramref name="stream"/>, which stays open.</summary>
    public static void Write(IReadOnlyList<JobFile.Answer> jobs, Stream stream)
    {
        using var workbook = new XLWorkbook();
        workbook.Style.Font.FontName = PrintedSheet.Font;
        workbook.Style.Font.FontSize = PrintedSheet.FontPoints;
        workbook.Properties.Title = SheetText.OneLine($"Jobs {string.Join(", ", jobs.Select(job => job.Job.Summary.Number))}");
        workbook.Properties.Author = "PartsLedger";
        foreach (var job in jobs)
        {
            if (job.Job.List is { } list)
            {
                KitWorkSheet.Add(workbook, list, Name(workbook, job, jobs.Count, KitWorkbook.WorkSheetName), Head(job));
                KitNeedsSheet.Add(workbook, list, Name(workbook, job, jobs.Count, KitWorkbook.NeedsSheetName));
                KitOrderSheet.Add(workbook, list, Name(workbook, job, jobs.Count, KitWorkbook.OrderSheetName));
            }
            JobPullSheet.Add(workbook, job, Name(workbook, job, jobs.Count, "Pull list"));
            JobCheckSheet.Add(workbook, job, Name(workbook, job, jobs.Count, "Checks and bench"));
            JobHistorySheet.Add(workbook, job, Name(workbook, job, jobs.Count, "History"));
        }
        OfficeFile.Save(workbook, stream);
    }

    /// <summary>At the head of every page: a loose page still says which job it belongs to.</summary>
    internal static string PumpLine(JobFile.Answer job) =>
        $"Job {job.Job.Summary.Number}, variant {job.Job.Summary.Variant ?? "open"}, pressure class {job.Job.Summary.PressureClass ?? "open"}";

    private static KitWorkSheet.JobHead Head(JobFile.Answer job) => new(job.Job.Summary.Number, job.Job.Summary.CustomerReference);

    /// <summary>With the job's number before it where there are several; no two alike, nothing that a sheet's name may not hold.</summary>
    private static string Name(XLWorkbook workbook, JobFile.Answer job, int jobs, string sheet)
    {
        if (jobs == 1) return sheet;
        var number = string.Concat(SheetText.OneLine(job.Job.Summary.Number)
            .Select(letter => ":\\/?*[]'".Contains(letter, StringComparison.Ordinal) ? '-' : letter));
        for (var again = 1; ; again++)
        {
            var ending = $" {sheet}{(again == 1 ? "" : $" {again}")}";
            var name = number[..Math.Min(number.Length, LongestName - ending.Length)].TrimEnd() + ending;
            if (!workbook.Worksheets.Any(other => other.Name.Equals(name, StringComparison.OrdinalIgnoreCase))) return name;
        }
    }
}
