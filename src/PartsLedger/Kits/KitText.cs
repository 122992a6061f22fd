using System.Globalization;
using System.Text;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;
using PartsLedger.Exchange;

namespace PartsLedger.Kits;

/// <summary>A kit answer as plain text for a terminal, <see cref="Width"/> characters wide.</summary>
public static class KitText
{
    public const int Width = 100;

    public static string Of(KitAnswer answer)
    {
        ArgumentNullException.ThrowIfNull(answer);
        var text = new StringBuilder();
        Head(text, answer);
        Cautions(text, answer);
        Lines(text, answer);
        Uncovered(text, answer);
        Surplus(text, answer);
        Needs(text, answer);
        Tools(text, answer);
        Checks(text, answer);
        return text.ToString();
    }

    private static void Head(StringBuilder text, KitAnswer answer)
    {
        Line(text, $"PRESSURE CLASS {Plain(answer.PressureClass)}   variant {Plain(answer.Variant)}   family {Plain(answer.Family)}");
        Line(text, $"Scope: {KitPhrases.Of(answer.Scope)} ({Words.Of(answer.Scope)}), {KitPhrases.Of(answer.Prefer)}.");
        Line(text, KitPhrases.Verdict(answer));
        Line(text, $"{KitPhrases.Count(answer.Lines.Count, "line", "lines")}, {KitPhrases.Count(answer.PiecesShort, "piece", "pieces")} to order, "
            + $"{answer.SurplusPieces} surplus, total cost {answer.TotalCost}.");
    }

    private static void Cautions(StringBuilder text, KitAnswer answer)
    {
        Section(text, "CAUTIONS");
        Wrap(text, KitPhrases.MakerComesFirst, 2);
        foreach (var caution in KitPhrases.GravestFirst(answer.Cautions))
            Wrap(text, caution.Text, 14, $"  {Words.Of(caution.Severity).ToUpperInvariant()}");
    }

    private static void Lines(StringBuilder text, KitAnswer answer)
    {
        Section(text, "PULL OR ORDER");
        if (answer.Lines.Count == 0)
        {
            Line(text, "  Nothing is to be pulled or ordered.");
            return;
        }
        Table(text, new("Qty", true), new("Part"), new("Name"), new("Kind"), new("Available", true), new("Short", true), new("Unit cost", true), new("Cost", true))
            .Write(answer.Lines, line =>
            [
                Number(line.Quantity), line.Part, line.Name, line.Kind, line.Available.ToString(), Number(line.Short),
                line.UnitCost.ToString(), line.Cost.ToString(),
            ], line => $"covers {KitPhrases.Positions(line.Covers)}: {line.Why}");
    }

    private static void Uncovered(StringBuilder text, KitAnswer answer)
    {
        if (answer.Uncovered.Count == 0) return;
        Section(text, "!! NOT COVERED: the job cannot be finished with this list alone");
        Table(text, new("Position", true), new("Part"), new("Qty", true))
            .Write(answer.Uncovered, gap => [Number(gap.Position), gap.Part, gap.Quantity.ToString()], gap => gap.Why);
    }

    private static void Surplus(StringBuilder text, KitAnswer answer)
    {
        if (answer.Surplus.Count == 0) return;
        Section(text, "GOES BACK TO STOCK");
        Table(text, new("Qty", true), new("Part")).Write(answer.Surplus, extra => [extra.Quantity.ToString(), extra.Part], null);
    }

    private static void Needs(StringBuilder text, KitAnswer answer)
    {
        Section(text, "FULL NEEDS");
        Table(text, new("Position", true), new("Qty", true), new("Part on the list"), new("Name"))
            .Write(answer.Needs, need => [Number(need.Position), need.Quantity.ToString(), need.Part, need.Name], need => need.Why);
    }

    private static void Tools(StringBuilder text, KitAnswer answer)
    {
        if (answer.Tools.Count == 0) return;
        Section(text, "SPECIAL TOOLS");
        foreach (var tool in answer.Tools)
            Wrap(text, string.IsNullOrWhiteSpace(tool.Note) ? tool.Name : $"{tool.Name} ({tool.Note})", 4, "  -");
    }

    private static void Checks(StringBuilder text, KitAnswer answer)
    {
        if (answer.Checks.Count == 0) return;
        Section(text, "CHECKS");
        foreach (var check in answer.Checks)
        {
            Wrap(text, check.Text, 7, $"{check.Sequence,5}");
            string[] facts =
            [
                string.IsNullOrWhiteSpace(check.Expected) ? "" : $"expected {check.Expected}",
                KitPhrases.Limits(check) is { Length: > 0 } limits ? $"{limits} {check.Unit}" : check.Unit ?? "",
            ];
            if (string.Join("; ", facts.Where(fact => fact.Length > 0)) is { Length: > 0 } all) Wrap(text, all, 7);
        }
    }

    private static void Section(StringBuilder text, string title)
    {
        Line(text, "");
        Line(text, title);
    }

    private static void Line(StringBuilder text, string line) => text.Append(line.TrimEnd()).Append('\n');

    private static string Plain(string? text) => SheetText.OneLine(text);

    private static string Number(long number) => number.ToString(CultureInfo.InvariantCulture);

    /// <summary>Breaks at spaces; every line begins at <paramref name="indent"/>, the first one after <paramref name="lead"/>.</summary>
    private static void Wrap(StringBuilder text, string words, int indent, string lead = "")
    {
        var line = new StringBuilder(lead.PadRight(indent));
        var empty = true;
        foreach (var word in Plain(words).Split(' '))
        {
            if (!empty && line.Length + 1 + word.Length > Width)
            {
                Line(text, line.ToString());
                line.Clear().Append(' ', indent);
                empty = true;
            }
            if (!empty) line.Append(' ');
            line.Append(word);
            empty = false;
        }
        Line(text, line.ToString());
    }

    private static TextTable Table(StringBuilder text, params Column[] columns) => new(text, columns);

    private readonly record struct Column(string Title, bool Right = false);

    private sealed class TextTable(StringBuilder text, Column[] columns)
    {
        // A longer text pushes its own row to the right rather than widening every row beyond the terminal.
        private const int WidestColumn = 26;

        /// <param name="remark">A sentence under each row, or null for none.</param>
        public void Write<T>(IReadOnlyList<T> rows, Func<T, string[]> cells, Func<T, string>? remark)
        {
            var all = rows.Select(row => cells(row).Select(Plain).ToArray()).ToList();
            var widths = columns.Select((column, at) =>
                Math.Max(column.Title.Length, Math.Min(WidestColumn, all.Count == 0 ? 0 : all.Max(row => row[at].Length)))).ToArray();
            Row([.. columns.Select(column => column.Title)], widths);
            for (var at = 0; at < rows.Count; at++)
            {
                Row(all[at], widths);
                if (remark is not null) Wrap(text, remark(rows[at]), 8);
            }
        }

        private void Row(string[] cells, int[] widths) => Line(text, "  " + string.Join("  ", cells.Select((cell, at) =>
            columns[at].Right ? cell.PadLeft(widths[at]) : cell.PadRight(widths[at]))));
    }
}
