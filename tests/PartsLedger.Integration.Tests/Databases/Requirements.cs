namespace PartsLedger.Integration.Tests.Databases;

/// <summary>
/// What this run must not skip: <c>PARTSLEDGER_REQUIRE</c> lists names such as <c>postgresql,node,libreoffice</c>. A test whose
/// requirement is missing is skipped with a sentence, unless it is listed: then it fails with the same sentence.
/// </summary>
public static class Requirements
{
    public const string Variable = "PARTSLEDGER_REQUIRE";

    public static bool IsRequired(string name) => (Environment.GetEnvironmentVariable(Variable) ?? "")
        .Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries).Contains(name, StringComparer.OrdinalIgnoreCase);

    /// <param name="sentence">What is missing and what to install or set.</param>
    public static void SkipUnless(bool present, string name, string sentence)
    {
        if (present) return;
        Assert.False(IsRequired(name), $"{sentence} ({Variable} lists {name}, so this test must not be skipped.)");
        Assert.Skip(sentence);
    }
}
