using PartsLedger.Data;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Migrations.PostgreSql;
using PartsLedger.Migrations.Sqlite;
using PartsLedger.Migrations.SqlServer;

namespace PartsLedger.Hosting;

/// <summary>Which database to work on: <c>sqlite:PATH</c>, <c>sqlserver:CONNECTION STRING</c> or <c>postgresql:CONNECTION STRING</c>.</summary>
public sealed record DatabaseAddress(IDatabase Database, string Connection)
{
    public const string Variable = "PARTSLEDGER_DB";

    /// <summary>Names a file that holds the address, so that a password in it stands in no list of processes and in no environment.</summary>
    public const string FileVariable = "PARTSLEDGER_DB_FILE";

    private static readonly IDatabase[] Known = [new SqliteDatabase(), new SqlServerDatabase(), new PostgreSqlDatabase()];

    public bool IsEmbedded => Database is SqliteDatabase;

    /// <summary>The address given, else the environment's, else a file in the user's data folder.</summary>
    public static Outcome<DatabaseAddress> Choose(string? given)
    {
        var text = string.IsNullOrWhiteSpace(given) ? Environment.GetEnvironmentVariable(Variable) : given;
        if (string.IsNullOrWhiteSpace(text) && Environment.GetEnvironmentVariable(FileVariable) is { Length: > 0 } file)
            try
            {
                return Parse(File.ReadAllText(file).Trim());
            }
            catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
            {
                return new Refusal("BAD_SETTING", $"The file that {FileVariable} names cannot be read.", "Check that it is there and that the program may read it.");
            }
        return string.IsNullOrWhiteSpace(text) ? new DatabaseAddress(Known[0], DefaultFile()) : Parse(text);
    }

    public static Outcome<DatabaseAddress> Parse(string text)
    {
        var (scheme, rest) = text.IndexOf(':', StringComparison.Ordinal) is >= 0 and var at ? (text[..at], text[(at + 1)..]) : (text, "");
        var database = Array.Find(Known, known => known.Scheme.Equals(scheme.Trim(), StringComparison.OrdinalIgnoreCase));
        return database is null || string.IsNullOrWhiteSpace(rest)
            ? new Refusal("BAD_DATABASE_ADDRESS", $"'{scheme}' does not begin a database address.",
                "Write sqlite:PATH, sqlserver:CONNECTION STRING or postgresql:CONNECTION STRING.")
            : new DatabaseAddress(database, rest.Trim());
    }

    private static string DefaultFile()
    {
        var folder = Path.Combine(
            Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.Create), "PartsLedger");
        Directory.CreateDirectory(folder);
        return Path.Combine(folder, "partsledger.db");
    }
}
