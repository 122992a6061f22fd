using System.CommandLine;
using System.Data.Common;
using PartsLedger.Exchange;
using PartsLedger.Hosting;

namespace PartsLedger.Commands;

/// <summary><c>partsledger import FOLDER [--db CONNECTION] [--dry-run] [--rejects FOLDER]</c>: takes a shop's files.</summary>
public static class ImportCommand
{
    /// <summary>The call or a whole file is of no use.</summary>
    public const int Unusable = 2;

    public static Command Make()
    {
        var folder = new Argument<string>("FOLDER") { Description = "The folder with the files: parts.csv, contents.xlsx …" };
        var db = new Option<string?>("--db")
        {
            Description = $"The database: sqlite:PATH, sqlserver:CONNECTION STRING or postgresql:CONNECTION STRING. Default: {DatabaseAddress.Variable}, else a file in the user's data folder.",
        };
        var dryRun = new Option<bool>("--dry-run") { Description = "Say what would happen and keep nothing." };
        var rejects = new Option<string?>("--rejects") { Description = "Where rejected rows are written. Default: the folder rejects beside the files." };
        var command = new Command("import", "Imports a folder of files. Exit status: 0 all rows taken, 3 some rejected, 2 the call or a whole file unusable.")
        {
            folder, db, dryRun, rejects,
        };
        command.SetAction(async (call, cancellation) =>
        {
            var (output, error) = (call.InvocationConfiguration.Output, call.InvocationConfiguration.Error);
            var address = DatabaseAddress.Choose(call.GetValue(db));
            if (address.Succeeded)
                return await Import(address.Result, call.GetValue(folder)!, new ImportOptions(call.GetValue(dryRun), call.GetValue(rejects)), output, error, cancellation);
            await error.WriteLineAsync(address.Refusal.ToString());
            return Unusable;
        });
        return command;
    }

    /// <returns>The exit status.</returns>
    private static async Task<int> Import(
        DatabaseAddress address, string folder, ImportOptions options, TextWriter output, TextWriter error, CancellationToken cancellation)
    {
        try
        {
            var services = await ShopServices.Open(address, cancellation);
            if (!services.Succeeded)
            {
                await error.WriteLineAsync(services.Refusal.ToString());
                return Unusable;
            }
            await using (services.Result)
            {
                var report = await services.Result.GetRequiredService<FolderImporter>().Import(folder, options, Caller.CommandLine, cancellation);
                if (report.Succeeded)
                {
                    await ImportText.Write(report.Result, output);
                    return report.Result.ExitStatus;
                }
                await error.WriteLineAsync(report.Refusal.ToString());
                return Unusable;
            }
        }
        catch (DbException problem)
        {
            await error.WriteLineAsync($"The database failed: {problem.Message.ReplaceLineEndings(" ").TrimEnd('.')}. What was finished before is kept; import again.");
            return Unusable;
        }
        catch (OperationCanceledException)
        {
            await error.WriteLineAsync("Stopped. The files that were finished are kept; import again for the rest.");
            return Unusable;
        }
    }
}
