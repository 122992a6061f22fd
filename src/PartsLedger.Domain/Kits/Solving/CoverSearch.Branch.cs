namespace PartsLedger.Domain.Kits;

/// <summary>
/// The search: forced columns are taken, independent parts are searched apart, what cannot beat the budget is cut off by the bound, and
/// the rest is branched on. Every cover without idle packs and pieces is the end of exactly one path, so nothing is missed.
/// </summary>
internal sealed partial class CoverSearch<T>
{
    private const int SuggestionsPerNode = 24;
    private const int RowsWorthSuggesting = 5;

    // Where independent parts are told apart: rows of one group hang together.
    private readonly int[] _group;
    private readonly int[] _itemOwner;
    private readonly int[] _supplyOwner;

    /// <summary>
    /// The least way to cover <paramref name="rows"/> from the current state that adds less than <paramref name="budget"/>, or null when
    /// there is none. With <paramref name="any"/> the first such way found, not the least; while ties are compared, of the least ways
    /// the one that the tie-break prefers. The state is the same afterwards.
    /// </summary>
    private Found? Search(int[] rows, T budget, bool any)
    {
        _nodes++;
        _cancellation.ThrowIfCancellationRequested();
        if (_comparesTies && --_tieNodesLeft < 0) return null;
        var taken = new List<Pick>();
        var closed = new List<int>();
        var spent = T.Zero;
        try
        {
            while (true)
            {
                var live = Array.FindAll(rows, row => _need[row] > 0);
                if (spent >= budget) return null;
                if (live.Length == 0) return _refuseIdleUnits && HasIdleUnits() ? null : new Found(spent, taken);

                if (!TakeForced(live, taken, ref spent, out var forced)) return null;
                if (forced) continue;

                Found? rest;
                var parts = _refuseIdleUnits ? [live] : Parts(live);
                if (parts.Count > 1)
                {
                    rest = SearchParts(parts, checked(budget - spent), any);
                }
                else
                {
                    var left = checked(budget - spent);
                    if (!Bound(live, left, live.Length >= RowsWorthSuggesting ? SuggestionsPerNode : 0, out var bound)) return null;
                    if (bound >= left) return null;
                    if (CloseHopeless(checked(left - bound), closed)) continue;
                    rest = live.Length == 1 ? SearchOneRow(live, left, any) : BranchOnRow(live, left, any);
                }
                return rest is null ? null : new Found(checked(spent + rest.Value), [.. taken, .. rest.Picks]);
            }
        }
        finally
        {
            PutBackAll(taken);
            Reopen(closed, 0);
        }
    }

    /// <summary>Where only one column is left for a row, it is taken as often as the row needs. False when a row has none or not enough.</summary>
    private bool TakeForced(int[] live, List<Pick> taken, ref T spent, out bool forced)
    {
        forced = false;
        foreach (var row in live)
        {
            if (_need[row] <= 0) continue;
            var only = -1;
            var count = 0;
            long by = 0;
            foreach (var (column, covers) in _layout.ColumnsOf[row])
            {
                if (!IsOpen(column)) continue;
                (only, by) = (column, covers);
                if (++count > 1) break;
            }
            if (count == 0) return false;
            if (count > 1) continue;
            var units = (_need[row] + by - 1) / by;
            var supply = _columns[only].Supply;
            if (units > _supplies[supply].Limit - _used[supply]) return false;
            spent = checked(spent + Take(only, units));
            taken.Add(new(only, units));
            forced = true;
        }
        return true;
    }

    /// <summary>Closes the columns of which even one unit would reach the budget.</summary>
    private bool CloseHopeless(T gap, List<int> closed)
    {
        var before = closed.Count;
        foreach (var column in _active)
        {
            var reduced = _first[column] > 0 ? _reduced[column] : checked(_reduced[column] + _shortWeight);
            if (reduced < gap) continue;
            _closed[column] = true;
            closed.Add(column);
        }
        return closed.Count > before;
    }

    private void Reopen(List<int> closed, int from)
    {
        for (var at = from; at < closed.Count; at++) _closed[closed[at]] = false;
        closed.RemoveRange(from, closed.Count - from);
    }

    /// <summary>
    /// Rows that hang together, group by group: through an open column that covers both, through two modes of one supply, or through an
    /// item with room left that columns of both bring.
    /// </summary>
    private List<int[]> Parts(int[] live)
    {
        foreach (var row in live) _group[row] = row;
        Array.Fill(_itemOwner, -1);
        Array.Fill(_supplyOwner, -1);
        foreach (var row in live)
            foreach (var (column, _) in _layout.ColumnsOf[row])
            {
                if (!IsOpen(column)) continue;
                var laid = _columns[column];
                Join(ref _supplyOwner[laid.Supply], row);
                foreach (var (item, _) in laid.Brings)
                    if (_room[item] > 0) Join(ref _itemOwner[item], row);
            }

        var byGroup = new Dictionary<int, List<int>>();
        foreach (var row in live)
        {
            var group = Root(row);
            if (!byGroup.TryGetValue(group, out var members)) byGroup.Add(group, members = []);
            members.Add(row);
        }
        return [.. byGroup.Values.Select(members => members.ToArray())];

        void Join(ref int owner, int row)
        {
            if (owner < 0) owner = row;
            else _group[Root(owner)] = Root(row);
        }

        int Root(int row)
        {
            while (_group[row] != row) row = _group[row] = _group[_group[row]];
            return row;
        }
    }

