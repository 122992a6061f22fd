using PartsLedger.Data.Catalog;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Measures;
using PartsLedger.Exchange.Reading;

namespace PartsLedger.Exchange.Kinds;

public sealed class FamiliesFile : RowKind<FamilyRow, string>
{
    /// <summary>The materials whose expansion with heat is known: a measurement is reckoned back to 20 °C by it.</summary>
    private static readonly string[] Materials = ["steel", "cast iron", "aluminium"];

    public override string Name => "families";

    public override IReadOnlyList<Column> Columns { get; } =
    [
        Column.Key("code"), Column.Needed("name"),
        Column.Measure("displacement", needed: false, VolumeUnits.CubicCentimetre, VolumeUnits.All), Column.Needed("valve_fit"),
        Length("bore", LengthUnits.Millimetre), Length("clearance_min", LengthUnits.Micrometre), Length("clearance_target", LengthUnits.Micrometre),
        Length("clearance_max", LengthUnits.Micrometre), Length("form_limit", LengthUnits.Micrometre), Length("land_length", LengthUnits.Millimetre),
        Column.Optional("housing_material"), Column.Optional("valve_material"),
    ];

    protected override FamilyRow Read(RowCells cells)
    {
        var code = cells.Code("code");
        var row = new FamilyRow
        {
            Code = code.Text, CodeKey = code.Key, Name = cells.Text("name", Limits.Name),
            Displacement = cells.OptionalVolume("displacement"), ValveFit = cells.Word<ValveFit>("valve_fit"), Bore = cells.OptionalLength("bore"),
            ClearanceMin = cells.OptionalLength("clearance_min"), ClearanceTarget = cells.OptionalLength("clearance_target"),
            ClearanceMax = cells.OptionalLength("clearance_max"), FormLimit = cells.OptionalLength("form_limit"),
            LandLength = cells.OptionalLength("land_length"),
            HousingMaterial = cells.OneOf("housing_material", Materials), ValveMaterial = cells.OneOf("valve_material", Materials),
        };
        if (row.Displacement is { Microlitres: 0 }) cells.Reject("displacement", "The displacement must be above zero.");
        if (row.Bore <= Domain.Measures.Length.Zero) cells.Reject("bore", "The bore must be above zero.");
        if (row.LandLength <= Domain.Measures.Length.Zero) cells.Reject("land_length", "The length of the land must be above zero.");
        if (row.FormLimit < Domain.Measures.Length.Zero) cells.Reject("form_limit", "The form limit cannot be below zero.");
        if (row.ClearanceMin > row.ClearanceTarget) cells.RejectReversed("clearance_min", "clearance_target");
        if (row.ClearanceTarget > row.ClearanceMax) cells.RejectReversed("clearance_target", "clearance_max");
        else if (row.ClearanceMin > row.ClearanceMax) cells.RejectReversed("clearance_min", "clearance_max");
        return row;
    }

    protected override string KeyOf(FamilyRow row) => row.CodeKey;

    protected override void Judge(KindRun run, IReadOnlyList<Judged<FamilyRow, string>> rows, IReadOnlyDictionary<string, FamilyRow> kept)
    {
        foreach (var (line, row, _) in rows)
            if (row.ValveFit == ValveFit.Selective
                && (row.Bore is null || row.ClearanceMin is null || row.ClearanceTarget is null || row.ClearanceMax is null))
                run.Remarks.Add($"Line {line}: the valves of {row.Code} are fitted by selection, but not all of bore and clearances are stated; no pairs can be proposed for it.");
    }

    private static Column Length(string name, MeasureUnit usual) => Column.Measure(name, needed: false, usual, LengthUnits.All);
}
