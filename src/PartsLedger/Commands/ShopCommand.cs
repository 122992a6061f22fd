using System.CommandLine;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Commands;

/// <summary>What the commands that work on a database do alike: name it, open it, and tell a refusal on the error output.</summary>
internal static class ShopCommand
{
    public static Option<string?> Database() => new("--db")
    {
        Description = $"sqlite:PATH, sqlserver:CONNECTION STRING or postgresql:CONNECTION STRING; else {DatabaseAddress.Variable}.", HelpName = "CONNECTION",
    };

    /// <summary>Opens the database and does the work, which gives the exit status or why it could not be done.</summary>
    /// <param name="given">The call.</param>
    /// <param name="database">Where the call names the database.</param>
    /// <param name="work">Done once the database is open.</param>
    /// <param name="cancellation">Ends the opening.</param>
    /// <param name="also">What the work needs besides the program's own services.</param>
    /// <returns>The work's exit status, or <see cref="CommandLine.Unusable"/> after a refusal.</returns>
    public static async Task<int> OnDatabase(
        this ParseResult given, Option<string?> database, Func<IServiceProvider, Task<Outcome<int>>> work, CancellationToken cancellation,
        Action<IServiceCollection>? also = null)
    {
        var address = DatabaseAddress.Choose(given.GetValue(database));
        if (!address.Succeeded) return await given.Refuse(address.Refusal);
        var opened = await ShopServices.Open(address.Result, cancellation, also);
        if (!opened.Succeeded) return await given.Refuse(opened.Refusal);
        await using var services = opened.Result;
        var status = await work(services);
        return status.Succeeded ? status.Result : await given.Refuse(status.Refusal);
    }

    public static async Task<int> Refuse(this ParseResult given, Refusal refusal)
    {
        await given.InvocationConfiguration.Error.WriteLineAsync(refusal.ToString());
        return CommandLine.Unusable;
    }
}
