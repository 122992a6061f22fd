using System.Diagnostics;
using System.Runtime.CompilerServices;
using System.Text.Json;
using PartsLedger.Integration.Tests.Databases;

namespace PartsLedger.Integration.Tests.Api;

[Collection(ApiTests.Name)]
public sealed class HttpAuditTests(ShopApi api, ITestOutputHelper output)
{
    private static readonly string[] Files = ["package.json", "package-lock.json", "audit.mjs"];

    [Fact]
    public async Task Every_MUST_and_SHOULD_of_the_public_GraphQL_over_HTTP_audits_passes()
    {
        Requirements.SkipUnless(await Succeeds("node", "--version") && await Succeeds("npm", "--version"), "node",
            "Node.js is not on this machine: install node and npm to run the public GraphQL-over-HTTP audits.");

        // In a copy, so that nothing is installed into the sources; kept beside the tests, so that it is installed only once.
        var folder = Path.Combine(AppContext.BaseDirectory, "http-audit");
        Directory.CreateDirectory(folder);
        foreach (var file in Files) File.Copy(Path.Combine(Path.GetDirectoryName(Here())!, "http-audit", file), Path.Combine(folder, file), overwrite: true);
        if (!Directory.Exists(Path.Combine(folder, "node_modules", "graphql-http")))
        {
            var (installed, said) = await Run(folder, "npm", "ci", "--ignore-scripts", "--no-audit", "--no-fund");
            Requirements.SkipUnless(installed == 0, "node", $"The audits could not be installed by npm: {said}");
        }

        var (status, lines) = await Run(folder, "node", "audit.mjs", new Uri(api.Http.BaseAddress!, "/graphql").ToString());
        Assert.True(status == 0, lines);
        var audits = lines.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(line => JsonDocument.Parse(line).RootElement)
            .Select(audit => (Name: audit.GetProperty("name").GetString()!, Status: audit.GetProperty("status").GetString()!, Text: audit.ToString())).ToList();
        var passed = audits.Count(audit => audit.Status == "ok");
        output.WriteLine($"{passed} of {audits.Count} audits passed.");
        foreach (var (_, _, text) in audits.Where(audit => audit.Status != "ok")) output.WriteLine(text);

        Assert.True(audits.Count >= 60, $"Only {audits.Count} audits ran.");
        Assert.DoesNotContain(audits, audit => audit.Status != "ok" && (audit.Name.StartsWith("MUST", StringComparison.Ordinal) || audit.Name.StartsWith("SHOULD", StringComparison.Ordinal)));
    }

    private static async Task<bool> Succeeds(string program, string argument)
    {
        try
        {
            return (await Run(AppContext.BaseDirectory, program, argument)).Status == 0;
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return false;
        }
    }

    private static async Task<(int Status, string Output)> Run(string folder, string program, params string[] arguments)
    {
        var start = new ProcessStartInfo(program, arguments) { WorkingDirectory = folder, RedirectStandardOutput = true, RedirectStandardError = true };
        using var process = Process.Start(start)!;
        var error = process.StandardError.ReadToEndAsync();
        var output = await process.StandardOutput.ReadToEndAsync();
        await process.WaitForExitAsync();
        return (process.ExitCode, process.ExitCode == 0 ? output : output + await error);
    }

    private static string Here([CallerFilePath] string path = "") => path;
}
