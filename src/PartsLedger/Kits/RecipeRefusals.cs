using System.Globalization;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Kits;

/// <summary>Every "no" about kits that the shop puts together itself.</summary>
public static class RecipeRefusals
{
    public static Refusal NotAKit(string part, string kind) => new("NOT_A_KIT", $"{part} is of kind {kind}, not a kit.", "Give the number of a part of kind kit.");

    public static Refusal KitNeedsLots(string kit) => new("KIT_NEEDS_LOTS",
        $"{kit} is not tracked by lot, so nobody could tell what went into which kit.", "Import the part again with tracking lot.");

    public static Refusal NoRecipe(string kit) => new("NO_RECIPE", $"{kit} has no recipe.", "Define its recipe first.");

    public static Refusal UnknownVersion(string kit, int version, int latest) => new("UNKNOWN_VERSION",
        $"{kit} has no recipe version {Whole(version)}.", $"Give one from 1 to {Whole(latest)}.");

    public static Refusal VersionReplaced(string kit, int version, int inForce) => new("VERSION_REPLACED",
        $"Version {Whole(version)} of the recipe of {kit} is not in force; version {Whole(inForce)} is.", "Read the recipe again, then build by it.");

    public static Refusal PartTwice(string part) => new("PART_TWICE", $"The recipe names {part} twice.", "Name each part once with all of its pieces.");

    public static Refusal HoldsItself(IReadOnlyList<string> circle) => new("RECIPE_HOLDS_ITSELF",
        circle.Count == 2 ? $"{circle[0]} would hold itself." : $"{circle[0]} would hold itself: {string.Join(" holds ", circle)}.", "Take out the part that leads back to the kit.");

    public static Refusal Breach(RecipeBreach breach) => new(breach.Code, breach.Sentence, breach.WhatToDo);

    public static Refusal NothingChanged(string kit, int version) => new("NOTHING_CHANGED",
        $"This is version {Whole(version)} of the recipe of {kit}, which is in force.", "Nothing is left to do.");

    public static Refusal OlderKitsOnHand(string kit, Quantity onHand) => new("OLDER_KITS_ON_HAND",
        $"{onHand} of {kit} are on the shelf with other contents, and would be believed to hold what they do not.",
        "Use them up or break them down first, or give the changed kit a number of its own.");

    public static Refusal ComponentShort(string kit, long wanted, long possible, string limits, string holders) => new("COMPONENT_SHORT",
        $"Only {Whole(possible)} of {Whole(wanted)} {kit} can be built now. {limits}{(holders.Length == 0 ? "" : $" {holders}")}",
        possible == 0 ? "Order what is short, or build with what jobs have reserved if they can wait."
            : $"Build {Whole(possible)}, or as many as possible, or order what is short.");

    public static Refusal QuarantinePlace(string place, string what) => new("A_QUARANTINE_PLACE", $"{place} is a quarantine place.",
        $"Give the place {what} are kept in.");

    public static Refusal SerialsInKit(string kit, string lot, string part) => new("SERIALS_IN_KIT",
        $"Which {part} is in which {kit} of lot {lot} is not known: it is tracked one by one.", "Break down the whole lot in one go, or none of it.");

    internal static string Whole(long number) => number.ToString(CultureInfo.InvariantCulture);
}
