namespace PartsLedger.Domain.Kits;

/// <summary>
/// Of all optimal answers, the one with the most of the earliest supply, then of the next, and so on. Supply after supply is settled: the
/// answer at hand says how much of it is possible, the search is asked whether one more still leaves an optimal answer.
/// </summary>
internal sealed partial class CoverSearch<T>
{
    private List<Pick> BreakTies(int[] rows, Found optimum)
    {
        var columns = rows.SelectMany(row => _layout.ColumnsOf[row]).Select(entry => entry.Column).Distinct().ToList();
        var supplies = columns.Select(column => _columns[column].Supply).Distinct().Where(supply => !_supplies[supply].IsSpare).Order().ToList();

        // A unit that costs nothing could ride along in an optimal answer without being needed; if it is no pack, it must not.
        TakeAll(optimum.Picks);
        DropIdle(optimum.Picks, [.. optimum.Picks.Select(pick => pick.Column).Distinct()
            .Where(column => !_supplies[_columns[column].Supply].IsPack).OrderDescending()]);
        PutBackAll(optimum.Picks);
        if (supplies.Count < 2) return optimum.Picks;
        _refuseIdleUnits = supplies.Any(supply => _supplies[supply] is { IsPack: false, IsFree: true, InStock: > 1, Limit: > 1 });

        var limit = checked(optimum.Value + T.One);
        var closed = new List<int>();
        if (Bound(rows, limit, rows.Length >= RowsWorthSuggesting ? SuggestionsPerNode : 0, out var bound))
            CloseHopeless(checked(limit - bound), closed);

        var settled = new List<Pick>();
        var spent = T.Zero;
        var answer = optimum.Picks;
        foreach (var supply in supplies)
        {
            var modes = _supplies[supply].Columns;
            if (modes.All(column => _closed[column])) continue;
            while (MoreOf(supply, answer, limit, spent, settled, rows) is { } more) answer = more;
            if (modes.Length > 1) answer = EarlierModes(supply, answer, limit, spent, settled, rows);
            foreach (var column in modes)
            {
                var units = Units(answer, column);
                if (units > 0)
                {
                    spent = checked(spent + Take(column, units));
                    settled.Add(new(column, units));
                }
                if (_closed[column]) continue;
                _closed[column] = true;
                closed.Add(column);
            }
        }
        PutBackAll(settled);
        Reopen(closed, 0);
        _refuseIdleUnits = false;
        return answer;
    }

    /// <summary>An optimal answer with at least one unit more of the supply than in <paramref name="answer"/>, or null.</summary>
    private List<Pick>? MoreOf(int supply, List<Pick> answer, T limit, T spent, List<Pick> settled, int[] rows)
    {
        var modes = _supplies[supply].Columns;
        var total = modes.Sum(column => Units(answer, column)) + 1;
        if (total > _supplies[supply].Limit) return null;
        if (modes.Length == 1) return Try([new(modes[0], total)], limit, spent, settled, rows);
        for (var first = total; first >= 0; first--)
            if (Try(Split(modes, total, first), limit, spent, settled, rows) is { } more) return more;
        return null;
    }

    /// <summary>The same number of units of the supply, more of them in its earlier mode if that is as good.</summary>
    private List<Pick> EarlierModes(int supply, List<Pick> answer, T limit, T spent, List<Pick> settled, int[] rows)
    {
        var modes = _supplies[supply].Columns;
        var total = modes.Sum(column => Units(answer, column));
        var now = Units(answer, modes[0]);
        var open = Array.FindAll(modes, column => !_closed[column]);
        foreach (var column in open) _closed[column] = true;
        try
        {
            for (var first = total; first > now; first--)
                if (Try(Split(modes, total, first), limit, spent, settled, rows) is { } better) return better;
            return answer;
        }
        finally
        {
            foreach (var column in open) _closed[column] = false;
        }
    }

    private static List<Pick> Split(int[] modes, long total, long first)
    {
        Outcomes.Invariant.Holds(modes.Length == 2);
        return [.. new Pick[] { new(modes[0], first), new(modes[1], total - first) }.Where(pick => pick.Units > 0)];
    }

    private List<Pick>? Try(List<Pick> forced, T limit, T spent, List<Pick> settled, int[] rows)
    {
        var cost = checked(spent + TakeAll(forced));
        var rest = cost < limit ? Search(rows, checked(limit - cost), true) : null;
        PutBackAll(forced);
        return rest is null ? null : [.. settled, .. forced, .. rest.Picks];
    }

    private static long Units(List<Pick> picks, int column)
    {
        long units = 0;
        foreach (var pick in picks)
            if (pick.Column == column) units += pick.Units;
        return units;
    }
}
