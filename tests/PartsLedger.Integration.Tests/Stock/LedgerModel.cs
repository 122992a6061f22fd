namespace PartsLedger.Integration.Tests.Stock;

/// <summary>One act on a single part, as the model and the program both understand it.</summary>
/// <param name="Kind">What is done.</param>
/// <param name="Pieces">How many; 1 and up.</param>
/// <param name="From">A bin's number.</param>
/// <param name="To">Another bin's number.</param>
/// <param name="Job">A job's number.</param>
public sealed record ModelAct(ModelKind Kind, int Pieces, int From, int To, int Job);

public enum ModelKind { Receive, Move, ReserveAll, ReserveSome, Release, PullReserved, PullFree, PullEither, Return, Scrap, Quarantine, ReleaseFromQuarantine, Count, Reverse }

/// <summary>
/// A part's stock as a shop would keep it on a slate: pieces by bin, good ones and ones set aside, what each job has reserved in each bin, what
/// each job has taken, and what the last booking changed. Written from the rules alone; shares no code with the program.
/// </summary>
public sealed class LedgerModel(int bins, int jobs)
{
    private readonly int[] _onHand = new int[bins];
    private readonly List<(int Job, int Bin, int Pieces)> _reserved = [];
    private readonly int[] _setAside = new int[bins];
    private readonly int[] _taken = new int[jobs];

    /// <summary>What the last booking changed, to be taken back: good and set-aside pieces by bin, and what a job has; null when there is none.</summary>
    private (int[] Good, int[] Aside, int[] Jobs)? _last;

    public IReadOnlyList<int> OnHand => _onHand;

    public IReadOnlyList<int> SetAside => _setAside;

    public int Reserved(int bin) => _reserved.Where(entry => entry.Bin == bin).Sum(entry => entry.Pieces);

    /// <summary>Carries the act out if the rules allow it.</summary>
    /// <returns>Whether they did.</returns>
    public bool Do(ModelAct act)
    {
        if (act.Kind == ModelKind.Reverse) return Reverse();
        var (good, aside, jobs) = (_onHand.ToArray(), _setAside.ToArray(), _taken.ToArray());
        if (!Carry(act)) return false;
        (int[] Good, int[] Aside, int[] Jobs) change = (Less(_onHand, good), Less(_setAside, aside), Less(_taken, jobs));

        // What only reserves or releases books nothing, nor does a count that agrees.
        if (change.Good.Concat(change.Aside).Concat(change.Jobs).Any(delta => delta != 0)) _last = change;
        return true;
    }

    private static int[] Less(int[] now, int[] before) => [.. now.Zip(before, (one, other) => one - other)];

    private bool Carry(ModelAct act) => act.Kind switch
    {
        ModelKind.Receive => Receive(act),
        ModelKind.Move => Move(act),
        ModelKind.ReserveAll => Reserve(act, all: true),
        ModelKind.ReserveSome => Reserve(act, all: false),
        ModelKind.Release => Release(act),
        ModelKind.PullReserved => Pull(act, own: true, free: false),
        ModelKind.PullFree => Pull(act, own: false, free: true),
        ModelKind.PullEither => Pull(act, own: true, free: true),
        ModelKind.Return => Return(act),
        ModelKind.Scrap => Take(act),
        ModelKind.Quarantine => Quarantine(act),
        ModelKind.ReleaseFromQuarantine => ReleaseFromQuarantine(act),
        ModelKind.Count => Count(act),
        _ => throw new ArgumentOutOfRangeException(nameof(act)),
    };

    private int Free(int bin) => _onHand[bin] - Reserved(bin);

    private bool Receive(ModelAct act)
    {
        _onHand[act.To] += act.Pieces;
        return true;
    }

    private bool Move(ModelAct act)
    {
        if (act.From == act.To || Free(act.From) < act.Pieces) return false;
        _onHand[act.From] -= act.Pieces;
        _onHand[act.To] += act.Pieces;
        return true;
    }

