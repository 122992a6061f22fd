using System.Diagnostics;
using System.Text.RegularExpressions;
using PartsLedger.Domain.Kits;
using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Kits;

namespace PartsLedger.Integration.Tests.Kits;

/// <summary>The workbook as LibreOffice prints it: another program than the one whose rules the file follows.</summary>
public sealed partial class KitWorkbookOnPaperTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("partsledger-paper-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task An_everyday_kit_prints_whole_on_a_few_pages()
    {
        var pdf = await Print(SampleAnswers.Everyday);
        Assert.InRange(PagesOf(pdf), 3, 5);
        var text = await TextOf(pdf);
        foreach (var line in SampleAnswers.Everyday.Lines) Assert.Contains(line.Part, text, StringComparison.Ordinal);
        foreach (var gap in SampleAnswers.Everyday.Uncovered) Assert.Contains(gap.Part, text, StringComparison.Ordinal);
        Assert.Contains("0012", text, StringComparison.Ordinal);
        Assert.Contains("Page 1 of ", text, StringComparison.Ordinal);
        foreach (var why in SampleAnswers.Everyday.Lines.Select(line => line.Why)) Assert.Contains(why.Split(' ')[^1], text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_long_kit_cuts_no_reason_and_gives_the_header_on_each_page()
    {
        const int Lines = 60;
        var pdf = await Print(SampleAnswers.Nasty with { Lines = [.. SampleAnswers.Nasty.Lines.Take(Lines)], Needs = [.. SampleAnswers.Nasty.Needs.Take(Lines)] });
        var pages = PagesOf(pdf);
        Assert.InRange(pages, 12, 50);
        var text = await TextOf(pdf);
        Assert.Contains("000060", text, StringComparison.Ordinal);

        // Once as a need's reason, twice as a line's, once as an uncovered need's: the end of each is on paper.
        Assert.Equal(4, Regex.Count(text, @"the\s+end\."));
        Assert.Equal(pages, Regex.Count(text, $"of {pages}\\b"));
    }

    private async Task<string> Print(KitAnswer answer)
    {
        var office = Find("soffice") ?? Find("libreoffice");
        Requirements.SkipUnless(office is not null, "libreoffice",
            "LibreOffice is not on this machine: install libreoffice-calc to see the workbook through another program.");
        var file = Path.Combine(_folder, "kit.xlsx");
        Assert.Null(KitFile.Write(answer, file));

        // Its own profile: another LibreOffice that runs for the same user would otherwise take the job and answer nothing.
        await Run(office!, $"-env:UserInstallation={new Uri(Path.Combine(_folder, "profile"))}", "--headless", "--convert-to", "pdf", "--outdir", _folder, file);
        return Path.Combine(_folder, "kit.pdf");
    }

    private static int PagesOf(string pdf) => PageObject().Count(System.Text.Encoding.Latin1.GetString(File.ReadAllBytes(pdf)));

    private static async Task<string> TextOf(string pdf)
    {
        var reader = Find("pdftotext");
        Requirements.SkipUnless(reader is not null, "libreoffice", "pdftotext is not on this machine: install poppler-utils to read the printed pages.");
        return await Run(reader!, "-layout", pdf, "-");
    }

    private static string? Find(string program) => (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator)
        .SelectMany(folder => (string[])[Path.Combine(folder, program), Path.Combine(folder, program + ".exe")]).FirstOrDefault(File.Exists);

    private static async Task<string> Run(string program, params string[] arguments)
    {
        using var patience = new CancellationTokenSource(TimeSpan.FromMinutes(3));
        using var process = Process.Start(new ProcessStartInfo(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true })!;
        var (output, error) = (process.StandardOutput.ReadToEndAsync(), process.StandardError.ReadToEndAsync());
        try
        {
            await process.WaitForExitAsync(patience.Token);
        }
        catch (OperationCanceledException)
        {
            process.Kill(entireProcessTree: true);
            throw;
        }
        Assert.True(process.ExitCode == 0, await error);
        return await output;
    }

    [GeneratedRegex(@"/Type\s*/Page\b(?!s)")]
    private static partial Regex PageObject();
}
