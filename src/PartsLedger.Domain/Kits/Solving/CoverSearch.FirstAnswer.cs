namespace PartsLedger.Domain.Kits;

/// <summary>A good answer to start from: the better it is, the more the bound cuts off. Nothing about it needs to be optimal.</summary>
internal sealed partial class CoverSearch<T>
{
    private const int SuggestionsAtStart = 200;

    private Found FirstAnswer(int[] rows)
    {
        GatherColumns(rows);
        Ascend(rows);
        Found? best = null;
        foreach (var row in rows) _guide[row] = double.CreateSaturating(_dual[row]);
        Improve();
        if (rows.Length > 1 && Evaluate(rows) < best!.Value)
        {
            Suggest(rows, best.Value, SuggestionsAtStart, Improve);
            Reduce();
            Ascend(rows);
            foreach (var row in rows) _guide[row] = double.CreateSaturating(_dual[row]);
            Improve();
        }
        foreach (var row in rows) _startDual[row] = _dual[row];
        return best!;

        void Improve()
        {
            _cancellation.ThrowIfCancellationRequested();
            if (Greedy(rows) is { } found && (best is null || found.Value < best.Value)) best = found;
        }
    }

    /// <summary>Always takes the column with the least cost for the worth of what it covers, by the prices in <c>_guide</c>; then drops what is idle.</summary>
    private Found? Greedy(int[] rows)
    {
        var picks = new List<Pick>();
        var shortWeight = double.CreateSaturating(_shortWeight);
        var floor = rows.Max(row => _guide[row]) * 1e-3 + 1e-9;
        while (Array.Exists(rows, row => _need[row] > 0))
        {
            var (chosen, price) = (-1, double.PositiveInfinity);
            foreach (var column in _active)
            {
                if (!IsOpen(column)) continue;
                var gain = 0.0;
                foreach (var (row, covers) in _columns[column].Rows)
                    if (_need[row] > 0) gain += Math.Min(covers, _need[row]) * (_guide[row] + floor);
                if (gain <= 0) continue;
                var supply = _columns[column].Supply;
                var cost = _plainCost[column];
                if (_used[supply] >= _supplies[supply].InStock) cost += shortWeight;
                if (cost >= price * gain) continue;
                (chosen, price) = (column, cost / gain);
            }
            if (chosen < 0) break;
            var units = _supplies[_columns[chosen].Supply].Limit - _used[_columns[chosen].Supply];
            foreach (var (row, covers) in _columns[chosen].Rows)
                if (_need[row] > 0) units = Math.Min(units, Math.Max(1, _need[row] / covers));
            Take(chosen, units);
            picks.Add(new(chosen, units));
        }

        // Limited supplies may have been spent where others would have served: then this attempt is none.
        var complete = !rows.Any(row => _need[row] > 0);
        if (complete) DropIdle(picks, [.. picks.Select(pick => pick.Column).Distinct().OrderByDescending(column => _plainCost[column])]);
        PutBackAll(picks);
        if (!complete) return Fill(rows);
        var value = TakeAll(picks);
        PutBackAll(picks);
        return new Found(value, picks);
    }

    /// <summary>Everything limited as far as it goes, then whatever is open: covers the rows whenever they can be covered.</summary>
    private Found? Fill(int[] rows)
    {
        var picks = new List<Pick>();
        foreach (var column in _active.OrderBy(column => _supplies[_columns[column].Supply].Limit < CoverLayout.Unlimited ? 0 : 1))
        {
            while (IsOpen(column) && _columns[column].Rows.Any(cover => _need[cover.Row] > 0))
            {
                var left = _supplies[_columns[column].Supply].Limit - _used[_columns[column].Supply];
                var units = Math.Min(left, _columns[column].Rows.Where(cover => _need[cover.Row] > 0)
                    .Min(cover => (_need[cover.Row] + cover.Covers - 1) / cover.Covers));
                Take(column, units);
                picks.Add(new(column, units));
            }
        }
        var complete = !rows.Any(row => _need[row] > 0);
        if (complete) DropIdle(picks, [.. picks.Select(pick => pick.Column).Distinct().Reverse()]);
        PutBackAll(picks);
        if (!complete) return null;
        var value = TakeAll(picks);
        PutBackAll(picks);
        return new Found(value, picks);
    }

    /// <summary>Drops idle units of the given columns, in their order. The picks are taken, before and after.</summary>
    private void DropIdle(List<Pick> picks, List<int> order)
    {
        foreach (var column in order)
        {
            while (IsIdle(column))
            {
                var spare = long.MaxValue;
                foreach (var (row, covers) in _columns[column].Rows) spare = Math.Min(spare, -_need[row] / covers);
                var at = picks.FindIndex(pick => pick.Column == column);
                var units = Math.Min(spare, picks[at].Units);
                PutBack(column, units);
                if (units == picks[at].Units) picks.RemoveAt(at);
                else picks[at] = new(column, picks[at].Units - units);
            }
        }
    }
}
