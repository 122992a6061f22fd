using ClosedXML.Excel;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;
using PartsLedger.Exchange;

namespace PartsLedger.Kits;

/// <summary>
/// The sheet that lies on the bench: which pump and which class, what can hurt, what to pull, what is missing, what to put back, which
/// tools, and the checks with room for a pencil. The columns serve all its tables; a table merges those it does not need.
/// </summary>
internal static class KitWorkSheet
{
    // Tick, part, name, kind, quantity, covers, available, short; why over the last three, which the checks use one by one.
    private const int Tick = 1, Part = 2, Name = 3, Kind = 4, Count = 5, Covers = 6, Available = 7, Short = 8, Why = 9, Measured = 10, Last = 11;
    private static readonly double[] Widths = [6, 17, 22, 9, 5, 13, 9, 6, 9, 20, 14];

    private static readonly CellLook Plain = CellLook.Plain;
    private static readonly CellLook Small = CellLook.Plain with { Points = 9 };
    private static readonly CellLook Strong = CellLook.Plain with { Bold = true };
    private static readonly CellLook StrongCount = CellLook.Counted with { Bold = true };
    private static readonly CellLook Title = new() { Bold = true, Points = 12, Boxed = false };
    private static readonly CellLook TickBox = new() { Centred = true, Points = 12 };
    private static readonly CellLook Label = new() { Points = 8, Ink = "52606D", AtTop = true };
    private static readonly CellLook Big = new() { Points = 18, Bold = true, Shrunk = true };
    private const string Box = "□";

    /// <summary>What is printed where there is else room to write.</summary>
    public sealed record JobHead(string Number, string? Customer);

    /// <param name="job">The job it is for; null leaves room for it.</param>
    public static void Add(IXLWorkbook workbook, KitAnswer answer, string name = KitWorkbook.WorkSheetName, JobHead? job = null)
    {
        var sheet = new PrintedSheet(workbook, name, landscape: true, Widths);
        sheet.HeadAndFoot("Kit work sheet", KitWorkbook.PumpLine(answer), KitPhrases.MakerComesFirst);
        AddHead(sheet, answer, job);
        AddCautions(sheet, answer);
        AddLines(sheet, answer);
        AddUncovered(sheet, answer);
        AddSurplus(sheet, answer);
        AddTools(sheet, answer);
        AddChecks(sheet, answer);
        sheet.Finish();
    }

    private static void AddHead(PrintedSheet sheet, KitAnswer answer, JobHead? job)
    {
        sheet.Row([SheetCell.Of(Tick, Part, Filled("Job number", job?.Number), Label), SheetCell.Of(Name, Name, Filled("Customer", job?.Customer), Label),
            SheetCell.Of(Kind, Short, "Date", Label), SheetCell.Of(Why, Last, "Name", Label)], leastHeight: 32);
        sheet.Row([SheetCell.Of(Tick, Part, "VARIANT", Label), SheetCell.Of(Name, Name, "FAMILY", Label),
            SheetCell.Of(Kind, Short, "PRESSURE CLASS", Label with { Bold = true, Ink = "000000" }), SheetCell.Of(Why, Last, "SCOPE OF THE JOB", Label)]);

        // The class stands in the heaviest box: pumps of several classes look alike.
        sheet.Row([SheetCell.Of(Tick, Part, answer.Variant, Big), SheetCell.Of(Name, Name, answer.Family, Big),
            SheetCell.Of(Kind, Short, answer.PressureClass, Big with { Points = 22, Centred = true, Fill = "FFF3C4" }),
            SheetCell.Of(Why, Last, KitPhrases.Of(answer.Scope), Big)]);
        sheet.Gap(5);
        sheet.RepeatRowsSoFar();
        sheet.Row([SheetCell.Of(Tick, Last, KitPhrases.Verdict(answer), new CellLook { Bold = true, Points = 11, Boxed = false })]);
        sheet.Row([SheetCell.Of(Tick, Last,
            $"{KitPhrases.Count(answer.Lines.Count, "line", "lines")}, {KitPhrases.Count(answer.PiecesShort, "piece", "pieces")} to order, "
            + $"{answer.SurplusPieces} surplus, total cost {answer.TotalCost} ({KitPhrases.Of(answer.Prefer)}).",
            Plain with { Boxed = false })]);
        sheet.Gap();
    }

    private static string Filled(string label, string? text) => text is null ? label : $"{label}\n{text}";

    private static void AddCautions(PrintedSheet sheet, KitAnswer answer)
    {
        sheet.Table([SheetCell.Of(Tick, Last, "Cautions", Title)], null,
        [
            [SheetCell.Of(Tick, Last, KitPhrases.MakerComesFirst, Strong)],
            .. KitPhrases.GravestFirst(answer.Cautions).Select(caution => (SheetCell[])
            [
                SheetCell.Of(Tick, Part, KitPhrases.Of(caution.Severity), Strong with { Fill = FillOf(caution.Severity) }),
                SheetCell.Of(Name, Last, caution.Text, Plain),
            ]),
        ]);
        sheet.Gap();
    }

    private static string? FillOf(Severity severity) => severity switch
    {
        Severity.Warning => "FFD9C7",
        Severity.Caution => "FFF3C4",
        _ => null,
    };

