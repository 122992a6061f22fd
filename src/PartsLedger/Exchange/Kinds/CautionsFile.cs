using System.Security.Cryptography;
using System.Text;
using PartsLedger.Data.Kits;
using PartsLedger.Domain.Catalog;
using PartsLedger.Exchange.Reading;

namespace PartsLedger.Exchange.Kinds;

/// <summary>Cautions for everything (<c>*</c>), a group, a part or a family; a name that is several of these is the first of them.</summary>
public sealed class CautionsFile : RowKind<CautionRow, (string AppliesTo, string TextHash)>
{
    private Register<NamedPart> _parts = null!;
    private Register<Named> _families = null!;

    public override string Name => "cautions";

    public override IReadOnlyList<Column> Columns { get; } = [Column.Key("applies_to"), Column.Key("text"), Column.Optional("severity")];

    protected override async Task Prepare(KindRun run, CancellationToken cancellation) =>
        (_parts, _families) = (await run.Registers.Parts(), await run.Registers.Families());

    protected override CautionRow Read(RowCells cells)
    {
        var (appliesTo, text) = (cells.Text("applies_to", Limits.Code), cells.Text("text", Limits.Text, manyLines: true));
        return new CautionRow
        {
            AppliesTo = appliesTo, AppliesToKey = KeyOf(cells, appliesTo), Text = text,
            TextHash = Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text))), Severity = cells.Word("severity", Severity.Note),
        };
    }

    protected override (string AppliesTo, string TextHash) KeyOf(CautionRow row) => (row.AppliesToKey, row.TextHash);

    private string KeyOf(RowCells cells, string appliesTo)
    {
        if (appliesTo is "" or "*") return appliesTo;
        if (Words.TryParse(appliesTo, out PartGroup group)) return Code.KeyOf(Words.Of(group));
        if (_parts.TryFind(appliesTo) is { } part) return part.Key;
        if (_families.TryFind(appliesTo) is { } family) return family.Key;
        cells.Reject("applies_to", $"'{RowCells.Brief(appliesTo)}' is no group ({string.Join(", ", Words.All<PartGroup>())}), part or family, and not *. {_parts.Unknown(appliesTo)}");
        return "";
    }
}
