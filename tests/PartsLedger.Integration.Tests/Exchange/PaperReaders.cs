using System.Diagnostics;
using PartsLedger.Integration.Tests.Databases;

namespace PartsLedger.Integration.Tests.Exchange;

/// <summary>Programs that share no code with ours and read what we printed.</summary>
internal static class PaperReaders
{
    public static void Needs(string program, string package) => Requirements.SkipUnless(
        (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator).Any(folder => File.Exists(Path.Combine(folder, program))),
        "label-readers", $"{program} is not on this machine: install the package {package}.");

    /// <summary>What a program writes, line by line.</summary>
    public static string[] Run(string program, params string[] arguments)
    {
        using var process = Process.Start(new ProcessStartInfo(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true })!;
        var output = process.StandardOutput.ReadToEndAsync();
        process.StandardError.ReadToEnd();
        process.WaitForExit();
        return output.Result.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
    }

    /// <summary>The lines of a PDF's text as poppler finds them, with the columns of a table side by side.</summary>
    public static async Task<string[]> TextOf(byte[] pdf)
    {
        Needs("pdftotext", "poppler-utils");
        var file = Path.GetTempFileName();
        try
        {
            await File.WriteAllBytesAsync(file, pdf);
            return [.. Run("pdftotext", "-layout", file, "-").Select(line => string.Join(' ', line.Split(' ', StringSplitOptions.RemoveEmptyEntries)))];
        }
        finally
        {
            File.Delete(file);
        }
    }
}
