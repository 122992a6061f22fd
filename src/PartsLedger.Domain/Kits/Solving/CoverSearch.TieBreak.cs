namespace PartsLedger.Domain.Kits;

/// <summary>
/// Of all optimal answers, the one with the most of the earliest supply, then of the next, and so on. Mostly there are few: the search is
/// run once more, keeping what is as good and comparing. Where there are many, or where packs ride along for nothing, supply after supply
/// is settled: the answer at hand says how much of it is possible, the search is asked whether one more still leaves an optimal answer.
/// </summary>
internal sealed partial class CoverSearch<T>
{
    private const int SuggestionsForTies = 100;
    private const int TieNodes = 400;
    private const int TieNodesAtMost = 20_000;

    private bool _comparesTies;
    private int _tieNodesLeft;

    private List<Pick> BreakTies(int[] rows, Found optimum)
    {
        var supplies = rows.SelectMany(row => _layout.ColumnsOf[row]).Select(entry => _columns[entry.Column].Supply).Distinct()
            .Where(supply => !_supplies[supply].IsSpare).Order().ToList();
        var columns = supplies.SelectMany(supply => _supplies[supply].Columns).ToList();

        // A unit that costs nothing could ride along in an optimal answer without being needed; if it is no pack, it must not.
        TakeAll(optimum.Picks);
        DropIdle(optimum.Picks, [.. optimum.Picks.Select(pick => pick.Column).Distinct()
            .Where(column => !_supplies[_columns[column].Supply].IsPack).OrderDescending()]);
        PutBackAll(optimum.Picks);
        if (supplies.Count < 2 && supplies.TrueForAll(supply => _supplies[supply].Columns.Length == 1)) return optimum.Picks;

        // Loose pieces that cost nothing may have become idle on the way to an answer; packs may ride along beyond what was searched.
        var mayIdle = supplies.Exists(supply => _supplies[supply] is { IsPack: false, IsFree: true, InStock: > 1, Limit: > 1 });
        if (!columns.Exists(CanRideAlong) && CompareTies(rows, optimum, mayIdle ? TieNodesAtMost : TieNodes) is { } compared
            && !(mayIdle && HasIdle(compared))) return compared;
        _refuseIdleUnits = mayIdle;
        var answer = Settle(rows, supplies, optimum);
        _refuseIdleUnits = false;
        return answer;
    }

    /// <summary>Whether a pack can be in an answer once more without adding to the objective and without covering anything.</summary>
    private bool CanRideAlong(int column)
    {
        var laid = _columns[column];
        var supply = _supplies[laid.Supply];
        if (supply is not { IsPack: true, IsFree: true, InStock: > 1, Limit: > 1 } || laid.Unneeded > 0) return false;
        var least = supply.Columns.Length > 1 ? 1 : 2;
        return Array.TrueForAll(laid.Brings, brought => least * brought.Pieces <= _room[brought.Item]);
    }

    private bool HasIdle(List<Pick> picks)
    {
        TakeAll(picks);
        var idle = HasIdleUnits();
        PutBackAll(picks);
        return idle;
    }

    /// <summary>Every optimal answer compared with every other, or null when that would take too long.</summary>
    private List<Pick>? CompareTies(int[] rows, Found optimum, int nodes)
    {
        (_comparesTies, _tieNodesLeft) = (true, nodes);
        foreach (var row in rows) _dual[row] = _startDual[row];
        var first = Search(rows, checked(optimum.Value + T.One), false);
        _comparesTies = false;
        if (_tieNodesLeft < 0) return null;
        Outcomes.Invariant.Holds(first is not null && first.Value == optimum.Value);
        return first.Picks;
    }

    /// <summary>Whether the first of two ways to cover the same rows has more of the earliest supply, or mode, in which they differ.</summary>
    private bool Precedes(List<Pick> one, List<Pick> other)
    {
        var more = new SortedDictionary<int, long>();
        foreach (var pick in one) more[pick.Column] = more.GetValueOrDefault(pick.Column) + pick.Units;
        foreach (var pick in other) more[pick.Column] = more.GetValueOrDefault(pick.Column) - pick.Units;
        foreach (var column in more.Keys)
        {
            var modes = _supplies[_columns[column].Supply].Columns;
            var total = modes.Sum(mode => more.GetValueOrDefault(mode));
            if (total != 0) return total > 0;
            if (modes.Select(mode => more.GetValueOrDefault(mode)).FirstOrDefault(units => units != 0) is var units and not 0) return units > 0;
        }
        return false;
    }

    private List<Pick> Settle(int[] rows, List<int> supplies, Found optimum)
    {
        var limit = checked(optimum.Value + T.One);
        var closed = new List<int>();
        foreach (var row in rows) _dual[row] = _startDual[row];
        if (Bound(rows, limit, rows.Length >= RowsWorthSuggesting ? SuggestionsForTies : 0, out var bound))
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
        return answer;
    }

    /// <summary>An optimal answer with at least one unit more of the supply than in <paramref name="answer"/>, or null.</summary>
    private List<Pick>? MoreOf(int supply, List<Pick> answer, T limit, T spent, List<Pick> settled, int[] rows)
    {
        var modes = _supplies[supply].Columns;
        var total = modes.Sum(column => Units(answer, column)) + 1;
        if (total > _supplies[supply].Limit) return null;
        foreach (var split in Splits(modes.Length, total))
            if (Try(Picks(modes, split), limit, spent, settled, rows) is { } more) return more;
        return null;
    }

    /// <summary>The same number of units of the supply, more of them in its earlier mode if that is as good.</summary>
    private List<Pick> EarlierModes(int supply, List<Pick> answer, T limit, T spent, List<Pick> settled, int[] rows)
    {
        var modes = _supplies[supply].Columns;
        var total = modes.Sum(column => Units(answer, column));
        var now = Array.ConvertAll(modes, column => Units(answer, column));
        var open = Array.FindAll(modes, column => !_closed[column]);
        foreach (var column in open) _closed[column] = true;
        try
        {
            foreach (var split in Splits(modes.Length, total).TakeWhile(split => split.AsSpan().SequenceCompareTo(now) > 0))
                if (Try(Picks(modes, split), limit, spent, settled, rows) is { } better) return better;
            return answer;
        }
        finally
        {
            foreach (var column in open) _closed[column] = false;
        }
    }

    /// <summary>Every way to put so many units to use in several modes, those with more in the earlier modes first.</summary>
    private static IEnumerable<long[]> Splits(int modes, long total)
    {
        if (modes == 1)
        {
            yield return [total];
            yield break;
        }
        for (var first = total; first >= 0; first--)
            foreach (var rest in Splits(modes - 1, total - first)) yield return [first, .. rest];
    }

    private static List<Pick> Picks(int[] modes, long[] split) =>
        [.. modes.Zip(split, (column, units) => new Pick(column, units)).Where(pick => pick.Units > 0)];

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
