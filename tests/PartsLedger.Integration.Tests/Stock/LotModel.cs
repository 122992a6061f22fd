namespace PartsLedger.Integration.Tests.Stock;

public enum LotActKind { Receive, Move, Split, Merge, PullAny, PullLot, ReserveAny, ReserveLot, Release, Return, Scrap }

/// <summary>One act on a part that is kept by lot.</summary>
/// <param name="Lot">Which of the lots there are, by number; counted round when there are fewer.</param>
/// <param name="Other">Another lot, for merging.</param>
/// <param name="Pieces">1 and up.</param>
/// <param name="From">A bin's number.</param>
/// <param name="To">Another bin's number.</param>
/// <param name="Job">A job's number.</param>
public sealed record LotAct(LotActKind Kind, int Lot, int Other, int Pieces, int From, int To, int Job);

/// <summary>
/// A part's lots as a shop would keep them on a slate: how long each is good, what lies of it in each bin, what each job has reserved of that
/// and taken. First to expire goes first, an expired lot is left where it is. Written from the rules alone; shares no code with the program.
/// </summary>
public sealed class LotModel(DateOnly today)
{
    private readonly List<(string Code, DateOnly? GoodUntil)> _lots = [];
    private readonly Dictionary<(int Lot, int Bin), int> _onHand = [];
    private readonly Dictionary<(int Job, int Lot, int Bin), int> _reserved = [];
    private readonly Dictionary<(int Job, int Lot), int> _taken = [];

    public IReadOnlyList<(string Code, DateOnly? GoodUntil)> Lots => _lots;

    public int OnHand(int lot, int bin) => _onHand.GetValueOrDefault((lot, bin));

    public int Reserved(int lot, int bin) => _reserved.Where(entry => entry.Key.Lot == lot && entry.Key.Bin == bin).Sum(entry => entry.Value);

    /// <summary>A lot that nothing lies of yet.</summary>
    public int Make(string code, DateOnly? goodUntil)
    {
        _lots.Add((code, goodUntil));
        return _lots.Count - 1;
    }

    /// <summary>Carries the act out if the rules allow it.</summary>
    /// <param name="act">The act, its lots known.</param>
    /// <param name="newLot">What a split's new lot is called.</param>
    /// <returns>Null where they do not, else what was taken: lot, bin and pieces, in the order they are fetched.</returns>
    public IReadOnlyList<(int Lot, int Bin, int Pieces)>? Do(LotAct act, string newLot)
    {
        switch (act.Kind)
        {
            case LotActKind.Receive:
                return Put(act.Lot, act.To, act.Pieces);
            case LotActKind.Move:
                return act.From == act.To || !Take(act.Lot, act.From, act.Pieces) ? null : Put(act.Lot, act.To, act.Pieces);
            case LotActKind.Split:
                return Take(act.Lot, act.From, act.Pieces) ? Put(Make(newLot, _lots[act.Lot].GoodUntil), act.From, act.Pieces) : null;
            case LotActKind.Merge:
                return Merge(act.Lot, act.Other);
            case LotActKind.PullAny:
                return Pull(act.Job, act.Pieces, Usable());
            case LotActKind.PullLot:
                return IsExpired(act.Lot) ? null : Pull(act.Job, act.Pieces, Usable().Where(at => at.Lot == act.Lot));
            case LotActKind.ReserveAny:
                return Reserve(act.Job, act.Pieces, Usable());
            case LotActKind.ReserveLot:
                return IsExpired(act.Lot) ? null : Reserve(act.Job, act.Pieces, Usable().Where(at => at.Lot == act.Lot));
            case LotActKind.Release:
                var had = _reserved.Where(entry => entry.Key.Job == act.Job && entry.Value > 0).Select(entry => entry.Key).ToList();
                foreach (var entry in had) _reserved.Remove(entry);
                return had.Count > 0 ? [] : null;
            case LotActKind.Return:
                if (_taken.GetValueOrDefault((act.Job, act.Lot)) < act.Pieces) return null;
                _taken[(act.Job, act.Lot)] -= act.Pieces;
                return Put(act.Lot, act.To, act.Pieces);
            case LotActKind.Scrap:
                return Take(act.Lot, act.From, act.Pieces) ? [] : null;
            default:
                throw new ArgumentOutOfRangeException(nameof(act));
        }
    }

