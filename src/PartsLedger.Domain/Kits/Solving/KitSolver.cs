using System.Numerics;

namespace PartsLedger.Domain.Kits;

/// <summary>
/// Solves a <see cref="CoverProblem"/> exactly: branch and bound over an integer program. Whole numbers in, whole numbers out.
/// The objective is compared level by level: pieces uncovered; cost, pieces short (or the other way round); surplus; lines.
/// Of equally good answers it gives the one with more of the earlier supply, and within a supply more of the earlier mode;
/// units of a supply that is no pack are never in it if they could be left out.
/// </summary>
/// <remarks>
/// There is no limit of size and no time-out: the answer is optimal or the call was cancelled. The levels are folded into one number
/// whose digits are the levels; it is held in 64 bits where they suffice, in 128 or as many as needed where they do not, always with
/// overflow checked: an overflow starts the search again with the wider number.
/// </remarks>
public static class KitSolver
{
    // The objective of an answer is far below the most that was reckoned with, so little room above that is left for the bound.
    private const int RoomFor64 = 62;
    private const int RoomFor128 = 122;

    /// <exception cref="ArgumentException">A number or an index is out of its range.</exception>
    /// <exception cref="OperationCanceledException">Cancelled before the optimum was proved.</exception>
    public static CoverSolution Solve(CoverProblem problem, CancellationToken cancellation = default)
    {
        var layout = new CoverLayout(problem);
        var bits = (int)layout.Largest.GetBitLength();
        if (bits <= RoomFor64)
        {
            try { return new CoverSearch<long>(layout, cancellation).Solve(); }
            catch (OverflowException) { /* the next wider number has room */ }
        }
        if (bits <= RoomFor128)
        {
            try { return new CoverSearch<Int128>(layout, cancellation).Solve(); }
            catch (OverflowException) { /* the next wider number has room */ }
        }
        return new CoverSearch<BigInteger>(layout, cancellation).Solve();
    }
}
