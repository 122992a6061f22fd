using System.Numerics;

namespace PartsLedger.Domain.Kits;

/// <summary>
/// A <see cref="CoverProblem"/> laid out as arrays for the search: rows (items that can be covered, by as much as can be covered),
/// columns (one per supply and mode, and "leave it uncovered" where limited supplies compete) and the weight of each objective level.
/// </summary>
internal sealed class CoverLayout
{
    /// <summary>Units that can be had of what has no limit: more than any demand, little enough to be multiplied.</summary>
    public const long Unlimited = long.MaxValue / 4;

    /// <summary>What one line weighs in its level. Divisible by small numbers, so that a bound can share a line out among its units.</summary>
    private const int LineGrain = 12;

    public CoverLayout(CoverProblem problem)
    {
        Problem = problem;
        Check(problem);
        Room = [.. problem.Demand];
        var (needs, contested) = Coverable(problem);

        var rowOf = new int[needs.Length];
        var rows = new List<int>();
        for (var item = 0; item < needs.Length; item++)
        {
            rowOf[item] = needs[item] > 0 ? rows.Count : -1;
            if (needs[item] > 0) rows.Add(item);
        }

        // A row is counted in its largest common unit: 12 000 thousandths in packs of 1 000 or 3 000 are 12 in packs of 1 or 3.
        var grain = new long[rows.Count];
        foreach (var cover in problem.Supplies.SelectMany(supply => supply.Modes).SelectMany(mode => mode.Covers))
            if (rowOf[cover.Item] is >= 0 and var row) grain[row] = Gcd(grain[row], cover.Pieces);
        for (var row = 0; row < rows.Count; row++)
            if (contested[rows[row]]) grain[row] = Gcd(grain[row], needs[rows[row]]);
        Need = [.. rows.Select((item, row) => CeilingDivide(needs[item], grain[row]))];

        var costGrain = problem.Supplies.Aggregate(0L, (gcd, supply) => Gcd(gcd, supply.UnitCost));
        var surplusGrain = problem.Demand.Concat(problem.Supplies.SelectMany(supply => supply.Modes)
            .SelectMany(mode => mode.Brings.Select(brought => brought.Pieces).Append(mode.Unneeded))).Aggregate(0L, Gcd);
        if (costGrain == 0) costGrain = 1;
        if (surplusGrain == 0) surplusGrain = 1;
        for (var item = 0; item < Room.Length; item++) Room[item] /= surplusGrain;

        LayColumns(problem, rowOf, grain, surplusGrain);
        var spares = new List<(int Row, long Grain)>();
        for (var row = 0; row < rows.Count; row++)
            if (contested[rows[row]]) spares.Add((row, grain[row]));
        LaySpares(spares.Select(spare => spare.Row));
        ColumnsOf = Transpose();

        Weigh(problem, costGrain, spares);
    }

    public CoverProblem Problem { get; }

    /// <summary>By item: pieces that may come out of packs before they are surplus.</summary>
    public long[] Room { get; }

    /// <summary>By row: what must be covered.</summary>
    public long[] Need { get; }

    public Column[] Columns { get; private set; } = [];

    /// <summary>By row: the columns that cover it and by how much.</summary>
    public (int Column, long Covers)[][] ColumnsOf { get; }

    /// <summary>By supply, the "leave it uncovered" ones last.</summary>
    public Supply[] Supplies { get; private set; } = [];

    /// <summary>By supply: the weight of one unit in the folded objective, without short, surplus and line.</summary>
    public BigInteger[] UnitWeight { get; private set; } = [];

    public BigInteger ShortWeight { get; private set; }
    public BigInteger SurplusWeight { get; private set; }
    public BigInteger LineWeight { get; private set; }

    /// <summary>No sensible answer's folded objective is above this.</summary>
    public BigInteger Largest { get; private set; }

    /// <param name="Rows">Rows covered, and by how much; never more than the row needs.</param>
    /// <param name="Brings">Items that come out of it, for the surplus.</param>
    internal sealed record Column(int Supply, int Mode, (int Row, long Covers)[] Rows, (int Item, long Pieces)[] Brings, long Unneeded);

    /// <param name="IsSpare">Stands for leaving a row uncovered: no real supply, no line, no tie-break.</param>
    internal sealed record Supply(int[] Columns, long InStock, long Limit, bool IsPack, bool IsSpare, bool IsFree);

    private static void Check(CoverProblem problem)
    {
        foreach (var demand in problem.Demand) Require(demand >= 0, "a demand is below zero");
        foreach (var supply in problem.Supplies)
        {
            Require(supply is { UnitCost: >= 0, InStock: >= 0 } && supply.Limit is null or >= 0, "a supply's cost, stock or limit is below zero");
            Require(supply.Modes.Count > 0, "a supply has no mode");
            foreach (var mode in supply.Modes)
            {
                Require(mode.Unneeded >= 0, "unneeded pieces are below zero");
                foreach (var pieces in mode.Covers.Concat(mode.Brings))
                    Require(pieces.Pieces > 0 && pieces.Item >= 0 && pieces.Item < problem.Demand.Count, "pieces of an item are out of range");
                Require(mode.Covers.Select(cover => cover.Item).Distinct().Count() == mode.Covers.Count, "an item is covered twice by one mode");
                Require(mode.Brings.Select(cover => cover.Item).Distinct().Count() == mode.Brings.Count, "an item is brought twice by one mode");
            }
        }

        static void Require(bool condition, string otherwise)
        {
            if (!condition) throw new ArgumentException($"The cover problem is not sound: {otherwise}.", nameof(problem));
        }
    }