    private bool IsExpired(int lot) => _lots[lot].GoodUntil < today;

    private int Free(int lot, int bin) => OnHand(lot, bin) - Reserved(lot, bin);

    /// <summary>What may be used, first to expire first, what never expires last; then bin by bin, then by the lot's code.</summary>
    private List<(int Lot, int Bin)> Usable() => [.. _onHand.Where(entry => entry.Value > 0 && !IsExpired(entry.Key.Lot)).Select(entry => entry.Key)
        .OrderBy(at => _lots[at.Lot].GoodUntil ?? DateOnly.MaxValue).ThenBy(at => at.Bin).ThenBy(at => _lots[at.Lot].Code, StringComparer.Ordinal)];

    private IReadOnlyList<(int, int, int)> Put(int lot, int bin, int pieces)
    {
        _onHand[(lot, bin)] = OnHand(lot, bin) + pieces;
        return [];
    }

    private bool Take(int lot, int bin, int pieces)
    {
        if (Free(lot, bin) < pieces) return false;
        _onHand[(lot, bin)] -= pieces;
        return true;
    }

    /// <summary>What is free of the one goes into the other, which is good for no longer than either; what is reserved stays.</summary>
    private IReadOnlyList<(int, int, int)>? Merge(int lot, int into)
    {
        var there = _onHand.Keys.Where(at => at.Lot == lot && Free(at.Lot, at.Bin) > 0).ToList();
        if (lot == into || there.Count == 0) return null;
        foreach (var (_, bin) in there)
        {
            var pieces = Free(lot, bin);
            _onHand[(lot, bin)] -= pieces;
            Put(into, bin, pieces);
        }
        var (own, other) = (_lots[into].GoodUntil, _lots[lot].GoodUntil);
        _lots[into] = _lots[into] with { GoodUntil = own is null || other < own ? other : own };
        return [];
    }

    private IReadOnlyList<(int, int, int)>? Reserve(int job, int pieces, IEnumerable<(int Lot, int Bin)> from)
    {
        var there = from.ToList();
        if (there.Sum(at => Free(at.Lot, at.Bin)) < pieces) return null;
        foreach (var (lot, bin) in there)
        {
            var some = Math.Min(pieces, Free(lot, bin));
            if (some == 0) continue;
            _reserved[(job, lot, bin)] = _reserved.GetValueOrDefault((job, lot, bin)) + some;
            pieces -= some;
        }
        return [];
    }

    /// <summary>The job's own reserved pieces first, then free ones.</summary>
    private IReadOnlyList<(int Lot, int Bin, int Pieces)>? Pull(int job, int pieces, IEnumerable<(int Lot, int Bin)> from)
    {
        var there = from.ToList();
        if (there.Sum(at => Own(at) + Free(at.Lot, at.Bin)) < pieces) return null;
        var picks = new List<(int Lot, int Bin, int Pieces)>();
        foreach (var at in there) Add(at, Own(at), own: true);
        foreach (var at in there) Add(at, Free(at.Lot, at.Bin), own: false);
        foreach (var (lot, _, taken) in picks) _taken[(job, lot)] = _taken.GetValueOrDefault((job, lot)) + taken;
        return picks;

        int Own((int Lot, int Bin) at) => _reserved.GetValueOrDefault((job, at.Lot, at.Bin));

        void Add((int Lot, int Bin) at, int there, bool own)
        {
            var some = Math.Min(pieces, there);
            if (some == 0) return;
            if (own) _reserved[(job, at.Lot, at.Bin)] -= some;
            _onHand[at] -= some;
            pieces -= some;
            var before = picks.FindIndex(pick => pick.Lot == at.Lot && pick.Bin == at.Bin);
            if (before < 0) picks.Add((at.Lot, at.Bin, some));
            else picks[before] = picks[before] with { Pieces = picks[before].Pieces + some };
        }
    }
}
