using System.Numerics;

namespace PartsLedger.Domain.Kits;

/// <summary>
/// Depth-first branch and bound over a <see cref="CoverLayout"/>; the folded objective is held in <typeparamref name="T"/>.
/// This file: the state, what taking a unit costs in it, and the whole run. Beside it: the bound, the branching, the first good
/// answer, and the tie-break.
/// </summary>
internal sealed partial class CoverSearch<T> where T : struct, IBinaryInteger<T>, ISignedNumber<T>
{
    private readonly CoverLayout _layout;
    private readonly CancellationToken _cancellation;
    private readonly CoverLayout.Column[] _columns;
    private readonly CoverLayout.Supply[] _supplies;
    private readonly T[] _unitWeight;
    private readonly T _shortWeight, _surplusWeight, _lineWeight;

    // The state. Need and room go below zero when more is taken, so that putting back is plain addition.
    private readonly long[] _need;
    private readonly long[] _room;
    private readonly long[] _used;
    private readonly long[] _taken;
    private readonly bool[] _closed;
    private long _nodes;

    /// <summary>Answers with a unit that could be left out are refused; only then, parts of the problem cannot be searched apart.</summary>
    private bool _refuseIdleUnits;

    public CoverSearch(CoverLayout layout, CancellationToken cancellation)
    {
        _layout = layout;
        _cancellation = cancellation;
        _columns = layout.Columns;
        _supplies = layout.Supplies;
        _unitWeight = [.. layout.UnitWeight.Select(T.CreateChecked)];
        _shortWeight = T.CreateChecked(layout.ShortWeight);
        _surplusWeight = T.CreateChecked(layout.SurplusWeight);
        _lineWeight = T.CreateChecked(layout.LineWeight);
        _need = [.. layout.Need];
        _room = [.. layout.Room];
        _used = new long[_supplies.Length];
        _taken = new long[_columns.Length];
        _closed = new bool[_columns.Length];
        _dual = new T[_need.Length];
        _startDual = new T[_need.Length];
        _reduced = new T[_columns.Length];
        _first = new long[_columns.Length];
        _beyond = new long[_columns.Length];
        _mark = new int[_columns.Length];
        _guide = new double[_need.Length];
        _bestGuide = new double[_need.Length];
        _slope = new double[_need.Length];
        _plainCost = new double[_columns.Length];
        _plainReduced = new double[_columns.Length];
        _group = new int[_need.Length];
        _itemOwner = new int[_room.Length];
        _supplyOwner = new int[_supplies.Length];
    }

    /// <summary>Units of one column that an answer uses.</summary>
    private readonly record struct Pick(int Column, long Units);

    /// <summary>A way to cover some rows from the state it was found in, and what it adds to the objective.</summary>
    private sealed record Found(T Value, List<Pick> Picks);

    public CoverSolution Solve()
    {
        var answer = new List<Pick>();
        foreach (var part in Parts([.. Enumerable.Range(0, _need.Length)]))
        {
            var best = SolvePart(part);
            answer.AddRange(BreakTies(part, best));
        }
        return Describe(answer);
    }

    /// <summary>The optimum of one part of the problem that shares nothing with the others.</summary>
    private Found SolvePart(int[] rows)
    {
        var good = FirstAnswer(rows);
        return Search(rows, good.Value, false) ?? good;
    }

    /// <summary>
    /// Takes units and says what they add to the objective, exactly: the units' cost, what of them is short, what they bring beyond the
    /// room that is left, and a line if the supply was not used yet.
    /// </summary>
    private T Take(int column, long units)
    {
        var laid = _columns[column];
        var supply = _supplies[laid.Supply];
        var used = _used[laid.Supply];
        var surplus = laid.Unneeded * units;
        foreach (var (item, pieces) in laid.Brings)
        {
            var brought = pieces * units;
            var room = Math.Max(0, _room[item]);
            if (brought > room) surplus += brought - room;
            _room[item] -= brought;
        }
        foreach (var (row, covers) in laid.Rows) _need[row] -= covers * units;
        _used[laid.Supply] = used + units;
        _taken[column] += units;

        var cost = checked(_unitWeight[laid.Supply] * T.CreateChecked(units));
        var shortBy = Math.Max(0, used + units - supply.InStock) - Math.Max(0, used - supply.InStock);
        checked
        {
            if (shortBy > 0) cost += _shortWeight * T.CreateChecked(shortBy);
            if (surplus > 0) cost += _surplusWeight * T.CreateChecked(surplus);
            if (used == 0 && units > 0 && !supply.IsSpare) cost += _lineWeight;
        }
        return cost;
    }

    private void PutBack(int column, long units)
    {
        var laid = _columns[column];
        foreach (var (item, pieces) in laid.Brings) _room[item] += pieces * units;
        foreach (var (row, covers) in laid.Rows) _need[row] += covers * units;
        _used[laid.Supply] -= units;
        _taken[column] -= units;
    }

    private T TakeAll(List<Pick> picks)
    {
        var value = T.Zero;
        foreach (var pick in picks) value = checked(value + Take(pick.Column, pick.Units));
        return value;
    }

    private void PutBackAll(List<Pick> picks)
    {
        foreach (var pick in picks) PutBack(pick.Column, pick.Units);
    }

    private bool IsOpen(int column)
    {
        if (_closed[column]) return false;
        var supply = _columns[column].Supply;
        return _used[supply] < _supplies[supply].Limit;
    }

    /// <summary>Whether one unit of the column could be left out of what is taken without uncovering anything.</summary>
    private bool IsIdle(int column)
    {
        if (_taken[column] == 0) return false;
        foreach (var (row, covers) in _columns[column].Rows)
            if (_need[row] + covers > 0) return false;
        return true;
    }

    private bool HasIdleUnits()
    {
        for (var column = 0; column < _columns.Length; column++)
            if (_taken[column] > 0 && !_supplies[_columns[column].Supply].IsPack && IsIdle(column)) return true;
        return false;
    }

    private CoverSolution Describe(List<Pick> answer)
    {
        var problem = _layout.Problem;
        var quantities = problem.Supplies.Select(supply => new long[supply.Modes.Count]).ToArray();
        foreach (var pick in answer)
        {
            var column = _columns[pick.Column];
            if (!_supplies[column.Supply].IsSpare) quantities[column.Supply][column.Mode] += pick.Units;
        }
        return CoverAudit.Describe(problem, quantities, _nodes);
    }
}