    /// <summary>All or nothing is refused when too few are free; as far as possible always answers, if only with nothing.</summary>
    private bool Reserve(ModelAct act, bool all)
    {
        if (all && Enumerable.Range(0, _onHand.Length).Sum(Free) < act.Pieces) return false;
        var left = act.Pieces;
        for (var bin = 0; bin < _onHand.Length && left > 0; bin++)
        {
            var pieces = Math.Min(left, Free(bin));
            if (pieces > 0) _reserved.Add((act.Job, bin, pieces));
            left -= Math.Max(pieces, 0);
        }
        return true;
    }

    private bool Release(ModelAct act) => _reserved.RemoveAll(entry => entry.Job == act.Job) > 0;

    private bool Pull(ModelAct act, bool own, bool free)
    {
        var ofOwn = own ? _reserved.Where(entry => entry.Job == act.Job).Sum(entry => entry.Pieces) : 0;
        var ofFree = free ? Enumerable.Range(0, _onHand.Length).Sum(Free) : 0;
        if (ofOwn + ofFree < act.Pieces) return false;
        var left = act.Pieces;
        if (own)
            for (var bin = 0; bin < _onHand.Length; bin++)
                for (var at = 0; at < _reserved.Count && left > 0; at++)
                {
                    if (_reserved[at].Job != act.Job || _reserved[at].Bin != bin) continue;
                    var pieces = Math.Min(left, _reserved[at].Pieces);
                    _reserved[at] = _reserved[at] with { Pieces = _reserved[at].Pieces - pieces };
                    _onHand[bin] -= pieces;
                    left -= pieces;
                }
        _reserved.RemoveAll(entry => entry.Pieces == 0);
        for (var bin = 0; bin < _onHand.Length && left > 0; bin++)
        {
            var pieces = Math.Min(left, Free(bin));
            _onHand[bin] -= pieces;
            left -= pieces;
        }
        _taken[act.Job] += act.Pieces;
        return true;
    }

    private bool Return(ModelAct act)
    {
        if (_taken[act.Job] < act.Pieces) return false;
        _taken[act.Job] -= act.Pieces;
        _onHand[act.To] += act.Pieces;
        return true;
    }

    private bool Take(ModelAct act)
    {
        if (Free(act.From) < act.Pieces) return false;
        _onHand[act.From] -= act.Pieces;
        return true;
    }

    private bool Quarantine(ModelAct act)
    {
        if (!Take(act)) return false;
        _setAside[act.From] += act.Pieces;
        return true;
    }

    private bool ReleaseFromQuarantine(ModelAct act)
    {
        if (_setAside[act.From] < act.Pieces) return false;
        _setAside[act.From] -= act.Pieces;
        _onHand[act.From] += act.Pieces;
        return true;
    }

    /// <summary>What is reserved was promised: a count cannot find less.</summary>
    private bool Count(ModelAct act)
    {
        if (act.Pieces < Reserved(act.To) && act.Pieces != _onHand[act.To]) return false;
        _onHand[act.To] = act.Pieces;
        return true;
    }

    /// <summary>What came must still be there and free, what a job took must still be with it. A reversal is not reversed.</summary>
    private bool Reverse()
    {
        if (_last is not { } last) return false;
        for (var bin = 0; bin < _onHand.Length; bin++)
            if (last.Good[bin] > Math.Max(0, Free(bin)) || last.Aside[bin] > _setAside[bin]) return false;
        for (var job = 0; job < _taken.Length; job++)
            if (last.Jobs[job] > _taken[job]) return false;
        for (var bin = 0; bin < _onHand.Length; bin++) (_onHand[bin], _setAside[bin]) = (_onHand[bin] - last.Good[bin], _setAside[bin] - last.Aside[bin]);
        for (var job = 0; job < _taken.Length; job++) _taken[job] -= last.Jobs[job];
        _last = null;
        return true;
    }
}
