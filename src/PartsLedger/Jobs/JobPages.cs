using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Hosting.Pages;

namespace PartsLedger.Jobs;

/// <summary>
/// What is downloaded about jobs: <c>/jobs/NUMBER.xlsx</c>, <c>/jobs.xlsx?job=A&amp;job=B</c>, <c>/jobs/NUMBER/release.pdf</c> and
/// <c>/recall.xlsx?from=lot&amp;code=CODE&amp;part=NUMBER</c>.
/// </summary>
public static class JobPages
{
    private const string Xlsx = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet";

    public static void MapJobPages(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/jobs/{job}.xlsx", (Asking asking, string job, CancellationToken cancellation) =>
            Workbook(asking, [job], cancellation));
        routes.MapGet("/jobs.xlsx", (Asking asking, string[] job, CancellationToken cancellation) =>
            Workbook(asking, job, cancellation));
        routes.MapGet("/jobs/{job}/release.pdf", async (Asking asking, CurrentFormat shop, string job, CancellationToken cancellation) =>
        {
            await shop.Read(cancellation);
            var file = await asking.Ask<JobFile.Query, JobFile.Answer>(new(job), cancellation);
            var printed = file.Then(read => ReleasePaper.Print(read, shop.Format));
            return printed.Succeeded ? Results.File(printed.Result, "application/pdf") : Sentence(printed.Refusal);
        });
        routes.MapGet("/recall.xlsx", async (Asking asking, string? from, string? code, string? part, DateTimeOffset? since,
            CancellationToken cancellation) =>
        {
            if (!Words.TryParse(from, out RecallFrom kind)) return Sentence(new Refusal("UNKNOWN_RECALL",
                "It is not said what is recalled.", $"Say from= one of {string.Join(", ", Words.All<RecallFrom>())}."));
            var recall = await asking.Ask<Recall.Query, Recall.Answer>(new(kind, code ?? "", part, since), cancellation);
            return recall.Succeeded ? File(stream => RecallWorkbook.Write(recall.Result, stream), "recall.xlsx") : Sentence(recall.Refusal);
        });
    }

    /// <summary>The files of several jobs, each named once.</summary>
    public static async Task<Outcome<IReadOnlyList<JobFile.Answer>>> Read(Asking asking, IReadOnlyList<string> numbers,
        CancellationToken cancellation)
    {
        if (numbers.Count is 0 or > JobWorkbook.MostJobs) return new Refusal("JOBS_COUNT", $"{numbers.Count} jobs were named.",
            $"Name 1 to {JobWorkbook.MostJobs} jobs.");
        var files = new List<JobFile.Answer>();
        foreach (var number in numbers.DistinctBy(Code.KeyOf))
        {
            var file = await asking.Ask<JobFile.Query, JobFile.Answer>(new(number), cancellation);
            if (!file.Succeeded) return file.Refusal;
            files.Add(file.Result);
        }
        return files;
    }

    private static async Task<IResult> Workbook(Asking asking, string[] numbers, CancellationToken cancellation)
    {
        var files = await Read(asking, numbers, cancellation);
        return files.Succeeded ? File(stream => JobWorkbook.Write(files.Result, stream), "jobs.xlsx") : Sentence(files.Refusal);
    }

    private static IResult File(Action<Stream> write, string name)
    {
        using var stream = new MemoryStream();
        write(stream);
        return Results.File(stream.ToArray(), Xlsx, name);
    }

    private static IResult Sentence(Refusal refusal) => Results.Text($"{refusal}\n", statusCode: StatusCodes.Status404NotFound);
}
