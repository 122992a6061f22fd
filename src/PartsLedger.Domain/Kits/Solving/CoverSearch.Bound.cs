namespace PartsLedger.Domain.Kits;

/// <summary>
/// The lower bound: the Lagrangian dual of the covering problem with bounded columns, evaluated in whole numbers, so that it is a true
/// bound whatever the multipliers are. Doubles only suggest multipliers.
/// </summary>
/// <remarks>
/// With a price on each row, any completion costs at least Σ need × price + Σ over columns of units × min(0, reduced cost). A column's
/// first units come from stock, those beyond are dearer by being short. What a unit brings beyond the room left is surplus for certain,
/// since excess only ever adds up; its supply's line is shared out among the most units that can be useful.
/// </remarks>
internal sealed partial class CoverSearch<T>
{
    private const int Passes = 4;

    private readonly T[] _dual;
    private readonly T[] _startDual;    // as found for the whole part, before anything was taken
    private readonly T[] _reduced;      // reduced cost of a unit from stock
    private readonly long[] _first;     // most useful units from stock
    private readonly long[] _beyond;    // most useful units beyond it
    private readonly int[] _mark;
    private int _stamp;
    private readonly List<int> _active = [];
    private readonly double[] _guide, _bestGuide, _slope, _plainCost, _plainReduced;
    private T[] _breaks = new T[16];
    private long[] _drops = new long[16];

    /// <summary>
    /// A lower bound on covering <paramref name="rows"/> (each still needing something) from here, in <paramref name="bound"/>; false
    /// when they cannot be covered at all. Leaves the open columns in <c>_active</c> with their reduced costs.
    /// </summary>
    private bool Bound(ReadOnlySpan<int> rows, T budget, int suggestions, out T bound)
    {
        GatherColumns(rows);
        bound = T.Zero;
        if (!Ascend(rows)) return false;
        bound = Evaluate(rows);
        if (suggestions == 0 || bound >= budget || rows.Length == 1) return true;

        var kept = new T[rows.Length];
        for (var at = 0; at < rows.Length; at++) kept[at] = _dual[rows[at]];
        Suggest(rows, budget, suggestions);
        Reduce();
        if (!Ascend(rows)) return false;
        var better = Evaluate(rows);
        if (better >= bound) { bound = better; return true; }
        for (var at = 0; at < rows.Length; at++) _dual[rows[at]] = kept[at];
        Reduce();
        return true;
    }

    /// <summary>Finds the open columns that cover one of the rows, and how many units of each can be useful.</summary>
    private void GatherColumns(ReadOnlySpan<int> rows)
    {
        _stamp++;
        _active.Clear();
        foreach (var row in rows)
            foreach (var (column, _) in _layout.ColumnsOf[row])
                if (_mark[column] != _stamp)
                {
                    _mark[column] = _stamp;
                    if (!IsOpen(column)) continue;
                    _active.Add(column);
                    var supplyAt = _columns[column].Supply;
                    var supply = _supplies[supplyAt];
                    long useful = 0;
                    foreach (var (covered, covers) in _columns[column].Rows)
                        if (_need[covered] > 0) useful = Math.Max(useful, (_need[covered] + covers - 1) / covers);
                    useful = Math.Min(useful, supply.Limit - _used[supplyAt]);
                    _first[column] = Math.Clamp(supply.InStock - _used[supplyAt], 0, useful);
                    _beyond[column] = useful - _first[column];
                }
        Reduce();
    }

    /// <summary>The least one more unit can add to the objective when it comes from stock.</summary>
    private T UnitCost(int column)
    {
        var laid = _columns[column];
        var supply = _supplies[laid.Supply];
        var surplus = laid.Unneeded;
        foreach (var (item, pieces) in laid.Brings) surplus += Math.Max(0, pieces - Math.Max(0, _room[item]));
        checked
        {
            var cost = _unitWeight[laid.Supply] + _surplusWeight * T.CreateChecked(surplus);
            if (_used[laid.Supply] == 0 && !supply.IsSpare && supply.Columns.Length == 1)
                cost += _lineWeight / T.CreateChecked(_first[column] + _beyond[column]);
            return cost;
        }
    }

    private void Reduce()
    {
        foreach (var column in _active)
        {
            var reduced = UnitCost(column);
            _plainCost[column] = double.CreateSaturating(reduced);
            foreach (var (row, covers) in _columns[column].Rows)
                if (_need[row] > 0) checked { reduced -= _dual[row] * T.CreateChecked(Math.Min(covers, _need[row])); }
            _reduced[column] = reduced;
        }
    }

    private T Evaluate(ReadOnlySpan<int> rows)
    {
        var bound = T.Zero;
        checked
        {
            foreach (var row in rows) bound += _dual[row] * T.CreateChecked(_need[row]);
            foreach (var column in _active)
            {
                var reduced = _reduced[column];
                if (T.IsNegative(reduced)) bound += reduced * T.CreateChecked(_first[column]);
                if (_beyond[column] == 0) continue;
                reduced += _shortWeight;
                if (T.IsNegative(reduced)) bound += reduced * T.CreateChecked(_beyond[column]);
            }
        }
        return bound;
    }

