using System.CommandLine;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Exchange;
using PartsLedger.Hosting;
using PartsLedger.Kits;

namespace PartsLedger.Commands;

/// <summary>
/// <c>partsledger demo</c>: the whole path on the invented shop. A fresh embedded database, an ordinary import of <c>import/demo</c>, one
/// job's kit list on the screen and as a workbook, then the endpoint to ask for the next one.
/// </summary>
public static class DemoCommand
{
    /// <summary>A full rebuild with the shaft worn: kits, an assembly, old numbers used up, a shortage, and a shaft nobody makes any more.</summary>
    public static KitFor.Query Job { get; } = new("VS30-070-R1", JobScope.Full, [2], KitPreference.Cost);

    public static Command Make()
    {
        var urls = new Option<string>("--urls") { Description = "Where to listen.", DefaultValueFactory = _ => ShopWeb.DefaultUrls };
        var noServe = new Option<bool>("--no-serve") { Description = "Stop after the workbook." };
        var folder = new Option<string?>("--folder") { Description = "Where the demo's database and workbook go. Default: a folder of the user's data." };
        var command = new Command("demo", "Loads the invented shop into a fresh embedded database, prints one job's kit list, writes its workbook and serves.")
        {
            urls, noServe, folder,
        };
        command.SetAction(async (call, cancellation) =>
        {
            var (output, error) = (call.InvocationConfiguration.Output, call.InvocationConfiguration.Error);
            var home = call.GetValue(folder) ?? Path.Combine(Environment.GetFolderPath(
                Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.Create), "PartsLedger", "demo");
            var made = await Load(home, output, cancellation);
            if (!made.Succeeded)
            {
                await error.WriteLineAsync(made.Refusal.ToString());
                return ImportCommand.Unusable;
            }
            return call.GetValue(noServe) ? 0 : await ServeCommand.Serve(made.Result, call.GetValue(urls)!, output, error, cancellation);
        });
        return command;
    }

    /// <summary>Everything but the serving.</summary>
    private static async Task<Outcome<DatabaseAddress>> Load(string home, TextWriter output, CancellationToken cancellation)
    {
        var files = Path.Combine(AppContext.BaseDirectory, "import", "demo");
        var database = Path.Combine(home, "demo.db");
        try
        {
            Directory.CreateDirectory(home);
            foreach (var old in (string[])["", "-wal", "-shm"]) File.Delete(database + old);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            return new Refusal("DEMO_FOLDER", $"The demo's folder cannot be used: {problem.Message}", "End another demo that is running, or give a folder with --folder.");
        }

        var address = DatabaseAddress.Parse($"sqlite:{database}");
        if (!address.Succeeded) return address.Refusal;
        var opened = await ShopServices.Open(address.Result, cancellation);
        if (!opened.Succeeded) return opened.Refusal;
        await using var services = opened.Result;

        var imported = await services.GetRequiredService<FolderImporter>().Import(
            files, new ImportOptions(DryRun: false, RejectsFolder: Path.Combine(home, "rejects")), Caller.CommandLine, cancellation);
        if (!imported.Succeeded) return imported.Refusal;
        await ImportText.Write(imported.Result, output);

        var answer = await services.GetRequiredService<Asking>().Ask<KitFor.Query, KitAnswer>(Job, cancellation);
        if (!answer.Succeeded) return answer.Refusal;
        await output.WriteLineAsync();
        await output.WriteAsync(KitText.Of(answer.Result));

        var workbook = Path.Combine(home, $"{Job.Variant}.xlsx");
        if (KitFile.Write(answer.Result, workbook) is { } notWritten) return notWritten;
        await output.WriteLineAsync($"\nThe same as a workbook: {workbook}\nThe demo's database: {database}");
        return address.Result;
    }
}
