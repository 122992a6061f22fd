namespace PartsLedger.Domain.Tests.Kits.Reference;

/// <summary>Whether one item's pieces can go from lines to positions they claim so that every position gets its share.</summary>
internal static class ClaimFlow
{
    /// <param name="Honoured">At least one piece must go this way (a thousandth where anything comes in fractions).</param>
    public sealed record Claim(int Line, int Position, bool Honoured);

    /// <param name="brings">Thousandths each line brings.</param>
    /// <param name="gets">Thousandths each position is to get.</param>
    public static bool Exists(IReadOnlyList<long> brings, IReadOnlyDictionary<int, long> gets, IReadOnlyList<Claim> claims)
    {
        var left = brings.ToArray();
        var missing = gets.ToDictionary();
        var least = left.Concat(missing.Values).All(thousandths => thousandths % 1000 == 0) ? 1000 : 1;
        var along = claims.ToDictionary(claim => claim, _ => 0L);
        foreach (var claim in claims.Where(claim => claim.Honoured))
        {
            left[claim.Line] -= least;
            missing[claim.Position] -= least;
        }
        if (left.Any(rest => rest < 0) || missing.Values.Any(rest => rest < 0)) return false;
        foreach (var position in missing.Keys.ToArray())
            while (missing[position] > 0)
            {
                var moved = Move(position, missing[position], [], left, claims, along);
                if (moved == 0) return false;
                missing[position] -= moved;
            }
        return true;
    }

    /// <summary>
    /// Brings up to <paramref name="wanted"/> more to a position: from a line that has some left, or by sending a line's piece here
    /// instead of to another position that can be served otherwise. Returns how much was moved.
    /// </summary>
    private static long Move(
        int position, long wanted, HashSet<int> tried, long[] left, IReadOnlyList<Claim> claims, Dictionary<Claim, long> along)
    {
        if (!tried.Add(position)) return 0;
        foreach (var claim in claims.Where(claim => claim.Position == position))
        {
            var moved = Math.Min(wanted, left[claim.Line]);
            if (moved > 0) left[claim.Line] -= moved;
            else
                foreach (var other in claims.Where(other => other.Line == claim.Line && along[other] > 0))
                {
                    moved = Move(other.Position, Math.Min(wanted, along[other]), tried, left, claims, along);
                    along[other] -= moved;
                    if (moved > 0) break;
                }
            if (moved == 0) continue;
            along[claim] += moved;
            return moved;
        }
        return 0;
    }
}
