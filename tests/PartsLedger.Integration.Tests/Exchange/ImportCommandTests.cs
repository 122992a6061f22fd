using System.CommandLine;
using PartsLedger.Commands;
using PartsLedger.Integration.Tests.Databases;

namespace PartsLedger.Integration.Tests.Exchange;

/// <summary>The command as a person types it.</summary>
public sealed class ImportCommandTests(SqliteStore store) : Specification<SqliteStore>(store)
{
    [Fact]
    public async Task All_rows_taken_is_exit_0_and_the_counts_are_told()
    {
        using var scene = new ImportScene(Store).WriteShop();
        var (status, output, error) = await Run("import", scene.Folder, "--db", Database);
        Assert.Equal((0, ""), (status, error));
        Assert.Contains("parts                   6        0        0         0", output, StringComparison.Ordinal);
        Assert.EndsWith("16 rows taken, 0 rejected.", output.TrimEnd(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Some_rows_rejected_is_exit_3_with_line_and_column_and_the_folder_to_correct()
    {
        using var scene = new ImportScene(Store).Write("locations", "code,name,kind\nA-01,X,shelf\nA-02,X,bin\n").Write("cores", "tag\n").Write("notes", "x\n");
        var (status, output, _) = await Run("import", scene.Folder, "--db", Database);
        Assert.Equal(3, status);
        Assert.Contains("locations.csv line 2, column kind: 'shelf' is not known here; write one of bin, bench, quarantine, dock.", output, StringComparison.Ordinal);
        Assert.DoesNotContain("cores.csv", output, StringComparison.Ordinal);
        Assert.Contains("Ignored: notes.csv", output, StringComparison.Ordinal);
        Assert.Contains($"1 row taken, 1 rejected. Correct the rejected rows in {scene.Rejects} and import that folder.", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_unusable_file_is_exit_2_and_the_good_one_beside_it_is_taken()
    {
        using var scene = new ImportScene(Store).Write("locations", "code,name,kind\nA-02,X,bin\n").Write("parts", "a,b\n");
        var (status, output, _) = await Run("import", scene.Folder, "--db", Database);
        Assert.Equal(2, status);
        Assert.Contains("parts.csv lacks the columns number, name, kind.", output, StringComparison.Ordinal);
        Assert.Contains("1 row taken, 0 rejected, 1 file unusable.", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_dry_run_says_so()
    {
        using var scene = new ImportScene(Store).WriteShop();
        var (status, output, _) = await Run("import", scene.Folder, "--db", Database, "--dry-run");
        Assert.Equal(0, status);
        Assert.Contains("(dry run: nothing is kept)", output, StringComparison.Ordinal);
        Assert.Contains("16 rows would be taken", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_call_of_no_use_is_exit_2_with_one_sentence()
    {
        using var scene = new ImportScene(Store);
        await Refused("There is no folder", "import", Path.Combine(scene.Folder, "nowhere"), "--db", Database);
        await Refused("holds no file that the import takes", "import", scene.Folder, "--db", Database);
        await Refused("'oracle' does not begin a database address.", "import", scene.Folder, "--db", "oracle:x");
        await Refused("The database cannot be opened", "import", scene.Folder, "--db", $"sqlite:{Path.Combine(scene.Folder, "no", "such", "folder", "x.db")}");
        scene.Write("parts", "a\n");
        await Refused("is a file; the import reads a folder.", "import", Path.Combine(scene.Folder, "parts.csv"), "--db", Database);
    }

    [Theory]
    [InlineData("import")]
    [InlineData("import", "a", "b")]
    [InlineData("import", "a", "--nonsense")]
    [InlineData("nonsense")]
    public async Task A_call_that_cannot_be_understood_is_exit_2(params string[] args) => Assert.Equal(2, (await Run(args)).Status);

    private string Database => $"{Store.Name}:{Store.Address.Connection}";

    private static async Task Refused(string sentence, params string[] args)
    {
        var (status, output, error) = await Run(args);
        Assert.Equal((2, ""), (status, output));
        Assert.Contains(sentence, error, StringComparison.Ordinal);
        Assert.Single(error.TrimEnd().Split('\n'));
    }

    private static async Task<(int Status, string Output, string Error)> Run(params string[] args)
    {
        using StringWriter output = new(), error = new();
        var status = await CommandLine.Run(args, new InvocationConfiguration { Output = output, Error = error });
        return (status, output.ToString(), error.ToString());
    }
}