    /// <summary>Moves each row's price to where it serves the bound best, the others held, until nothing moves. False: a row cannot be covered.</summary>
    private bool Ascend(ReadOnlySpan<int> rows)
    {
        for (var pass = 0; pass < Passes; pass++)
        {
            var moved = false;
            foreach (var row in rows)
            {
                if (!BestStep(row, out var step)) return false;
                if (step < -_dual[row]) step = -_dual[row];
                if (T.IsZero(step)) continue;
                moved = true;
                checked
                {
                    _dual[row] += step;
                    foreach (var (column, covers) in _layout.ColumnsOf[row])
                        if (_mark[column] == _stamp && IsOpen(column))
                            _reduced[column] -= step * T.CreateChecked(Math.Min(covers, _need[row]));
                }
            }
            if (!moved) break;
        }
        return true;
    }

    /// <summary>
    /// The bound is concave in one price: it climbs by the need and falls back by units × covers at each column's turning point. The
    /// best price is the turning point where the climb is used up.
    /// </summary>
    private bool BestStep(int row, out T step)
    {
        var need = _need[row];
        var count = 0;
        step = T.Zero;
        foreach (var (column, full) in _layout.ColumnsOf[row])
        {
            if (_mark[column] != _stamp || !IsOpen(column)) continue;
            var covers = Math.Min(full, need);
            if (count + 2 > _breaks.Length)
            {
                Array.Resize(ref _breaks, count * 2 + 2);
                Array.Resize(ref _drops, count * 2 + 2);
            }
            if (_first[column] > 0)
            {
                _breaks[count] = FloorDivide(_reduced[column], covers);
                _drops[count++] = _first[column] * covers;
            }
            if (_beyond[column] > 0)
            {
                _breaks[count] = FloorDivide(checked(_reduced[column] + _shortWeight), covers);
                _drops[count++] = _beyond[column] * covers;
            }
        }
        var climb = need;
        while (count > 0)
        {
            var least = 0;
            for (var at = 1; at < count; at++)
                if (_breaks[at] < _breaks[least]) least = at;
            climb -= _drops[least];
            if (climb <= 0)
            {
                step = _breaks[least];
                return true;
            }
            count--;
            (_breaks[least], _drops[least]) = (_breaks[count], _drops[count]);
        }
        return false;
    }

    private static T FloorDivide(T value, long by)
    {
        if (by == 1) return value;
        var (quotient, remainder) = T.DivRem(value, T.CreateChecked(by));
        return T.IsNegative(remainder) ? quotient - T.One : quotient;
    }

    /// <summary>Subgradient steps in floating point; the best multipliers found are rounded into <c>_dual</c>.</summary>
    private void Suggest(ReadOnlySpan<int> rows, T budget, int steps, Action? atPause = null)
    {
        foreach (var row in rows) _guide[row] = _bestGuide[row] = double.CreateSaturating(_dual[row]);
        var shortWeight = double.CreateSaturating(_shortWeight);
        var target = double.CreateSaturating(budget);
        var best = double.NegativeInfinity;
        var (pace, stale) = (1.0, 0);
        for (var step = 0; step < steps; step++)
        {
            var value = 0.0;
            foreach (var row in rows)
            {
                value += _need[row] * _guide[row];
                _slope[row] = _need[row];
            }
            foreach (var column in _active)
            {
                var laid = _columns[column].Rows;
                var reduced = _plainCost[column];
                foreach (var (row, covers) in laid)
                    if (_need[row] > 0) reduced -= _guide[row] * Math.Min(covers, _need[row]);
                _plainReduced[column] = reduced;
                long units = 0;
                if (reduced < 0) { value += reduced * _first[column]; units = _first[column]; }
                if (_beyond[column] > 0 && reduced + shortWeight < 0) { value += (reduced + shortWeight) * _beyond[column]; units += _beyond[column]; }
                if (units == 0) continue;
                foreach (var (row, covers) in laid)
                    if (_need[row] > 0) _slope[row] -= (double)units * Math.Min(covers, _need[row]);
            }
            if (value > best)
            {
                stale = 0;
                if (best > double.NegativeInfinity && value - best < 1e-6 * Math.Abs(target - best)) stale = 1;
                best = value;
                foreach (var row in rows) _bestGuide[row] = _guide[row];
            }
            else if (++stale >= 5)
            {
                (pace, stale) = (pace / 2, 0);
                foreach (var row in rows) _guide[row] = _bestGuide[row];
            }
            if (best >= target || pace < 0.005) break;
            var steep = 0.0;
            foreach (var row in rows)
            {
                if (_slope[row] < 0 && _guide[row] <= 0) _slope[row] = 0;
                steep += _slope[row] * _slope[row];
            }
            if (steep <= 0) break;
            var stride = pace * (Math.Max(target, best) * 1.02 - value) / steep;
            if (!(stride > 0)) break;
            foreach (var row in rows) _guide[row] = Math.Max(0, _guide[row] + stride * _slope[row]);
            if (atPause is not null && step % 40 == 39) atPause();
        }
        foreach (var row in rows) _dual[row] = T.CreateSaturating(_bestGuide[row]);
    }
}
