using System.Globalization;
using PartsLedger.Exchange.Labels;
using static PartsLedger.Integration.Tests.Exchange.PaperReaders;

namespace PartsLedger.Integration.Tests.Exchange;

/// <summary>
/// Labels are printed to PDF, drawn as dots by poppler as a printer would, and read by two readers that share no code with what drew them:
/// zbar for Code 128, libdmtx for Data Matrix.
/// </summary>
public sealed class LabelTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("partsledger-labels-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [InlineData("P-0001", 203)]
    [InlineData("P-0001", 300)]
    [InlineData("030-9105", 203)]
    [InlineData("H-000000000012", 300)]
    [InlineData("80-ELM 310312-14", 203)]
    public void A_short_code_is_read_back_by_an_independent_reader(string code, int dotsPerInch)
    {
        Needs("zbarimg", "zbar-tools");
        Assert.Equal([code], Run("zbarimg", "--quiet", "--raw", Picture([Half(code)], LabelPaper.Roll, dotsPerInch)));
    }

    [Theory]
    [InlineData("C-2031-03-12-RIVERSIDE-007", 203)]
    [InlineData("C-2031-03-12-RIVERSIDE-007", 300)]
    [InlineData("80-ELM-FULL 310312-14", 203)]
    public void A_long_code_is_read_back_by_an_independent_reader(string code, int dotsPerInch)
    {
        Needs("dmtxread", "dmtx-utils");
        Assert.Equal([code], Run("dmtxread", "-n", "-N1", "-m4000", Picture([Half(code)], LabelPaper.Roll, dotsPerInch)));
    }

    [Fact]
    public void A_sheet_carries_forty_four_labels_and_goes_on_to_the_next_page()
    {
        Needs("zbarimg", "zbar-tools");
        var labels = Enumerable.Range(1, 50).Select(at => Half(string.Create(CultureInfo.InvariantCulture, $"P-{at:0000}"))).ToList();
        var first = Picture(labels, LabelPaper.Sheet, 300);
        Assert.Equal(labels.Take(44).Select(label => label.Code).Order(), Run("zbarimg", "--quiet", "--raw", first).Distinct().Order());
        Assert.Equal(2, Directory.GetFiles(_folder, "*.png").Length);
    }

    [Fact]
    public void Text_that_is_too_long_for_the_label_does_not_stop_it()
    {
        var label = new Label("P-1", new string('W', 300), [new string('x', 300), "", "é ü ß 70 bar"], "KEEP TOGETHER");
        Assert.StartsWith("%PDF", System.Text.Encoding.ASCII.GetString(LabelPrinter.Print([label], LabelPaper.Roll), 0, 4), StringComparison.Ordinal);
    }

    private static Label Half(string code) => new(code, "Valve V-0001", ["belongs to H-0001", "VS30  class P070"], "KEEP TOGETHER");

    private string Picture(IReadOnlyList<Label> labels, LabelPaper paper, int dotsPerInch)
    {
        Needs("pdftoppm", "poppler-utils");
        var file = Path.Combine(_folder, "labels.pdf");
        File.WriteAllBytes(file, LabelPrinter.Print(labels, paper));
        Run("pdftoppm", "-r", dotsPerInch.ToString(CultureInfo.InvariantCulture), "-png", "-gray", file, Path.Combine(_folder, "page"));
        return Directory.GetFiles(_folder, "*.png").Order(StringComparer.Ordinal).First();
    }
}
