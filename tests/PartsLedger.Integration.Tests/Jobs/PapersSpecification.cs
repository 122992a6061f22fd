using System.Text;
using DocumentFormat.OpenXml;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Spreadsheet;
using DocumentFormat.OpenXml.Validation;
using PartsLedger.Access;
using PartsLedger.Hosting;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Jobs;
using PartsLedger.Testing;

namespace PartsLedger.Integration.Tests.Jobs;

/// <summary>What is printed about jobs: the workbook of one and of several, the release paper, the bench's plot, a recall.</summary>
public abstract class PapersSpecification<TStore>(TStore store) : WorkSpecification<TStore>(store) where TStore : Store
{
    private static readonly string? Keep = Environment.GetEnvironmentVariable("PARTSLEDGER_KEEP_PAPERS");

    [Fact]
    public async Task A_released_job_has_its_workbook_its_paper_and_its_plot()
    {
        await Released("J-1");
        var file = (await Read("J-1"))[0];
        using var stream = new MemoryStream();
        JobWorkbook.Write([file], stream);
        if (Keep is not null) await File.WriteAllBytesAsync(Path.Combine(Keep, "job.xlsx"), stream.ToArray());
        using var book = SpreadsheetDocument.Open(stream, false);
        Assert.Empty(new OpenXmlValidator(FileFormatVersions.Office2019).Validate(book)
            .Select(error => $"{error.Path?.XPath}: {error.Description}"));
        Assert.Equal(["Work sheet", "Full needs", "To order", "Pull list", "Checks and bench", "History"], Sheets(book));
        var texts = Texts(book);
        foreach (var text in (string[])["Job number\nJ-1", "Nothing is left to pull.", "K1", "4.76 mm", "passed", "5502 kPa", "pair fitted",
            "released"]) Assert.Contains(text, texts);
        Assert.Contains(texts, text => text.Contains("Shims found: 3 shims, 1.200 mm; fitted: 3 shims, 1.200 mm.",
            StringComparison.Ordinal));

        var paper = ReleasePaper.Print(file);
        Assert.True(paper.Succeeded, paper.Refusal?.ToString());
        Assert.StartsWith("%PDF-", Encoding.Latin1.GetString(paper.Result), StringComparison.Ordinal);
        if (Keep is not null) await File.WriteAllBytesAsync(Path.Combine(Keep, "release.pdf"), paper.Result);
        var plot = BenchPlots.Draw("J-1", file.Testing.Runs[^1]);
        Assert.Contains("2 of them within the expected band", plot, StringComparison.Ordinal);
        if (Keep is not null) await File.WriteAllTextAsync(Path.Combine(Keep, "bench.svg"), plot);
    }

    [Fact]
    public async Task Several_jobs_stand_in_one_workbook_each_under_its_number()
    {
        await Released("J-1");
        await Do("startJob(number: \"A/B: a number far too long for a sheet\", scope: RESEAL, exchange: true)");
        await Do("startJob(number: \"J-2\", scope: RESEAL, exchange: true, variants: [\"VS30-070\"])");
        await AcceptList("J-2");
        var files = await Read("J-1", "j-2", "A/B: a number far too long for a sheet");
        using var stream = new MemoryStream();
        JobWorkbook.Write(files, stream);
        using var book = SpreadsheetDocument.Open(stream, false);
        Assert.Empty(new OpenXmlValidator(FileFormatVersions.Office2019).Validate(book)
            .Select(error => $"{error.Path?.XPath}: {error.Description}"));
        Assert.Equal(["J-1 Work sheet", "J-1 Full needs", "J-1 To order", "J-1 Pull list", "J-1 Checks and bench", "J-1 History",
            "J-2 Work sheet", "J-2 Full needs", "J-2 To order",
            "J-2 Pull list", "J-2 Checks and bench", "J-2 History", "A-B- a number far too Pull list", "A-B- a number Checks and bench",
            "A-B- a number far too l History"], Sheets(book));
        Assert.Equal("NOT_RELEASED", ReleasePaper.Print(files[1]).Refusal?.Code);
        Assert.Equal("UNKNOWN_JOB", (await JobPages.Read(Asking, ["J-1", "J-3"], CancellationToken.None)).Refusal?.Code);
        Assert.Equal("JOBS_COUNT", (await JobPages.Read(Asking, [], CancellationToken.None)).Refusal?.Code);
    }

    [Fact]
    public async Task A_recall_is_a_workbook_too()
    {
        await Released("J-1");
        await Receive("80-RSL", 4, "B-01", "K1");
        var recall = (await Store.Dispatcher.Ask<Recall.Query, Recall.Answer>(new(RecallFrom.Lot, "K1", "80-RSL"), CancellationToken.None))
            .Result;
        using var stream = new MemoryStream();
        RecallWorkbook.Write(recall, stream);
        using var book = SpreadsheetDocument.Open(stream, false);
        Assert.Empty(new OpenXmlValidator(FileFormatVersions.Office2019).Validate(book)
            .Select(error => $"{error.Path?.XPath}: {error.Description}"));
        Assert.Equal(["Jobs", "Stock", "Kits", "Halves"], Sheets(book));
        foreach (var text in (string[])["J-1", "1 of 80-RSL, lot K1", "80-RSL K1", "B-01", "None."]) Assert.Contains(text, Texts(book));
    }

    private Asking Asking => new(Store.Dispatcher, new CurrentCaller { Caller = Caller.CommandLine }, new Rates(new ServeSettings()));

    private async Task<IReadOnlyList<JobFile.Answer>> Read(params string[] numbers)
    {
        var files = await JobPages.Read(Asking, numbers, CancellationToken.None);
        Assert.True(files.Succeeded, files.Refusal?.ToString());
        return files.Result;
    }

    private static string[] Sheets(SpreadsheetDocument book) => [.. book.WorkbookPart!.Workbook.Sheets!.Elements<Sheet>()
        .Select(sheet => sheet.Name!.Value!)];

    private static HashSet<string> Texts(SpreadsheetDocument book) =>
        [.. book.WorkbookPart!.SharedStringTablePart!.SharedStringTable.Elements<SharedStringItem>().Select(item => item.InnerText)];
}

public sealed class PapersOnSqlite(SqliteStore store) : PapersSpecification<SqliteStore>(store);

public sealed class PapersOnPostgreSql(PostgreSqlStore store) : PapersSpecification<PostgreSqlStore>(store);

public sealed class PapersOnSqlServer(SqlServerStore store) : PapersSpecification<SqlServerStore>(store);
