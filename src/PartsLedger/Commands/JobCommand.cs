using System.CommandLine;
using System.Globalization;
using System.Text;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Jobs;
using PartsLedger.Kits;

namespace PartsLedger.Commands;

/// <summary>
/// <c>partsledger job NUMBER… [--xlsx FILE] [--paper FILE]</c>: where jobs stand and what is missing, their workbook, or the release paper
/// of one.
/// </summary>
internal static class JobCommand
{
    public static Command Make()
    {
        var numbers = new Argument<string[]>("number") { Description = "The jobs' own numbers.", Arity = ArgumentArity.OneOrMore };
        var xlsx = new Option<string?>("--xlsx") { Description = "Write the jobs as one workbook.", HelpName = "FILE" };
        var paper = new Option<string?>("--paper") { Description = "Write the release paper of one released job as PDF.",
            HelpName = "FILE" };
        var database = ShopCommand.Database();
        var command = new Command("job", "Where a job stands and what is missing; its workbook; its release paper.") { numbers, xlsx, paper,
            database };
        command.SetAction((given, cancellation) => given.OnDatabase(database, async services =>
        {
            var (book, pdf) = (given.GetValue(xlsx), given.GetValue(paper));
            var files = await JobPages.Read(services.GetRequiredService<Asking>(), given.GetValue(numbers)!, cancellation);
            if (!files.Succeeded) return files.Refusal;
            if (pdf is not null && files.Result.Count != 1) return new Refusal("ONE_JOB", "A release paper is of one job.", "Name one.");
            var output = given.InvocationConfiguration.Output;
            if (book is null && pdf is null) foreach (var file in files.Result) await output.WriteAsync(Text(file));
            if (book is not null)
            {
                if (KitFile.Write(book, stream => JobWorkbook.Write(files.Result, stream)) is { } notWritten) return notWritten;
                await output.WriteLineAsync($"{KitPhrases.Count(files.Result.Count, "job", "jobs")} written to {Path.GetFullPath(book)}.");
            }
            if (pdf is null) return 0;
            var printed = ReleasePaper.Print(files.Result[0],
                (await services.GetRequiredService<Asking>().Ask<FormatOfShop.Query, ShopFormat>(new(), cancellation)).Result);
            if (!printed.Succeeded) return printed.Refusal;
            if (KitFile.Write(pdf, stream => stream.Write(printed.Result)) is { } failed) return failed;
            await output.WriteLineAsync($"Release paper written to {Path.GetFullPath(pdf)}.");
            return 0;
        }, cancellation));
        return command;
    }

    private static string Text(JobFile.Answer file)
    {
        var job = file.Job.Summary;
        var text = new StringBuilder().Append(CultureInfo.InvariantCulture,
            $"Job {job.Number}: {JobCourse.Say(job.State)}. {(job.Variant is null ? "Variant open" : $"Variant {job.Variant}, PRESSURE CLASS {job.PressureClass}")}, {KitPhrases.Of(job.Scope)}.\n");
        if (job.Stopped is { } why) text.Append(CultureInfo.InvariantCulture, $"  STOP: {why}\n");
        foreach (var next in file.Job.Next.Where(next => next.Step != JobStep.CallOff && JobCourse.From(next.Step).Contains(job.State)))
            text.Append(CultureInfo.InvariantCulture,
                $"  {JobCourse.Say(next.Step)}: {(next.Missing.Count == 0 ? "possible now" : $"missing: {string.Join("; ", next.Missing)}")}\n");
        return text.ToString();
    }
}
