using PartsLedger.Exchange.Kinds;
using PartsLedger.Exchange.Reading;

namespace PartsLedger.Exchange;

/// <summary>Every kind the importer takes, in the order in which they depend on one another.</summary>
public static class FileKinds
{
    private static readonly Func<FileKind>[] InOrder =
    [
        () => new PressureClassesFile(), () => new FamiliesFile(), () => new PartsFile(), () => new AliasesFile(), () => new ContentsFile(),
        () => new SupersessionsFile(), () => new VariantsFile(), () => new PositionsFile(), () => new ApplicationsFile(),
        () => new FeatureGuideFile(), () => new FeaturesFile(), () => new LocationsFile(), () => new StockFile(), () => new CautionsFile(),
        () => new ChecksFile(), () => new ToolsFile(), () => new CoresFile(), () => new GaugesFile(), () => new UnitsFile(),
        () => new MeasurementsFile(),
    ];

    /// <summary>New instances, one for each run.</summary>
    public static IReadOnlyList<FileKind> All => [.. InOrder.Select(make => make())];

    /// <summary>A new instance of the kind with this name.</summary>
    public static FileKind Make(string name) => All.First(kind => kind.Name == name);

    /// <summary>The kind's name that a file's name says, however it writes it (<c>Pressure Classes.xlsx</c>); null when it says none.</summary>
    public static string? NameOf(string fileName) => All.FirstOrDefault(kind => Layout.Plain(kind.Name) == Plain(fileName))?.Name;

    private static string Plain(string fileName) => Layout.Plain(Path.GetFileNameWithoutExtension(fileName));
}
