namespace PartsLedger.Domain.Fit.Pairing;

/// <summary>
/// Two sorted rows of points on a line, bores and spools as far as their target clearance apart; a bore may go with a spool when
/// Low ≤ bore − spool ≤ High, and the square of that difference is what it costs.
/// </summary>
/// <remarks>
/// Pairs never need to cross: of two crossed pairs, the uncrossed ones lie between them, so within the band, and cost no more, because
/// the cost is convex. So the k-th bore used goes with the k-th spool used, and only which ones are used is the question.
/// </remarks>
internal sealed record LineOrder(long[] Bores, long[] Spools, long Low, long High)
{
    /// <summary>The same with the sides changed over.</summary>
    public LineOrder ChangedOver() => new(Spools, Bores, -High, -Low);

    /// <summary>
    /// The greatest number of pairs by walking up both rows: whichever is too small for the other's smallest is too small for all that
    /// follow; if neither is, pairing the two smallest loses nothing, as any pairing that parts them can exchange.
    /// </summary>
    /// <returns>For each spool its bore, or −1.</returns>
    public int[] Walk()
    {
        var boreOf = new int[Spools.Length];
        Array.Fill(boreOf, -1);
        for (int bore = 0, spool = 0; bore < Bores.Length && spool < Spools.Length;)
        {
            var difference = Bores[bore] - Spools[spool];
            if (difference < Low) bore++;
            else if (difference > High) spool++;
            else boreOf[spool++] = bore++;
        }
        return boreOf;
    }
}
