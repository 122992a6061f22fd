namespace PartsLedger.Exchange.Labels;

/// <summary>One label: a code for the scanner and for the eye, and what a person needs to know at arm's length.</summary>
/// <param name="Code">What is scanned, 1 to 100 printable ASCII characters.</param>
/// <param name="Title">What it is, in a few words: "Valve half of a pair".</param>
/// <param name="Lines">Up to three more lines, most important first.</param>
/// <param name="Alert">A line set white on black: "KEEP TOGETHER".</param>
public sealed record Label(string Code, string Title, IReadOnlyList<string> Lines, string? Alert = null);

/// <summary>What the labels are printed on.</summary>
public enum LabelPaper
{
    /// <summary>A label printer's roll: one page of 50 × 25 mm each.</summary>
    Roll,

    /// <summary>A sheet of A4 with 4 × 11 labels of 50 × 25 mm.</summary>
    Sheet,
}
