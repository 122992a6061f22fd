using PartsLedger.Data.Fit;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Fit;

/// <summary>Every "no" about tagged units and pairs.</summary>
public static class UnitRefusals
{
    public static Refusal UnknownTag(string tag) =>
        new("UNKNOWN_TAG", $"There is no housing or valve with the tag '{tag}'.", "Scan the tag again, or enter the unit first.");

    public static Refusal UnknownPair(string code) =>
        new("UNKNOWN_PAIR", $"There is no pair with the code '{code}', and no half of a pair with that tag.", "Scan the code on either half again.");

    public static Refusal TagTaken(string tag, string by) =>
        new("TAG_TAKEN", $"The tag '{tag}' is already on {by}.", "Take the next unused tag; no tag is ever used twice.");

    public static Refusal NotSupervisor(string what) =>
        new("SUPERVISOR_NEEDED", $"Only a supervisor may {what}.", "Ask the supervisor to do it under their own name.");

    public static Refusal WrongRole(UnitRow unit, UnitRole wanted) => new("WRONG_ROLE",
        $"{unit.Tag} is a {Words.Of(unit.Role)}, not a {Words.Of(wanted)}.",
        $"A pair is one housing and one valve: scan the {Words.Of(wanted)}.");

    public static Refusal AlreadyPaired(UnitRow unit, PairRow pair) => new("ALREADY_PAIRED",
        $"{unit.Tag} belongs to pair {pair.Code} ({pair.Tags()}).", "Keep those two together; taking a pair apart is the supervisor's act.");

    public static Refusal OtherFamily(UnitRow housing, UnitRow valve) => new("OTHER_FAMILY",
        $"{housing.Tag} is of family {housing.Family.Code}, {valve.Tag} of {valve.Family.Code}.", "A valve never goes into a housing of another family.");

    public static Refusal OtherClass(string one, string oneClass, string other, string otherClass) => new("OTHER_CLASS",
        $"WRONG PRESSURE CLASS: {one} is {oneClass}, {other} is {otherClass}.", "Do not put them together; fetch one of the right class.");

    public static Refusal ClassMissing(UnitRow valve) => new("CLASS_MISSING",
        $"The pressure class of valve {valve.Tag} is not known.", "Enter its class from the tear-down first.");

    public static Refusal NotUsable(UnitRow unit) => new("UNIT_NOT_USABLE",
        $"{unit.Tag} is {StateWords(unit.State)}.", unit.State == UnitState.Quarantine ? "Measure it again and release it first." : "Take another one.");

    public static Refusal PairNotTogether(PairRow pair) => new("PAIR_NOT_TOGETHER",
        $"Pair {pair.Code} is no longer a pair: {StateWords(pair.State)}.", "Look at the history of its halves.");

    public static Refusal KeptForJob(string what, string job) => new("KEPT_FOR_JOB",
        $"{what} is kept for job {job}.", "Ask whoever has that job, or take another one.");

    public static string StateWords(UnitState state) => state switch
    {
        UnitState.Serviceable => "free to use",
        UnitState.Quarantine => "in quarantine until it is measured again",
        UnitState.Condemned => "condemned",
        UnitState.Gone => "gone out in a pump",
        _ => throw new ArgumentOutOfRangeException(nameof(state)),
    };

    public static string StateWords(PairState state) => state switch
    {
        PairState.Together => "together",
        PairState.TakenApart => "it was taken apart",
        PairState.Condemned => "it was condemned",
        PairState.Gone => "it has gone out in a pump",
        _ => throw new ArgumentOutOfRangeException(nameof(state)),
    };
}