    private Found? SearchParts(List<int[]> parts, T budget, bool any)
    {
        parts.Sort((left, right) => left.Length.CompareTo(right.Length));
        var bounds = new T[parts.Count];
        var sum = T.Zero;
        for (var at = 0; at < bounds.Length; at++)
        {
            if (!Bound(parts[at], budget, 0, out bounds[at])) return null;
            sum = checked(sum + bounds[at]);
        }
        if (sum >= budget) return null;

        var picks = new List<Pick>();
        for (var at = 0; at < bounds.Length; at++)
        {
            // The others cost at least their bounds, or what they were found to cost.
            var rest = checked(sum - bounds[at]);
            if (Search(parts[at], checked(budget - rest), any && at == bounds.Length - 1) is not { } found) return null;
            sum = checked(rest + found.Value);
            picks.AddRange(found.Picks);
        }
        return new Found(sum, picks);
    }

    /// <summary>
    /// Takes the row with the fewest open columns. Any cover uses some first one of them: for each in turn, one unit of it is taken and
    /// those before it are closed. Columns that serve nothing but this row come last, all together: once the others are closed the row
    /// is a part of its own.
    /// </summary>
    private Found? BranchOnRow(int[] live, T budget, bool any)
    {
        var (shared, own) = Choose(live);
        var closed = new List<int>();
        Found? best = null;
        foreach (var column in shared)
        {
            if (!IsOpen(column)) continue;
            var cost = Take(column, 1);
            var rest = cost < budget ? Search(live, checked(budget - cost), any) : null;
            PutBack(column, 1);
            if (rest is not null)
            {
                best = Better(best, new Found(checked(cost + rest.Value), [new(column, 1), .. rest.Picks]), ref budget);
                if (any) break;
            }
            _closed[column] = true;
            closed.Add(column);
        }
        if (own && !(any && best is not null) && Search(live, budget, any) is { } last) best = Better(best, last, ref budget);
        Reopen(closed, 0);
        return best;
    }

    /// <summary>The better of two, the new one being within the budget; from then on nothing worse than it is.</summary>
    private Found Better(Found? best, Found found, ref T budget)
    {
        budget = _comparesTies ? checked(found.Value + T.One) : found.Value;
        return best is null || found.Value < best.Value || Precedes(found.Picks, best.Picks) ? found : best;
    }

    /// <summary>The row to branch on: its columns that serve another row too, cheapest first, and whether it has others of its own.</summary>
    private (List<int> Shared, bool Own) Choose(int[] live)
    {
        var (chosen, fewest) = (-1, int.MaxValue);
        foreach (var row in live)
        {
            var (count, shared) = (0, false);
            foreach (var (column, _) in _layout.ColumnsOf[row])
            {
                if (!IsOpen(column)) continue;
                if (++count > fewest) break;
                shared = shared || ServesAnother(column, row);
            }
            // A row that only its own columns cover hangs together with others by surplus alone: any other row is better to branch on.
            if (count > fewest || !shared || (count == fewest && _dual[row] <= _dual[chosen])) continue;
            (chosen, fewest) = (row, count);
        }

        var columns = new List<int>();
        var own = false;
        foreach (var (column, _) in _layout.ColumnsOf[chosen >= 0 ? chosen : live[0]])
        {
            if (!IsOpen(column)) continue;
            if (chosen < 0 || ServesAnother(column, chosen)) columns.Add(column);
            else own = true;
        }
        columns.Sort((left, right) => _reduced[left].CompareTo(_reduced[right]) is var order and not 0 ? order : left - right);
        return (columns, own);
    }

    private bool ServesAnother(int column, int row)
    {
        foreach (var (other, _) in _columns[column].Rows)
            if (other != row && _need[other] > 0) return true;
        return false;
    }

    /// <summary>
    /// One row left: the quantity of one column is settled at a time, the column with the best price per piece first, from its most
    /// useful quantity downwards.
    /// </summary>
    private Found? SearchOneRow(int[] live, T budget, bool any)
    {
        var row = live[0];
        var (chosen, by) = (-1, 1L);
        var price = double.PositiveInfinity;
        foreach (var (column, covers) in _layout.ColumnsOf[row])
        {
            if (!IsOpen(column)) continue;
            var perPiece = double.CreateSaturating(UnitCost(column) + (_first[column] > 0 ? T.Zero : _shortWeight)) / Math.Min(covers, _need[row]);
            if (perPiece >= price) continue;
            (chosen, by, price) = (column, covers, perPiece);
        }
        var most = Math.Min((_need[row] + by - 1) / by, _supplies[_columns[chosen].Supply].Limit - _used[_columns[chosen].Supply]);
        Found? best = null;
        _closed[chosen] = true;
        for (var units = most; units >= 0; units--)
        {
            _cancellation.ThrowIfCancellationRequested();
            var cost = Take(chosen, units);
            var rest = cost < budget ? Search(live, checked(budget - cost), any) : null;
            PutBack(chosen, units);
            if (rest is null) continue;
            best = Better(best, new Found(checked(cost + rest.Value), units > 0 ? [new(chosen, units), .. rest.Picks] : rest.Picks), ref budget);
            if (any) break;
        }
        _closed[chosen] = false;
        return best;
    }
}
