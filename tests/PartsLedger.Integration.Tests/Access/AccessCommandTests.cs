using System.CommandLine;
using Microsoft.Data.Sqlite;
using PartsLedger.Commands;

namespace PartsLedger.Integration.Tests.Access;

/// <summary>People and tokens from the machine's command line.</summary>
public sealed class AccessCommandTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("partsledger-people-").FullName;

    [Fact]
    public async Task People_are_added_given_roles_reset_and_leave()
    {
        var added = await Run(0, "people", "add", "Kim Lee", "--role", "counter", "--role", "warehouse");
        Assert.Matches("On the shop's own address: /new-password\\?code=[A-Za-z0-9_-]{43}", added);
        await Run(0, "people", "roles", "kim lee", "--role", "reader");
        Assert.Contains("/new-password?code=", await Run(0, "people", "reset", "Kim Lee"), StringComparison.Ordinal);
        await Run(0, "people", "leave", "Kim Lee");
        Assert.Equal("Kim Lee: reader; has left; has no password", (await Run(0, "people", "list")).Trim());
        await Run(0, "people", "return", "Kim Lee");
        Assert.Equal("Kim Lee: reader; has no password", (await Run(0, "people", "list")).Trim());

        Assert.Contains("There is no role 'king'.", await Run(2, "people", "add", "Sam", "--role", "king"), StringComparison.Ordinal);
        Assert.Contains("Nobody here is called 'Sam'.", await Run(2, "people", "leave", "Sam"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_token_is_printed_once_listed_without_itself_and_revoked()
    {
        var token = (await Run(0, "token", "add", "scale", "--role", "warehouse", "--days", "5")).Split('\n').Single(line => line.StartsWith("pl_", StringComparison.Ordinal)).Trim();
        Assert.Equal(46, token.Length);
        var listed = await Run(0, "token", "list");
        Assert.Matches("^scale: warehouse; until \\d{4}-\\d\\d-\\d\\d; never used", listed);
        Assert.DoesNotContain(token, listed, StringComparison.Ordinal);
        await Run(0, "token", "revoke", "scale");
        Assert.Contains("revoked", await Run(0, "token", "list"), StringComparison.Ordinal);
        Assert.Contains("1 to 366 days", await Run(2, "token", "add", "other", "--role", "reader", "--days", "1000"), StringComparison.Ordinal);
    }

    public void Dispose()
    {
        SqliteConnection.ClearAllPools();
        Directory.Delete(_folder, recursive: true);
    }

    /// <summary>Runs the command and expects its exit status: what it said on both outputs.</summary>
    private async Task<string> Run(int status, params string[] call)
    {
        var said = new StringWriter();
        Assert.Equal(status, await CommandLine.Run([.. call, "--db", $"sqlite:{Path.Combine(_folder, "shop.db")}"], new InvocationConfiguration { Output = said, Error = said }));
        return said.ToString();
    }
}
