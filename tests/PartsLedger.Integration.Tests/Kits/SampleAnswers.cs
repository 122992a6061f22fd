using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Integration.Tests.Kits;

/// <summary>Kit answers made by hand: what is written down from an answer is tested without a catalogue or a database.</summary>
internal static class SampleAnswers
{
    /// <summary>A job of everyday size in which something is short, something is left over and one need cannot be covered.</summary>
    public static KitAnswer Everyday { get; } = new(
        "VS30-085-R2", "VS30", "P085", JobScope.Valve, KitPreference.Cost, Complete: false,
        [
            new(4, "Shaft seal", "030-1004", Pieces(1), "Renewed in every job."),
            new(5, "Reservoir O-ring", "030-1005", Pieces(1), "Renewed in every job."),
            new(6, "Fitting O-ring", "0012", Pieces(2), "Renewed in every job."),
            new(9, "Flow-control valve", "030-5085", Pieces(1), "The scope renews the valve group. The valve was ground to its bore."),
            new(11, "Relief spring", "030-4085", Pieces(1), "The scope renews the valve group."),
            new(14, "Test fluid", "FL-2", Quantity.FromThousandths(950), "Renewed in every job."),
            new(17, "Reservoir cap", "030-7017", Pieces(1), "Named as worn."),
        ],
        [
            new("030-8001", "Reseal kit", "kit", 1, [4, 5, 6], Cost("11.40"), Cost("11.40"), Pieces(3), 0,
                "Brings the shaft seal, the reservoir O-ring and both fitting O-rings. The seals are supplied in this kit only."),
            new("030-9285", "Housing and valve assembly, class P085", "assembly", 1, [9, 11], Cost("148.25"), Cost("148.25"), Pieces(0), 1,
                "In family VS30 a valve is met only with the housing it was ground to. This assembly is of the variant's class; the cheaper "
                + "030-9270 is of class P070 and is not offered. None is on the shelf: one must be ordered."),
            new("FL-2", "Test fluid, red", "fluid", 1, [14], Cost("6.0125"), Cost("6.0125"), Quantity.FromThousandths(2_500), 0,
                "0.95 litre is needed; it comes in whole litres."),
        ],
        [new("030-1031", Pieces(1)), new("030-1040", Pieces(4))],
        [new(17, "030-7017", Pieces(1), "030-7017 is no longer supplied and none is in stock. Look for a used one among the cores, or ask the maker for a replacement.")],
        Cost("165.6625"), 1, Pieces(5),
        [
            new(Severity.Note, "Collect drained fluid and used seals, and dispose of them as local rules say."),
            new(Severity.Warning, "A spring is held under the end cover. Press the cover down in a frame before its ring comes out, and keep out of its line."),
            new(Severity.Warning, "Fluid under pressure goes through skin. Never feel for a leak with a hand; an injection wound is an emergency even when it looks small."),
            new(Severity.Warning, "A bad repair can take away the steering assistance without warning. Test lock to lock on a safe site before the machine goes back to work."),
            new(Severity.Warning, "Run a rebuilt pump only on a guarded bench with a working relief and an emergency stop."),
            new(Severity.Caution, "Let the pump and its fluid cool down before opening anything."),
            new(Severity.Caution, "A pulley goes neither on nor off by hammer or press: use its puller and its installing tool."),
        ],
        [
            new(10, "Count the vanes in the rotor and see that each falls into its slot by its own weight.", "12 vanes, all free", "pieces", 12, 12),
            new(20, "Height of the locating dowel above the cam ring before the pressure plate goes on.", "3/16 in proud of the cam", "mm", 4.66m, 4.86m),
            new(30, "Look through the two pressure ports and count the passages you can see. Fewer means that plate or ring sits the wrong way round.",
                "6 passages, 3 in each port", "passages", 6, 6),
            new(40, "Clearance between cam ring and pressure plate. With too much here the pump does not prime.", "barely any", "mm", 0.010m, 0.055m),
            new(50, "Shims under the relief spring: as many as were found, none added, none left out.", "as found at tear-down", null, null, null),
            new(70, "End cover ring seated all round, its gap away from the knock-out hole.", "seated", null, null, null),
            new(80, "Torque to turn the shaft by hand, oiled, before the drive goes on.", "smooth, no tight spot", "N·m", 0.1m, 1.3m),
        ],
        [
            new("Pulley puller, collar type", "TP-9001; grips the hub's groove, never the rim"),
            new("Pulley installing tool, threaded", "TP-9002; draws the hub on by the shaft's own thread"),
            new("End cover press frame", null),
        ]);

    /// <summary>Nothing to pull, nothing to warn of, nothing missing.</summary>
    public static KitAnswer Empty { get; } = new(
        "X", "F", "P", JobScope.Reseal, KitPreference.Stock, Complete: true, [], [], [], [], Money.Zero, 0, Quantity.Zero, [], [], []);

    /// <summary>300 lines of everything that has ever upset a spreadsheet.</summary>
    public static KitAnswer Nasty { get; } = MakeNasty();

    private static KitAnswer MakeNasty()
    {
        string[] spiteful =
        [
            "=1+1", "+1", "-1", "@SUM(A1)", "'quoted", "=HYPERLINK(\"x\")", "\t=2", "a\u0000b\u000bc\u001bd", "😀 seal 🛠", "\ud800 half", "\uffff end",
            "<b>&amp;</b>", "_x0041_", "line\r\nbreak", "007", "1E5", "2026-01-02", "TRUE", " padded ", new string('W', 120), "&P &[Page]",
        ];
        string Text(int at) => spiteful[at % spiteful.Length];
        var longWhy = string.Join(' ', Enumerable.Range(0, 500).Select(word => $"w{word}"))[..1_990] + " the end.";
        return new(
            "=V&1", "@F", "-P085 & more", JobScope.Full, KitPreference.Stock, Complete: false,
            [.. Enumerable.Range(1, 300).Select(at => new KitNeed(at, Text(at), $"{at:000000}", Pieces(at), at == 5 ? longWhy : Text(at + 3)))],
            [.. Enumerable.Range(1, 300).Select(at => new KitLine($"{at:000000}", Text(at), "kit", at, [.. Enumerable.Range(at, at % 40)],
                Money.FromTenThousandths(at), Money.FromTenThousandths(at) * at, Quantity.FromThousandths(at), at % 3, at % 50 == 7 ? longWhy : Text(at + 1)))],
            [.. Enumerable.Range(1, 30).Select(at => new KitSurplus(Text(at), Quantity.FromThousandths(at)))],
            [.. Enumerable.Range(1, 30).Select(at => new KitUncovered(at, Text(at), Pieces(at), at == 3 ? longWhy : Text(at + 2)))],
            Money.FromTenThousandths(123_456_789), 300, Pieces(12),
            [.. Enumerable.Range(1, 21).Select(at => new KitCaution((Severity)(at % 3), at == 4 ? new string('x', 4_000) : Text(at)))],
            [.. Enumerable.Range(1, 60).Select(at => new KitCheck(at, Text(at), Text(at + 1), Text(at + 2), at * 0.001m, null))],
            [.. Enumerable.Range(1, 21).Select(at => new KitTool(Text(at), Text(at + 1)))]);
    }

    private static Quantity Pieces(long pieces) => Quantity.FromWhole(pieces);

    private static Money Cost(string text) => Money.TryParse(text, out var money) ? money : throw new ArgumentException(text);
}
