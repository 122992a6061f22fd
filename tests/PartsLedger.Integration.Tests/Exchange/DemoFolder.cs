namespace PartsLedger.Integration.Tests.Exchange;

/// <summary>Where the invented shop's files are in this working copy.</summary>
public static class DemoFolder
{
    public static string Path { get; } = Find();

    private static string Find()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(System.IO.Path.Combine(folder.FullName, "PartsLedger.sln"))) folder = folder.Parent;
        return System.IO.Path.Combine(folder?.FullName ?? throw new InvalidOperationException("The tests do not run inside a working copy."), "import", "demo");
    }
}
