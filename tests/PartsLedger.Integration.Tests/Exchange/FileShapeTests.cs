using System.IO.Compression;
using System.Text;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Exchange;
using PartsLedger.Integration.Tests.Databases;

namespace PartsLedger.Integration.Tests.Exchange;

/// <summary>What a file may look like, and what is said of one that is not what its name says.</summary>
public sealed class FileShapeTests(SqliteStore store) : Specification<SqliteStore>(store)
{
    private const string Header = "number,name,kind";

    public static TheoryData<string, byte[], string> NotWhatTheySay => new()
    {
        { "parts.csv", [], "parts.csv is empty. Give it a header line as in the templates, or take it away." },
        { "parts.csv", "\n\n"u8.ToArray(), "parts.csv has no header line. Give it a header line as in the templates." },
        { "parts.csv", Zip(), "parts.csv is a workbook or another packed file, not comma separated text. Give it the ending .xlsx if it is a workbook, or save it as \"CSV UTF-8\"." },
        { "parts.csv", [0xFF, 0xFE, .. Encoding.Unicode.GetBytes(Header)], "parts.csv is UTF-16 text, not UTF-8. Save it as \"CSV UTF-8\" (comma separated) and import again." },
        { "parts.csv", [.. Encoding.UTF8.GetBytes(Header), (byte)'\n', 0, 1], "parts.csv is not text: line 2 holds a zero byte. Save it as \"CSV UTF-8\" (comma separated) and import again." },
        { "parts.csv", Encoding.Latin1.GetBytes(Header + "\n1,Prüfer,tool\n"), "parts.csv is not UTF-8 text: see line 2. Save it as \"CSV UTF-8\" (comma separated) and import again." },
        { "parts.csv", "number,kind\n1,seal\n"u8.ToArray(), "parts.csv lacks the column name. Give it a header line as in the templates, with a cell for each." },
        { "parts.csv", "a,b\n1,2\n"u8.ToArray(), "parts.csv lacks the columns number, name, kind. Give it a header line as in the templates, with a cell for each." },
        { "parts.csv", "number,name,kind,Lead Days,lead-days\n"u8.ToArray(), "parts.csv has the column lead_days twice: 'Lead Days' and 'lead-days'. Leave one of the two and import again." },
        { "pressure-classes.csv", "code,name,relief_kpa,relief_psi,minus_kpa,plus_kpa\n"u8.ToArray(), "pressure-classes.csv has the column relief_kpa twice: 'relief_kpa' and 'relief_psi'. Leave one of the two and import again." },
        { "tools.csv", "name\nPuller\n"u8.ToArray(), "tools.csv has none of the columns family, variant. Give it at least one of them." },
        { "parts.xlsx", "number,name,kind\n"u8.ToArray(), "parts.xlsx is not an .xlsx workbook. Save it as .xlsx, or give it the ending .csv if it is comma separated text." },
        { "parts.xlsx", [0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1], "parts.xlsx is a workbook of the old format or locked with a password, not an .xlsx workbook. Save it as .xlsx without a password and import again." },
        { "parts.xlsx", [], "parts.xlsx is empty. Give it a header line as in the templates, or take it away." },
    };

    [Theory]
    [MemberData(nameof(NotWhatTheySay))]
    public async Task A_file_that_is_not_what_its_name_says_is_refused_in_one_sentence_and_the_others_are_taken(string name, byte[] bytes, string sentence)
    {
        using var scene = new ImportScene(Store).Write("locations", ImportScene.Shop["locations"]).WriteBytes(name, bytes);

        var report = await scene.Import();

        Assert.Equal(2, report.ExitStatus);
        Assert.Equal(sentence, Assert.Single(report.Kinds, kind => kind.Unusable is not null).Unusable!.ToString());
        Assert.Equal(3, report.Taken);
    }

