using System.CommandLine;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Exchange.Labels;
using PartsLedger.Hosting;

namespace PartsLedger.Commands;

/// <summary><c>partsledger labels CODE… --out FILE [--sheet]</c>: labels for cores, halves, pairs, places and parts as PDF.</summary>
internal static class LabelsCommand
{
    public static Command Make()
    {
        var codes = new Argument<string[]>("code") { Description = "Tags, pair codes, places or part numbers.", Arity = ArgumentArity.OneOrMore };
        var output = new Option<FileInfo>("--out") { Description = "The PDF to write.", Required = true };
        var sheet = new Option<bool>("--sheet") { Description = "On sheets of A4 instead of a label printer's roll." };
        var database = ShopCommand.Database();
        var command = new Command("labels", "Print labels as PDF.") { codes, output, sheet, database };
        command.SetAction((parsed, cancellation) => parsed.OnDatabase(database, async services =>
        {
            var labels = await services.GetRequiredService<Asking>().Ask<LabelsFor.Query, IReadOnlyList<Label>>(new(parsed.GetValue(codes)!), cancellation);
            if (!labels.Succeeded) return labels.Refusal;

            var file = parsed.GetValue(output)!;
            if (file.Directory is not { Exists: true })
                return new Refusal("NO_FOLDER", $"There is no folder for {file.Name}.", "Make it first, or name another.");
            await File.WriteAllBytesAsync(file.FullName, LabelPrinter.Print(labels.Result, parsed.GetValue(sheet) ? LabelPaper.Sheet : LabelPaper.Roll), cancellation);
            await parsed.InvocationConfiguration.Output.WriteLineAsync($"{labels.Result.Count} labels in {file.Name}.");
            return 0;
        }, cancellation));
        return command;
    }
}
