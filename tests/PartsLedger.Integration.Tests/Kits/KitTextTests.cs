using PartsLedger.Kits;

namespace PartsLedger.Integration.Tests.Kits;

public sealed class KitTextTests
{
    [Fact]
    public void The_pressure_class_stands_first_and_cautions_stand_before_the_lines()
    {
        var text = KitText.Of(SampleAnswers.Everyday);
        Assert.StartsWith("PRESSURE CLASS P085   variant VS30-085-R2   family VS30\n", text, StringComparison.Ordinal);
        var order = new[] { "CAUTIONS", KitPhrases.MakerComesFirst[..60], "WARNING", "NOTE", "PULL OR ORDER", "030-8001", "!! NOT COVERED", "030-7017",
            "GOES BACK TO STOCK", "FULL NEEDS", "SPECIAL TOOLS", "CHECKS", "expected 3/16 in proud of the cam; 4.66 to 4.86 mm" }
            .Select(part => text.IndexOf(part, StringComparison.Ordinal)).ToList();
        Assert.DoesNotContain(-1, order);
        Assert.Equal(order.Order(), order);
    }

    [Fact]
    public void No_line_is_wider_than_the_terminal_and_every_reason_stands_under_its_line()
    {
        var lines = KitText.Of(SampleAnswers.Everyday).Split('\n');
        Assert.All(lines, line => Assert.InRange(line.Length, 0, 110));
        var kit = Array.FindIndex(lines, line => line.Contains("030-8001", StringComparison.Ordinal));
        Assert.StartsWith("        covers 4–6: Brings the shaft seal", lines[kit + 1], StringComparison.Ordinal);
    }

    [Fact]
    public void Columns_of_a_table_stand_under_their_titles()
    {
        var lines = KitText.Of(SampleAnswers.Everyday).Split('\n');
        var header = Array.Find(lines, line => line.TrimStart().StartsWith("Qty  Part ", StringComparison.Ordinal))!;
        var row = Array.Find(lines, line => line.Contains("030-8001", StringComparison.Ordinal))!;
        Assert.Equal(header.IndexOf("Part", StringComparison.Ordinal), row.IndexOf("030-8001", StringComparison.Ordinal));
        Assert.Equal(header.Length, row.Length);
        Assert.EndsWith("11.40", row, StringComparison.Ordinal);
    }

    [Fact]
    public void No_text_can_steer_the_terminal()
    {
        var text = KitText.Of(SampleAnswers.Nasty);
        Assert.DoesNotContain(text, letter => char.IsControl(letter) && letter != '\n');
    }

    [Fact]
    public void A_complete_answer_says_so_and_has_no_box_of_gaps()
    {
        var text = KitText.Of(SampleAnswers.Empty);
        Assert.Contains("COMPLETE: every need of the job is covered.", text, StringComparison.Ordinal);
        Assert.DoesNotContain("NOT COVERED", text, StringComparison.Ordinal);
    }
}