    [Fact]
    public async Task A_packed_file_without_a_workbook_in_it_is_refused()
    {
        using var scene = new ImportScene(Store).WriteBytes("parts.xlsx", Zip());
        var report = await scene.Import();
        Assert.Equal(2, report.ExitStatus);
        Assert.StartsWith("parts.xlsx cannot be read: ", report.Kinds[0].Unusable!.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Two_files_of_one_kind_are_refused()
    {
        using var scene = new ImportScene(Store).Write("parts", Header + "\n1,X,seal\n").WriteWorkbook("Parts", ["number", "name", "kind"], ["1", "X", "seal"]);
        var report = await scene.Import();
        Assert.Equal(2, report.ExitStatus);
        Assert.Equal("The folder has Parts.xlsx and parts.csv, both of the kind parts. Leave the one that is meant and import again.",
            report.Kinds[0].Unusable!.ToString());
        Assert.Equal(0, await Store.With(db => db.Parts.CountAsync()));
    }

    [Theory]
    [InlineData("number;name;kind;cost\n1;\"A; b\";seal;1.5\n")]
    [InlineData("number\tname\tkind\tcost\n1\tA; b\tseal\t1.5\n")]
    [InlineData("\ufeffNumber,NAME,Kind,Cost\r\n1,A; b,SEAL,1.5\r\n")]
    [InlineData("n u-m_ber,name,kind,cost,,\n1,A; b,seal,1.5,,\n,,,,,\n\n")]
    public async Task A_text_file_is_read_however_it_is_separated_and_headed(string text)
    {
        using var scene = new ImportScene(Store).Write("parts", text);
        var report = await scene.Import();
        Assert.Equal((1, 0), (report.Taken, report.ExitStatus));
        var part = await Store.With(db => db.Parts.SingleAsync());
        Assert.Equal(("1", "A; b", "1.50"), (part.Number, part.Name, part.Cost.ToString()));
    }

    [Fact]
    public async Task Columns_that_no_kind_has_are_left_and_named()
    {
        using var scene = new ImportScene(Store).Write("parts", "number,name,kind,colour\n1,X,seal,red\n").Write("colours", "a\n").WriteBytes("photo.png", [1]);
        var report = await scene.Import();
        Assert.Equal(["The column 'colour' is not taken."], report.Kinds[0].Remarks);
        Assert.Equal(["colours.csv", "photo.png"], report.Ignored);
        Assert.Equal(0, report.ExitStatus);
    }

    [Fact]
    public async Task A_quote_that_is_never_closed_damages_its_own_line_only()
    {
        using var scene = new ImportScene(Store).Write("parts",
            "number,name,kind\n1,One,seal\n2,\"Two,seal\n3,\"Three, with \"\"quotes\"\"\nand a second line\",seal\n4,Four 0.625\",seal\n5,\"Five,seal\n6,Six,seal\n");

        var report = await scene.Import();

        Assert.Equal([(3, "A double quote is opened and never closed."), (7, "A double quote is opened and never closed.")],
            report.Kinds[0].Rejects.Where(reject => reject.Columns.Length == 0).Select(reject => (reject.Line, reject.Reason)));
        Assert.Equal(["1", "4", "6"], await Store.With(db => db.Parts.OrderBy(row => row.NumberKey).Select(row => row.Number).ToListAsync()));
        Assert.Equal("Four 0.625\"", await Store.With(db => db.Parts.Where(row => row.NumberKey == "4").Select(row => row.Name).SingleAsync()));

        // The name over two lines is whole, and refused only because a name has no line break.
        Assert.Equal((4, "name", "The text holds a control character (number 10); take it out."), Assert.Single(
            report.Kinds[0].Rejects.Where(reject => reject.Columns.Length > 0).Select(reject => (reject.Line, reject.Columns, reject.Reason))));
    }

    [Fact]
    public async Task A_workbook_gives_what_the_same_text_file_gives()
    {
        using var scene = new ImportScene(Store).WriteShop();
        await scene.Import();
        scene.Remove("parts.csv").Remove("pressure-classes.csv").Remove("variants.csv")
            .WriteWorkbook("parts",
                ["number", "name", "kind", "service", "tracking", "unit", "cost", "price", "lead_days", "supplied"],
                ["020-1001", "Shaft seal", "seal", null, null, null, 0.8, null, null, true],
                ["0201002", "O-ring", "seal", "kit-only", "lot", null, "0.10", null, null, null],
                [null, null],
                [(7.0, "0000"), "Washer", "hardware", null, null, null, 0.1 + 0.2, 15.0, 21, false])
            .WriteWorkbook("pressure-classes", ["code", "name", "relief_bar", "minus_kpa", "plus_kpa"], ["P070", "70 bar", 70, 250, 350])
            .WriteWorkbook("variants",
                ["code", "family", "pressure_class", "built_from", "built_to", "rotation"],
                ["VR20-070-R", "VR20", "P070", new DateTime(2001, 1, 1), (new DateTime(2009, 12, 1), "mmm-yy"), "cw"],
                ["VR20-070-R2", "VR20", "P070", (new DateTime(2010, 1, 1), "yyyy-mm-dd"), null, "cw"]);

        var report = await scene.Import();

        Assert.Equal(0, report.ExitStatus);
        var parts = report.Kinds.Single(kind => kind.Kind == "parts");

        // The dash is written otherwise in one number; everything else of the known rows is the same.
        Assert.Equal((1, 1, 1), (parts.New, parts.Changed, parts.Unchanged));
        Assert.Equal(1, report.Kinds.Single(kind => kind.Kind == "pressure-classes").Unchanged);
        Assert.Equal(2, report.Kinds.Single(kind => kind.Kind == "variants").Unchanged);
        var washer = await Store.With(db => db.Parts.SingleAsync(row => row.Name == "Washer"));
        Assert.Equal(("0007", "0.30", "15.00", 21, false), (washer.Number, washer.Cost.ToString(), washer.Price.ToString(), washer.LeadDays, washer.Supplied));
    }

    [Fact]
    public async Task A_workbooks_rejects_name_the_row_of_the_sheet_and_can_be_imported_again()
    {
        using var scene = new ImportScene(Store).WriteWorkbook("locations", ["code", "name", "kind"], ["A-01", "Drawer", "bin"], [null, null, null], ["A-02", "Drawer", "shelf"]);
        var report = await scene.Import();
        Assert.Equal((4, "kind"), Assert.Single(report.Kinds[0].Rejects.Select(reject => (reject.Line, reject.Columns))));

        var file = Path.Combine(scene.Rejects, "locations.csv");
        Assert.Equal("line,column,reason,code,name,kind\r\n4,kind,\"'shelf' is not known here; write one of bin, bench, quarantine, dock.\",A-02,Drawer,shelf\r\n", File.ReadAllText(file));
    }

    [Fact]
    public async Task Measures_come_in_any_unit_the_header_or_the_cell_says()
    {
        using var scene = new ImportScene(Store)
            .Write("pressure-classes", "code,name,relief_psi,minus_bar,plus\nP1,X,900,2.5,0.35 MPa\nP2,X,70 bar,250 kPa,3\n")
            .Write("families", "code,name,displacement_cc,valve_fit,bore_in,clearance_min_nm,clearance_target_mm,clearance_max_um\nF1,X,19.8,selective,5/8,8000,0.014,20\nF2,X,,interchangeable,15.875 mm,,,\n");

        var report = await scene.Import();

        var first = await Store.With(db => db.PressureClasses.SingleAsync());
        Assert.Equal((6_205_282, 250_000, 350_000), (first.Relief.Pascals, first.Minus.Pascals, first.Plus.Pascals));
        var reject = Assert.Single(report.Kinds.SelectMany(kind => kind.Rejects));
        Assert.Equal((3, "plus", "'3' has no unit, and the header has none either; write one of kPa, bar, MPa, psi."), (reject.Line, reject.Columns, reject.Reason));
        var families = await Store.With(db => db.Families.OrderBy(row => row.CodeKey).ToListAsync());
        Assert.All(families, family => Assert.Equal(15_875_000, family.Bore!.Value.Nanometres));
        Assert.Equal((8_000, 14_000, 20_000), (families[0].ClearanceMin!.Value.Nanometres, families[0].ClearanceTarget!.Value.Nanometres, families[0].ClearanceMax!.Value.Nanometres));
        Assert.Equal(19_800, families[0].Displacement!.Value.Microlitres);
    }

    [Fact]
    public async Task A_family_fitted_by_selection_without_its_clearances_is_taken_with_a_remark()
    {
        using var scene = new ImportScene(Store).Write("families", "code,name,valve_fit\nF1,X,selective\nF2,X,interchangeable\n");
        var report = await scene.Import();
        Assert.Equal((2, 0), (report.Taken, report.ExitStatus));
        Assert.Equal("Line 2: the valves of F1 are fitted by selection, but not all of bore and clearances are stated; no pairs can be proposed for it.",
            Assert.Single(report.Kinds[0].Remarks));
    }

    [Fact]
    public async Task Files_are_taken_in_the_order_of_what_they_need_whatever_they_are_called()
    {
        using var scene = new ImportScene(Store).Write("Contents", "pack,part,quantity\n2,1,1\n").Write("PARTS", Header + ",pressure_class\n1,X,seal,P1\n2,Y,kit,\n")
            .Write("Pressure_Classes", "code,name,relief_kpa,minus_kpa,plus_kpa\nP1,X,100,0,0\n");
        var report = await scene.Import();
        Assert.Equal(["pressure-classes", "parts", "contents"], report.Kinds.Select(kind => kind.Kind));
        Assert.Equal((4, 0), (report.Taken, report.ExitStatus));
    }

    [Fact]
    public async Task Empty_cells_of_a_part_mean_what_is_usual()
    {
        using var scene = new ImportScene(Store).Write("parts", Header + "\n1,X,seal\n");
        await scene.Import();
        var part = await Store.With(db => db.Parts.SingleAsync());
        Assert.Equal((Domain.Catalog.PartService.Separate, Domain.Catalog.Tracking.Bulk, "pc", 0, true), (part.Service, part.Tracking, part.Unit, part.Cost.TenThousandths, part.Supplied));
        Assert.Null(part.Price);
        Assert.Null(part.LeadDays);
    }

    [Fact]
    public async Task An_alias_may_be_another_parts_own_number_and_may_mean_two_parts()
    {
        using var scene = new ImportScene(Store).WriteShop().Write("aliases", "number,part,source\n020-1001,020-1002,old\nX-1,020-1001,\nX-1,020-1002,\n");
        var report = await scene.Import();
        Assert.Equal((3, 0), (report.Kinds.Single(kind => kind.Kind == "aliases").New, report.ExitStatus));
    }

    private static byte[] Zip()
    {
        using var bytes = new MemoryStream();
        using (var zip = new ZipArchive(bytes, ZipArchiveMode.Create, leaveOpen: true))
        using (var entry = new StreamWriter(zip.CreateEntry("notes.txt").Open()))
            entry.Write("no workbook");
        return bytes.ToArray();
    }
}
