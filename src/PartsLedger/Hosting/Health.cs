using System.Data.Common;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Stock;

namespace PartsLedger.Hosting;

/// <summary>Whether the program is well: for whoever starts it again, whoever sends it visitors, and whoever looks after the shop.</summary>
public static class Health
{
    public static void MapHealth(this IEndpointRouteBuilder routes)
    {
        // It runs and answers: what it needs is not asked, since starting it again would not bring a database back.
        routes.MapGet("/health/live", () => Results.Text("ok\n")).AllowAnonymous();
        routes.MapGet("/health", Answers).AllowAnonymous();
        routes.MapGet("/health/ready", Ready).AllowAnonymous();
        routes.MapGet("/health/ledger", Ledger).WithRequestTimeout(AnswerTimes.Long);
    }

    private static Task<IResult> Answers(LedgerContext db, CancellationToken cancellation) => IfDatabaseAnswers(async () =>
    {
        await db.PressureClasses.Select(row => row.Id).OrderBy(id => id).FirstOrDefaultAsync(cancellation);
        return Results.Text("ok\n");
    });

    /// <summary>Open to everybody, so it says that something is wrong and not what.</summary>
    private static async Task<IResult> Ready(LedgerContext db, LedgerHealth health, CancellationToken cancellation) => health.WasSound
        ? await Answers(db, cancellation)
        : Results.Text("The ledger was not sound when it was last verified; /health/ledger says why.\n", statusCode: StatusCodes.Status503ServiceUnavailable);

    private static Task<IResult> Ledger(LedgerHealth health, Asking asking, CancellationToken cancellation) => IfDatabaseAnswers(async () =>
    {
        var asked = await health.Ask(asking.Caller, cancellation);
        if (!asked.Succeeded) return Results.Text($"{asked.Refusal}\n", statusCode: StatusCodes.Status403Forbidden);
        var (answer, at) = asked.Result;
        return Results.Json(new { answer.Sound, At = at, answer.UpTo, answer.Counted, answer.Breaches }, ShopJson.Options,
            statusCode: answer.Sound ? StatusCodes.Status200OK : StatusCodes.Status503ServiceUnavailable);
    });

    private static async Task<IResult> IfDatabaseAnswers(Func<Task<IResult>> ask)
    {
        try
        {
            return await ask();
        }
        catch (Exception problem) when (problem is DbException or InvalidOperationException or TimeoutException)
        {
            return Results.Text("The database does not answer.\n", statusCode: StatusCodes.Status503ServiceUnavailable);
        }
    }
}