    private static void AddLines(PrintedSheet sheet, KitAnswer answer)
    {
        sheet.Table([SheetCell.Of(Tick, Last, "Pull or order", Title)],
            [
                Head(Tick, "Done"), Head(Part, "Part"), Head(Name, "Name"), Head(Kind, "Kind"), Head(Count, "Qty"),
                Head(Covers, "Covers pos."), Head(Available, "Available"), Head(Short, "Short"), SheetCell.Of(Why, Last, "Why", CellLook.Header),
            ],
            [.. answer.Lines.Select(line => (SheetCell[])
            [
                SheetCell.Of(Tick, Box, TickBox), SheetCell.OfName(Part, line.Part, Strong), SheetCell.Of(Name, line.Name, Plain),
                SheetCell.Of(Kind, line.Kind, Small), SheetCell.Of(Count, line.Quantity, StrongCount),
                SheetCell.OfName(Covers, KitPhrases.Positions(line.Covers), Plain), SheetCell.Of(Available, line.Available, CellLook.Counted),
                SheetCell.Of(Short, line.Short, line.Short > 0 ? StrongCount with { Fill = "FFF3C4" } : CellLook.Counted),
                SheetCell.Of(Why, Last, line.Why, Small),
            ])]);
        if (answer.Lines.Count == 0) sheet.Row([SheetCell.Of(Tick, Last, "Nothing is to be pulled or ordered.", Plain)]);
        sheet.Gap();
    }

    private static void AddUncovered(PrintedSheet sheet, KitAnswer answer)
    {
        if (answer.Uncovered.Count == 0) return;
        sheet.Gap();
        var names = answer.Needs.GroupBy(need => need.Position).ToDictionary(group => group.Key, group => group.First().Name);
        sheet.Framed(() => sheet.Table(
            [SheetCell.Of(Tick, Last, "▲ NOT COVERED: the job cannot be finished with this list alone", Title with { Boxed = true, Fill = "FFD9C7" })],
            [
                Head(Tick, "Pos."), Head(Part, "Part"), SheetCell.Of(Name, Kind, "Name", CellLook.Header), Head(Count, "Qty"),
                SheetCell.Of(Covers, Last, "Why, and what could be done", CellLook.Header),
            ],
            [.. answer.Uncovered.Select(gap => (SheetCell[])
            [
                SheetCell.Of(Tick, gap.Position, StrongCount), SheetCell.OfName(Part, gap.Part, Strong),
                SheetCell.Of(Name, Kind, names.GetValueOrDefault(gap.Position), Plain), SheetCell.Of(Count, gap.Quantity, StrongCount),
                SheetCell.Of(Covers, Last, gap.Why, Plain),
            ])],
            whole: true));
        sheet.Gap();
    }

    private static void AddSurplus(PrintedSheet sheet, KitAnswer answer)
    {
        Add("Goes back to stock: comes in the packs, and this job does not need it", [.. answer.Surplus.Where(extra => !extra.StaysWithValve)]);
        Add("STAYS WITH ITS VALVE: goes into the pump with it, never to stock by itself", [.. answer.Surplus.Where(extra => extra.StaysWithValve)]);

        void Add(string title, IReadOnlyList<KitSurplus> pieces)
        {
            if (pieces.Count == 0) return;
            sheet.Table([SheetCell.Of(Tick, Last, title, Title)], [Head(Tick, "Done"), Head(Part, "Part"), Head(Name, "Quantity")],
                [.. pieces.Select(extra => (SheetCell[])
                [
                    SheetCell.Of(Tick, Box, TickBox), SheetCell.OfName(Part, extra.Part, Strong), SheetCell.Of(Name, extra.Quantity, CellLook.Counted),
                ])]);
            sheet.Gap();
        }
    }

    private static void AddTools(PrintedSheet sheet, KitAnswer answer)
    {
        if (answer.Tools.Count == 0) return;
        sheet.Table([SheetCell.Of(Tick, Last, "Special tools", Title)],
            [Head(Tick, "Done"), SheetCell.Of(Part, Name, "Tool", CellLook.Header), SheetCell.Of(Kind, Last, "Note", CellLook.Header)],
            [.. answer.Tools.Select(tool => (SheetCell[])
            [
                SheetCell.Of(Tick, Box, TickBox), SheetCell.Of(Part, Name, tool.Name, Plain), SheetCell.Of(Kind, Last, tool.Note, Small),
            ])], whole: true);
        sheet.Gap();
    }

    private static void AddChecks(PrintedSheet sheet, KitAnswer answer)
    {
        if (answer.Checks.Count == 0) return;
        sheet.Table([SheetCell.Of(Tick, Last, "Checks", Title)],
            [
                Head(Tick, "No."), SheetCell.Of(Part, Kind, "Check", CellLook.Header), SheetCell.Of(Count, Covers, "Expected", CellLook.Header),
                Head(Available, "Low"), Head(Short, "High"), Head(Why, "Unit"), Head(Measured, "Measured"), Head(Last, "Initials"),
            ],
            [.. answer.Checks.Select(check => (SheetCell[])
            [
                SheetCell.Of(Tick, check.Sequence, CellLook.Counted), SheetCell.Of(Part, Kind, check.Text, Plain),
                SheetCell.Of(Count, Covers, check.Expected, Strong), SheetCell.Of(Available, check.Low, CellLook.Counted), SheetCell.Of(Short, check.High, CellLook.Counted),
                SheetCell.Of(Why, check.Unit, Small), SheetCell.Empty(Measured, Measured, Plain), SheetCell.Empty(Last, Last, Plain),
            ])], leastHeight: 27);
    }

    private static SheetCell Head(int column, string text) => SheetCell.Of(column, text, CellLook.Header);
}
