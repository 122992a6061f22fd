using ClosedXML.Excel;
using Microsoft.Extensions.DependencyInjection;
using PartsLedger.Exchange;
using PartsLedger.Hosting;
using PartsLedger.Integration.Tests.Databases;

namespace PartsLedger.Integration.Tests.Exchange;

/// <summary>A folder of files of its own and the database it is imported into.</summary>
public sealed class ImportScene(Store store) : IDisposable
{
    public const string Parts = "number,name,kind,service,pressure_class,tracking,unit,cost,price,lead_days,supplied\n";

    /// <summary>Two classes, a family of each fit, and parts of several kinds, units and trackings.</summary>
    public static readonly IReadOnlyDictionary<string, string> Shop = new Dictionary<string, string>
    {
        ["pressure-classes"] = "code,name,relief_kpa,minus_kpa,plus_kpa\nP070,70 bar,7000,250,350\nP085,85 bar,8500,300,400\n",
        ["families"] = "code,name,displacement_cc,valve_fit,bore_mm,clearance_min_um,clearance_target_um,clearance_max_um\n"
            + "VR20,Roller pump,19.8,interchangeable,,,,\nVS30,Vane pump,29.6,selective,15.875,8,14,20\n",
        ["parts"] = Parts
            + "020-1001,Shaft seal,seal,,,,,0.80,,,\n"
            + "020-1002,O-ring,seal,kit-only,,lot,,0.10,,,\n"
            + "020-8001,Reseal kit,kit,,,,,9.50,,,\n"
            + "020-8002,Full kit,kit,,,,,30,,,\n"
            + "020-9001,Pump,assembly,,P070,serial,,150,,,\n"
            + "020-7001,Fluid,fluid,,,,l,4.20,,,\n",
        ["variants"] = "code,family,pressure_class,built_from,built_to,serial_from,serial_to,rotation,note\n"
            + "VR20-070-R,VR20,P070,2001-01,2009-12,,,cw,\nVR20-070-R2,VR20,P070,2010-01,,,,cw,\n",
        ["locations"] = "code,name,kind\nA-01,Drawer,bin\nA-02,Drawer,bin\nQ-01,Quarantine,quarantine\n",
        ["feature-guide"] = "feature,question,seconds,teardown\ndrive,Pulley or coupling?,5,no\n",
    };

    public string Folder { get; } = Directory.CreateTempSubdirectory("partsledger-import-").FullName;

    public string Rejects => Path.Combine(Folder, "rejects");

    public ImportScene Write(string kind, string text) => WriteBytes(kind + ".csv", System.Text.Encoding.UTF8.GetBytes(text));

    public ImportScene WriteBytes(string name, byte[] bytes)
    {
        File.WriteAllBytes(Path.Combine(Folder, name), bytes);
        return this;
    }

    /// <summary>The first cells of the rows are the header; a cell keeps the type it is given in.</summary>
    public ImportScene WriteWorkbook(string kind, params object?[][] rows)
    {
        using var book = new XLWorkbook();
        var sheet = book.AddWorksheet("Sheet1");
        for (var row = 0; row < rows.Length; row++)
            for (var column = 0; column < rows[row].Length; column++)
                Fill(sheet.Cell(row + 1, column + 1), rows[row][column]);
        book.SaveAs(Path.Combine(Folder, kind + ".xlsx"));
        return this;
    }

    private static void Fill(IXLCell cell, object? value)
    {
        switch (value)
        {
            case null: break;
            case string text: cell.SetValue(text).DataType = XLDataType.Text; break;
            case int number: cell.SetValue(number); break;
            case double number: cell.SetValue(number); break;
            case bool yes: cell.SetValue(yes); break;
            case DateTime date: cell.SetValue(date); break;
            case (double number, string format): cell.SetValue(number).Style.NumberFormat.Format = format; break;
            case (DateTime date, string format): cell.SetValue(date).Style.DateFormat.Format = format; break;
            default: throw new ArgumentException($"A cell of {value.GetType()}.", nameof(value));
        }
    }

    public ImportScene WriteShop()
    {
        foreach (var (kind, text) in Shop) Write(kind, text);
        return this;
    }

    public ImportScene Remove(string name)
    {
        File.Delete(Path.Combine(Folder, name));
        return this;
    }

    /// <summary>Imports, and expects the call itself to be of use.</summary>
    public async Task<ImportReport> Import(ImportOptions? options = null, string? folder = null)
    {
        var report = await store.Services.GetRequiredService<FolderImporter>()
            .Import(folder ?? Folder, options ?? new ImportOptions(), Caller.CommandLine, CancellationToken.None);
        Assert.True(report.Succeeded, report.Refusal?.ToString());
        return report.Result;
    }

    public void Dispose() => Directory.Delete(Folder, recursive: true);
}
