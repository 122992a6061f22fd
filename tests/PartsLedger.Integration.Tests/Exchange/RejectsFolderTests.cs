using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using PartsLedger.Exchange;
using PartsLedger.Hosting;
using PartsLedger.Integration.Tests.Databases;

namespace PartsLedger.Integration.Tests.Exchange;

public sealed class RejectsFolderTests(SqliteStore store) : Specification<SqliteStore>(store)
{
    private const string Parts = "number,name,kind,note\n001,\"One, 3/16\"\"\",seal,a\n 002 ,Two,sael,\"b\nc\"\n003,Three,,d\n";

    [Fact]
    public async Task A_rejected_row_is_written_as_it_was_read_and_is_taken_once_corrected()
    {
        using var scene = new ImportScene(Store).Write("parts", Parts);
        var first = await scene.Import();
        Assert.Equal((1, 2, 3), (first.Taken, first.Rejected, first.ExitStatus));
        Assert.Equal(scene.Rejects, first.RejectsFolder);

        var file = Path.Combine(scene.Rejects, "parts.csv");
        var words = "seal, rotating, plate, spring, valve, housing, hardware, kit, assembly, fluid, tool";
        Assert.Equal("line,column,reason,number,name,kind,note\r\n"
            + $"3,kind,\"'sael' is not known here; write one of {words}.\", 002 ,Two,sael,\"b\nc\"\r\n"
            + $"5,kind,\"The cell is empty; write one of {words}.\",003,Three,,d\r\n", File.ReadAllText(file));

        // Imported uncorrected: the same rows are rejected again, with their places in this file and no second set of reasons.
        var again = await scene.Import(folder: scene.Rejects);
        Assert.Equal([2, 4], again.Kinds[0].Rejects.Select(reject => reject.Line));
        Assert.StartsWith("line,column,reason,number,name,kind,note\r\n2,kind,", File.ReadAllText(Path.Combine(scene.Rejects, "rejects", "parts.csv")), StringComparison.Ordinal);

        File.WriteAllText(file, File.ReadAllText(file).Replace("Two,sael", "Two,seal", StringComparison.Ordinal).Replace("Three,,", "Three,kit,", StringComparison.Ordinal));
        var corrected = await scene.Import(folder: scene.Rejects);
        Assert.Equal((2, 0), (corrected.Taken, corrected.ExitStatus));
        Assert.Equal(["001", "002", "003"], await Store.With(db => db.Parts.OrderBy(row => row.NumberKey).Select(row => row.Number).ToListAsync()));
        Assert.False(File.Exists(Path.Combine(scene.Rejects, "rejects", "parts.csv")));
    }

    [Fact]
    public async Task A_kind_without_rejects_any_more_loses_its_earlier_file_and_the_other_kinds_keep_theirs()
    {
        using var scene = new ImportScene(Store).Write("parts", Parts).Write("locations", "code,name,kind\nA,X,shelf\n");
        await scene.Import();

        await scene.Write("parts", "number,name,kind\n001,One,seal\n").Import();

        Assert.Equal(["locations.csv"], Directory.GetFiles(scene.Rejects).Select(Path.GetFileName));
    }

    [Fact]
    public async Task A_row_with_a_cell_too_many_keeps_it()
    {
        using var scene = new ImportScene(Store).Write("locations", "code,name,kind\nA-01,Drawer, small,bin\n");
        await scene.Import();
        Assert.EndsWith(",A-01,Drawer, small,bin\r\n", File.ReadAllText(Path.Combine(scene.Rejects, "locations.csv")), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Rejects_go_where_they_are_sent_even_on_a_dry_run()
    {
        using var scene = new ImportScene(Store).Write("parts", Parts);
        var elsewhere = Path.Combine(scene.Folder, "to-do");

        await scene.Import(new ImportOptions(DryRun: true, RejectsFolder: elsewhere));

        Assert.True(File.Exists(Path.Combine(elsewhere, "parts.csv")));
        Assert.Equal(0, await Store.With(db => db.Parts.CountAsync()));
    }

    [Fact]
    public async Task Rejects_are_never_written_over_something_else()
    {
        using var scene = new ImportScene(Store).Write("parts", Parts);
        var elsewhere = Directory.CreateDirectory(Path.Combine(scene.Folder, "other")).FullName;
        File.WriteAllText(Path.Combine(elsewhere, "parts.csv"), "number,name,kind\n");

        Assert.Equal("REJECTS_IN_PLACE", await Refused(scene, scene.Folder + Path.DirectorySeparatorChar));
        Assert.Equal("REJECTS_FOLDER", await Refused(scene, elsewhere));
        Assert.Equal("REJECTS_FOLDER", await Refused(scene, Path.Combine(scene.Folder, "parts.csv")));
        Assert.Equal(Parts, File.ReadAllText(Path.Combine(scene.Folder, "parts.csv")));
        Assert.Equal(0, await Store.With(db => db.Parts.CountAsync()));
    }

    [Fact]
    public async Task A_corrected_part_lets_the_rows_in_that_depend_on_it()
    {
        using var scene = new ImportScene(Store).Write("parts", "number,name,kind\n1,X,seal\n2,Y,kti\n").Write("contents", "pack,part,quantity\n2,1,4\n");
        Assert.Equal(2, (await scene.Import()).Rejected);
        var file = Path.Combine(scene.Rejects, "parts.csv");
        File.WriteAllText(file, File.ReadAllText(file).Replace(",kti", ",kit", StringComparison.Ordinal));

        var corrected = await scene.Import(folder: scene.Rejects);

        Assert.Equal((2, 0), (corrected.Taken, corrected.Rejected));
        Assert.Equal(4_000, (await Store.With(db => db.PackContents.SingleAsync())).Quantity.Thousandths);
    }

    private async Task<string?> Refused(ImportScene scene, string rejects) => (await Store.Services.GetRequiredService<FolderImporter>()
        .Import(scene.Folder, new ImportOptions(RejectsFolder: rejects), Caller.CommandLine, CancellationToken.None)).Refusal?.Code;
}