    /// <summary>
    /// How much of each demand can be covered when everything limited is used: this much is covered in every optimal answer, since
    /// uncovered pieces come first. Only where a limited supply can be used in one way or another must the search choose (contested).
    /// </summary>
    private static (long[] Needs, bool[] Contested) Coverable(CoverProblem problem)
    {
        var most = new Int128[problem.Demand.Count];
        var unlimited = new bool[problem.Demand.Count];
        var contested = new bool[problem.Demand.Count];
        foreach (var supply in problem.Supplies)
        {
            if (supply.Limit == 0) continue;
            foreach (var covers in supply.Modes.SelectMany(mode => mode.Covers).GroupBy(cover => cover.Item))
            {
                if (supply.Limit is { } limit) most[covers.Key] += (Int128)covers.Max(cover => cover.Pieces) * limit;
                else unlimited[covers.Key] = true;
                if (supply.Modes.Count > 1) contested[covers.Key] = true;
            }
        }
        var needs = new long[problem.Demand.Count];
        for (var item = 0; item < needs.Length; item++)
        {
            needs[item] = unlimited[item] ? problem.Demand[item] : (long)Int128.Min(problem.Demand[item], most[item]);
            contested[item] &= !unlimited[item] && needs[item] > 0;
        }
        return (needs, contested);
    }

    private void LayColumns(CoverProblem problem, int[] rowOf, long[] grain, long surplusGrain)
    {
        var columns = new List<Column>();
        var supplies = new List<Supply>();
        for (var at = 0; at < problem.Supplies.Count; at++)
        {
            var supply = problem.Supplies[at];
            var own = new int[supply.Modes.Count];
            for (var mode = 0; mode < own.Length; mode++)
            {
                var covers = new List<(int, long)>();
                foreach (var cover in supply.Modes[mode].Covers)
                    if (rowOf[cover.Item] is >= 0 and var row) covers.Add((row, Math.Min(cover.Pieces / grain[row], Need[row])));
                own[mode] = columns.Count;
                columns.Add(new Column(at, mode, [.. covers],
                    [.. supply.Modes[mode].Brings.Select(brought => (brought.Item, brought.Pieces / surplusGrain))],
                    supply.Modes[mode].Unneeded / surplusGrain));
            }
            var limit = Math.Min(supply.Limit ?? Unlimited, Unlimited);
            supplies.Add(new Supply(own, Math.Min(supply.InStock, Unlimited), limit, supply.IsPack, false, supply.UnitCost == 0));
        }
        Columns = [.. columns];
        Supplies = [.. supplies];
    }

    private void LaySpares(IEnumerable<int> rows)
    {
        foreach (var row in rows)
        {
            Columns = [.. Columns, new Column(Supplies.Length, 0, [(row, 1)], [], 0)];
            Supplies = [.. Supplies, new Supply([Columns.Length - 1], Unlimited, Unlimited, true, true, false)];
        }
    }

    private (int, long)[][] Transpose()
    {
        var lists = new List<(int, long)>[Need.Length];
        for (var row = 0; row < lists.Length; row++) lists[row] = [];
        for (var column = 0; column < Columns.Length; column++)
            foreach (var (row, covers) in Columns[column].Rows) lists[row].Add((column, covers));
        return [.. lists.Select(list => list.ToArray())];
    }

    /// <summary>
    /// Each level's weight is one more than the most that all levels below it can come to. The search only ever takes a unit that covers
    /// something still uncovered, so a row is the reason for at most need / smallest cover units: that bounds every level.
    /// </summary>
    private void Weigh(CoverProblem problem, long costGrain, List<(int Row, long Grain)> spares)
    {
        BigInteger units = 0;
        for (var row = 0; row < Need.Length; row++)
        {
            var smallest = ColumnsOf[row].Where(entry => !Supplies[Columns[entry.Column].Supply].IsSpare).Min(entry => entry.Covers);
            units += CeilingDivide(Need[row], smallest);
        }
        BigInteger most = 0;
        foreach (var column in Columns)
            most = BigInteger.Max(most, column.Brings.Aggregate((BigInteger)column.Unneeded, (sum, brought) => sum + brought.Pieces));
        var mostLines = BigInteger.Min(units, problem.Supplies.Count) * LineGrain;
        var mostSurplus = units * most;
        var mostShort = problem.Supplies.Any(supply => supply.InStock < Math.Min(supply.Limit ?? Unlimited, Unlimited)) ? units : 0;
        var mostCost = units * (problem.Supplies.Select(supply => supply.UnitCost).DefaultIfEmpty().Max() / costGrain);

        LineWeight = LineGrain;
        SurplusWeight = mostLines + 1;
        var below = SurplusWeight * (mostSurplus + 1);
        BigInteger costWeight;
        if (problem.ShortBeforeCost) (costWeight, ShortWeight) = (below, below * (mostCost + 1));
        else (ShortWeight, costWeight) = (below, below * (mostShort + 1));
        var uncoveredWeight = below * (mostShort + 1) * (mostCost + 1);

        UnitWeight = [.. Supplies.Select((supply, at) => supply.IsSpare
            ? uncoveredWeight * spares[at - problem.Supplies.Count].Grain
            : costWeight * (problem.Supplies[at].UnitCost / costGrain))];
        Largest = uncoveredWeight * (1 + spares.Aggregate(BigInteger.Zero, (sum, spare) => sum + (BigInteger)Need[spare.Row] * spare.Grain));
    }

    private static long Gcd(long left, long right)
    {
        while (right != 0) (left, right) = (right, left % right);
        return left;
    }

    private static long CeilingDivide(long value, long by) => (value + by - 1) / by;
}
