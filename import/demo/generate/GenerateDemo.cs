#:property RestorePackagesWithLockFile=false
#:property RestoreLockedMode=false
#:property PublishAot=false

// Writes the files of the invented shop (Tollmere Pump Exchange) into the folder given:
//
//     dotnet run import/demo/generate/GenerateDemo.cs -- import/demo
//
// Nothing here is drawn at random. A part's number comes from its family, its kind and its position on the parts list; its cost from
// what it is and how large the pump is; a kit's cost from what is in it; stock from how many machines the part goes into; a
// measured size from an even spread over the tolerance. So the same run always gives the same files, and every figure can be explained.
// README.md beside the files tells the story; this program is where the figures are.

using System.Globalization;
using System.Text;

var folder = args.Length == 1 ? args[0] : throw new ArgumentException("Give the folder to write to, and nothing else.");
var shop = new Shop();

var roller20 = Roller20.Build(shop);
var vane30 = Vane30.Build(shop);
var heavy45 = Heavy45.Build(shop);
var compact15 = Compact15.Build(shop);
Commons.Build(shop);
Machines.Build(shop);
OtherNames.Build(shop);
Advice.Build(shop, [roller20, vane30, heavy45, compact15]);
Shelves.Build(shop);
Bank.Build(shop, [vane30, heavy45, compact15]);
shop.Write(folder);
return 0;

// ---- what the shop's sheets hold --------------------------------------------------------------------------------------------------

/// <summary>A relief-pressure class. The paint dot on the valve's spring is all that tells two classes apart once the tag is gone.</summary>
internal sealed record PressureClass(string Code, string Name, int ReliefKpa, int MinusKpa, int PlusKpa, string Dot)
{
    /// <summary>The class as it appears inside part numbers: bar, two or three digits.</summary>
    public int Bar => ReliefKpa / 100;

    public static readonly PressureClass P055 = new("P055", "55 bar: light steering, manual back-up", 5500, 200, 300, "white");
    public static readonly PressureClass P070 = new("P070", "70 bar: ordinary steering", 7000, 250, 350, "yellow");
    public static readonly PressureClass P085 = new("P085", "85 bar: loaded front axle", 8500, 300, 400, "blue");
    public static readonly PressureClass P105 = new("P105", "105 bar: heavy axle and auxiliaries", 10500, 350, 450, "red");
    public static readonly PressureClass[] All = [P055, P070, P085, P105];
}

/// <summary>A pump family: one size of pump from one maker, whatever its class and rotation.</summary>
/// <param name="Size">Cost of a piece of this family against the same piece of the 20 cc roller pump.</param>
/// <param name="Number">The maker's numbering: block (1 seals, 2 rotating, 3 plates, 4 springs, 5 valves, 6 body, 7 hardware, 8 kits,
/// 9 assemblies) and running number, which is the position plus 100; below 100 the number is of the first, older series.</param>
internal sealed record Family(
    string Code, string Name, string Maker, decimal Cc, bool Selective, decimal BoreMm, int MinUm, int TargetUm, int MaxUm, int FormUm,
    decimal LandMm, string HousingMetal, string Element, decimal Size, Func<int, int, string> Number)
{
    public bool Aluminium => HousingMetal == "aluminium";
}

internal sealed record Part(
    string Number, string Name, string Kind, string Service, string Class, string Tracking, string Unit, decimal Cost, decimal Price,
    int LeadDays, bool Supplied);

internal sealed record Content(Part Part, int Quantity);

internal sealed record Variant(
    Family Family, PressureClass Class, string Rotation, string Series, string BuiltFrom, string BuiltTo, string SerialFrom,
    string SerialTo, string Note, IReadOnlyDictionary<string, Part> Parts, IReadOnlyDictionary<string, string> Seen)
{
    public string Code => $"{Family.Code}-{Class.Bar:000}-{(Rotation == "cw" ? "R" : "L")}{Series}";

    /// <summary>The duty it serves, whatever its series: what an application asks for.</summary>
    public string Duty => $"{Family.Code}-{Class.Bar:000}-{(Rotation == "cw" ? "R" : "L")}";
}

/// <summary>A place on every parts list: the same position means the same thing in all families, and no family has them all.</summary>
/// <param name="Basis">Cost of one piece in the 20 cc roller pump.</param>
internal sealed record Place(
    int Position, string Role, string Name, string Kind, string Group, bool Always, int Quantity, decimal Basis,
        string Service = "separate")
{
    public static readonly Place[] All =
    [
        new(1, "housing", "Housing", "housing", "body", false, 1, 46.00m),
        new(2, "shaft", "Drive shaft", "rotating", "body", false, 1, 14.50m),
        new(3, "bush", "Shaft bush", "hardware", "hardware", false, 1, 1.90m),
        new(4, "shaft-seal", "Shaft seal", "seal", "seal", true, 1, 5.20m),
        // Ring, rotor and twelve rollers or vanes are sorted into matched sets at the maker's and never leave it apart.
        // The ring's ports are cut for one rotation; a left-hand pump has its own, so a right-hand assembly cannot serve it.
        new(5, "ring", "Cam ring", "rotating", "rotating", false, 1, 24.00m, "kit-only"),
        new(6, "rotor", "Rotor", "rotating", "rotating", false, 1, 19.00m, "kit-only"),
        new(7, "element", "Roller", "rotating", "rotating", false, 12, 1.15m, "kit-only"),
        // Plates are lapped and used again unless they are scored, so they belong to the body and not to the rotating group.
        new(8, "pressure-plate", "Pressure plate", "plate", "body", false, 1, 11.50m),
        new(9, "thrust-plate", "Thrust plate", "plate", "body", false, 1, 9.80m),
        new(10, "dowel", "Locating dowel", "hardware", "hardware", false, 2, 0.60m),
        new(11, "plate-spring", "Pressure plate spring", "spring", "hardware", false, 1, 1.70m),
        new(12, "end-cover", "End cover", "housing", "body", false, 1, 8.40m),
        new(13, "cover-ring", "End cover retaining ring", "hardware", "hardware", false, 1, 1.30m),
        new(14, "rotor-ring", "Rotor retaining ring", "hardware", "rotating", false, 1, 0.40m),
        new(15, "valve", "Flow-control valve with relief", "valve", "valve", false, 1, 17.50m),
        new(16, "valve-spring", "Flow-control valve spring", "spring", "valve", false, 1, 1.50m),
        new(17, "plug", "Valve plug", "hardware", "body", false, 1, 2.40m),
        new(18, "plug-o-ring", "O-ring, valve plug", "seal", "seal", true, 1, 0.70m),
        new(19, "union", "Outlet union", "hardware", "body", false, 1, 3.90m),
        new(20, "union-o-ring", "O-ring, outlet union", "seal", "seal", true, 1, 0.60m),
        new(21, "cover-o-ring", "O-ring, end cover", "seal", "seal", true, 1, 1.40m),
        new(22, "plate-o-ring", "O-ring, pressure plate", "seal", "seal", true, 1, 1.30m),
        new(23, "ring-o-ring", "Square ring, thrust plate", "seal", "seal", true, 1, 1.20m, "kit-only"),
        new(24, "reservoir", "Reservoir", "housing", "external", false, 1, 15.00m),
        new(25, "reservoir-o-ring", "O-ring, reservoir to housing", "seal", "seal", true, 1, 1.60m),
        new(26, "stud-seal", "Seal washer, reservoir stud", "seal", "seal", true, 2, 0.90m, "kit-only"),
        new(27, "cap", "Reservoir cap", "hardware", "external", false, 1, 3.20m),
        new(28, "cap-gasket", "Gasket, reservoir cap", "seal", "external", false, 1, 0.80m),
        new(29, "drive", "Pulley", "hardware", "external", false, 1, 13.00m),
        new(30, "key", "Woodruff key", "hardware", "hardware", false, 1, 0.50m),
        new(31, "bolt", "Bracket bolt", "hardware", "external", false, 3, 0.55m),
        new(32, "magnet", "Chip magnet", "hardware", "hardware", false, 1, 0.70m),
        new(33, "screen", "Screen, valve sensing passage", "hardware", "valve", false, 1, 0.90m),
        new(34, "outer-seal", "Dust lip seal, drive side", "seal", "seal", true, 1, 4.20m),
        new(35, "needle", "Needle bearing, cover side", "hardware", "hardware", false, 1, 4.20m),
        new(36, "elbow", "Inlet elbow", "hardware", "external", false, 1, 4.80m),
        new(37, "elbow-o-ring", "O-ring, inlet elbow", "seal", "seal", true, 1, 1.00m),
    ];

    public static Place Of(string role) => All.First(place => place.Role == role);
}

// ---- the shop: what has been written so far, and the rules for numbers and prices ---------------------------------------------------

internal sealed class Shop
{
    public List<Part> Parts { get; } = [];
    public Dictionary<string, List<Content>> Contents { get; } = [];
    public List<(Part Old, Part New, int Quantity, string Rule)> Supersessions { get; } = [];
    public List<Variant> Variants { get; } = [];
    public List<Family> Families { get; } = [];
    public Dictionary<string, Sheet> Sheets { get; } = [];

    public Part this[string number] => Parts.Single(part => part.Number == number);

    public Sheet Sheet(string name, string header)
    {
        if (!Sheets.TryGetValue(name, out var sheet)) Sheets[name] = sheet = new(header);
        return sheet;
    }

    /// <summary>What the counter asks for a piece: small pieces carry more of the handling than large ones, to the next five cents.</summary>
    private static decimal PriceOf(string kind, decimal cost) =>
        Math.Ceiling(cost * kind switch { "seal" => 2.2m, "hardware" or "spring" => 2.0m, "assembly" => 1.45m, "tool" => 1.0m,
            _ => 1.65m } * 20) / 20;

    public Part Add(
        string number, string name, string kind, decimal cost, string service = "separate", PressureClass? pressure = null,
        string? tracking = null, int? leadDays = null, bool supplied = true, string unit = "pc")
    {
        cost = Math.Round(cost, 2, MidpointRounding.AwayFromZero);
        // Rubber ages and kits hold rubber, so both carry a lot; what is stamped with a serial is followed by it.
        tracking ??= kind switch { "kit" => "lot", "assembly" => "serial", "fluid" => "lot", _ => "bulk" };
        leadDays ??= kind switch { "seal" => 7, "kit" => 10, "assembly" => 28, "housing" or "valve" or "rotating" => 21, _ => 10 };
        var part = new Part(number, name, kind, service, pressure?.Code ?? "", tracking, unit, cost, PriceOf(kind, cost), leadDays.Value,
            supplied);
        Parts.Add(part);
        return part;
    }

    /// <summary>The family's own piece for a place on the parts list.</summary>
    /// <param name="alternative">0 for the first of its kind, 20 for the next, and so on: added to the running number.</param>
    public Part Piece(Family family, string role, string detail, int alternative = 0, decimal weight = 1m, string? service = null,
        string? name = null)
    {
        var place = Place.Of(role);
        name ??= role == "element" ? family.Element : place.Name;
        var full = detail.Length == 0 ? $"{name}, {family.Code}" : $"{name}, {family.Code}, {detail}";
        return Add(family.Number(Block(place.Kind), 100 + place.Position + alternative), full, place.Kind,
            place.Basis * family.Size * weight, service ?? place.Service);
    }

    /// <summary>A number of the older series, no longer made. Kept at nine tenths of today's cost: it was bought before the last rise.</summary>
    public Part Old(string number, string name, Part today, bool canBeUsedUp) =>
        Add(number, name, today.Kind, today.Cost * 0.9m, canBeUsedUp ? "separate" : "none",
            PressureClass.All.FirstOrDefault(c => c.Code == today.Class), today.Tracking, today.LeadDays, supplied: false);

    public void Supersede(Part old, string rule, params (Part Part, int Quantity)[] by)
    {
        foreach (var (part, quantity) in by) Supersessions.Add((old, part, quantity, rule));
    }

    /// <summary>A pack costs a part of what its pieces cost one by one: packing, matching and volume are already in the factor.</summary>
    public Part Pack(string number, string name, string kind, decimal factor, PressureClass? pressure, params (Part Part,
        int Quantity)[] contents)
    {
        var cost = contents.Sum(content => PiecesCost(content.Part) * content.Quantity) * factor;
        var pack = Add(number, name, kind, cost, pressure: pressure);
        Contents[number] = [.. contents.Select(content => new Content(content.Part, content.Quantity))];
        return pack;
    }

    private decimal PiecesCost(Part part) => Contents.TryGetValue(part.Number, out var inside)
        ? inside.Sum(content => PiecesCost(content.Part) * content.Quantity)
        : part.Cost;

    public static int Block(string kind) => kind switch
    {
        "seal" => 1, "rotating" => 2, "plate" => 3, "spring" => 4, "valve" => 5, "housing" => 6, "hardware" => 7, "kit" => 8,
            "assembly" => 9,
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "No block for this kind."),
    };

    public void Write(string folder)
    {
        WriteCatalogue();
        foreach (var (name, sheet) in Sheets) File.WriteAllText(Path.Combine(folder, name + ".csv"), sheet.ToString(),
            new UTF8Encoding(false));
    }

    private void WriteCatalogue()
    {
        var classes = Sheet("pressure-classes", "code,name,relief_kpa,minus_kpa,plus_kpa");
        foreach (var c in PressureClass.All) classes.Row(c.Code, c.Name, c.ReliefKpa, c.MinusKpa, c.PlusKpa);

        var families = Sheet("families", "code,name,displacement_cc,valve_fit,bore_mm,clearance_min_um,clearance_target_um,clearance_max_um,"
            + "form_limit_um,land_length_mm,housing_material,valve_material");
        foreach (var f in Families)
            families.Row(f.Code, f.Name, f.Cc, f.Selective ? "selective" : "interchangeable", f.BoreMm, f.MinUm, f.TargetUm, f.MaxUm,
                f.FormUm,
                f.LandMm, f.HousingMetal, "steel");

        var parts = Sheet("parts", "number,name,kind,service,pressure_class,tracking,unit,cost,price,lead_days,supplied");
        foreach (var p in Parts)
            parts.Row(p.Number, p.Name, p.Kind, p.Service, p.Class, p.Tracking, p.Unit, new Money(p.Cost), new Money(p.Price), p.LeadDays,
                p.Supplied ? "yes" : "no");

        var contents = Sheet("contents", "pack,part,quantity");
        foreach (var (pack, inside) in Contents)
            foreach (var content in inside) contents.Row(pack, content.Part.Number, content.Quantity);

        var supersessions = Sheet("supersessions", "old,new,quantity,rule");
        foreach (var (old, by, quantity, rule) in Supersessions) supersessions.Row(old.Number, by.Number, quantity, rule);

        var variants = Sheet("variants", "code,family,pressure_class,built_from,built_to,serial_from,serial_to,rotation,note");
        var positions = Sheet("positions", "variant,position,name,part,quantity,group,renew");
        var features = Sheet("features", "variant,feature,value");
        foreach (var v in Variants)
        {
            variants.Row(v.Code, v.Family.Code, v.Class.Code, v.BuiltFrom, v.BuiltTo, v.SerialFrom, v.SerialTo, v.Rotation, v.Note);
            foreach (var place in Place.All)
                if (v.Parts.TryGetValue(place.Role, out var part))
                    positions.Row(v.Code, place.Position, NameOf(v.Family, place), part.Number, QuantityOf(place, part), place.Group,
                        place.Always ? "always" : "if-worn");
            foreach (var (feature, value) in v.Seen) features.Row(v.Code, feature, value);
        }
    }

    private static string NameOf(Family family, Place place) => place.Role switch
    {
        "element" => family.Element,
        "drive" when family.Code == "OM45" => "Drive coupling",
        "bush" when family.Code == "OM45" => "Ball bearing, drive side",
        _ => place.Name,
    };

    /// <summary>An old set number stands for all its pieces, so the parts list that names it asks for one.</summary>
    private static int QuantityOf(Place place, Part part) => part.Unit == "set" ? 1 : place.Quantity;
}

/// <summary>An amount that is written with its two decimals.</summary>
internal readonly record struct Money(decimal Amount);

/// <summary>One file: UTF-8, RFC 4180, line feeds.</summary>
internal sealed class Sheet(string header)
{
    private readonly StringBuilder _text = new(header + "\n");

    public void Row(params object[] cells) => _text.AppendJoin(',', cells.Select(Cell)).Append('\n');

    private static string Cell(object cell)
    {
        var text = cell is Money money ? money.Amount.ToString("0.00", CultureInfo.InvariantCulture) : Convert.ToString(cell,
            CultureInfo.InvariantCulture) ?? "";
        return text.AsSpan().ContainsAny(",\"\n") || text != text.Trim() ? $"\"{text.Replace("\"", "\"\"", StringComparison.Ordinal)}\"" : text;
    }

    public override string ToString() => _text.ToString();
}

/// <summary>What several families do alike: valves per class, the usual kits and assemblies, and the looks that identify a variant.</summary>
internal static class Trade
{
    /// <summary>The valve's relief spring and shims make the class; in a selective family the maker grinds it to its bore and sells it only there.</summary>
    public static Part Valve(Shop shop, Family family, PressureClass pressure) =>
        shop.Add(family.Number(5, pressure.Bar), $"Flow-control valve with relief, {family.Code}, {pressure.Bar} bar", "valve",
            Place.Of("valve").Basis * family.Size * (1 + (pressure.Bar - 70) * 0.003m), family.Selective ? "assembly-only" : "separate",
                pressure,
            family.Selective ? "serial" : "bulk");

    public static (Part Part, int Quantity) One(Part part) => (part, 1);

    /// <summary>Ring, rotor and twelve elements of one rotation.</summary>
    public static Part RotatingKit(Shop shop, Family family, Dictionary<string, Part> parts, string rotation) =>
        shop.Pack(family.Number(8, rotation == "cw" ? 105 : 125),
            $"Rotating-element kit, {family.Code}, {Hand(rotation)} (ring, rotor, 12 {family.Element.ToLowerInvariant()}s, matched)", "kit",
            0.94m, null, One(parts["ring"]), One(parts["rotor"]), (parts["element"], 12));

    public static string Hand(string rotation) => rotation == "cw" ? "right hand" : "left hand";

    /// <summary>A housing with the valve that was ground to it, plugged and ready: all a selective family offers for a worn valve.</summary>
    public static Part MatchedHousing(Shop shop, Family family, Dictionary<string, Part> parts, PressureClass pressure, Part valve,
        decimal factor)
    {
        var inside = new List<(Part, int)> { One(parts["housing"]), One(parts["bush"]), One(valve) };
        foreach (var role in new[] { "valve-spring", "screen", "plug", "plug-o-ring" }) inside.Add(One(parts[role]));
        return shop.Pack(family.Number(9, pressure.Bar), $"Housing with matched valve, {family.Code}, {pressure.Bar} bar", "assembly",
            factor, pressure,
            [.. inside]);
    }

    /// <summary>The usual next size up: everything but reservoir, pulley and what bolts on outside.</summary>
    public static Part LessReservoir(
        Shop shop, Family family, Dictionary<string, Part> parts, PressureClass pressure, string rotation, decimal factor,
            params Part[] packs)
    {
        var covered = new HashSet<string>(packs.SelectMany(pack => Leaves(shop, pack)));
        var loose = Place.All.Where(place => place.Group != "external" && parts.TryGetValue(place.Role,
            out var part) && !covered.Contains(part.Number))
            .Select(place => (parts[place.Role], place.Quantity));
        return shop.Pack(family.Number(9, pressure.Bar + (rotation == "cw" ? 200 : 300)),
            $"Pump less reservoir and pulley, {family.Code}, {pressure.Bar} bar, {Hand(rotation)}", "assembly", factor,
            pressure, [.. packs.Select(One), .. loose]);
    }

    private static IEnumerable<string> Leaves(Shop shop, Part part) => shop.Contents.TryGetValue(part.Number, out var inside)
        ? inside.SelectMany(content => Leaves(shop, content.Part))
        : [part.Number];

    /// <summary>What can be seen, measured or felt on the pump. A value that a lost tag would take with it is given all the same.</summary>
    public static Dictionary<string, string> Looks(
        Family family, PressureClass pressure, string rotation, string slots, string plate, string tag) => new()
        {
            ["reservoir"] = family.Code is "VR20" or "VS30" ? "on the pump" : "remote",
            ["housing-metal"] = family.Aluminium ? "aluminium" : "iron",
            ["drive"] = family.Code == "OM45" ? "coupling" : "pulley",
            ["mount-ears"] = family.Code switch { "OM45" => "4", "PA15" => "2", _ => "3" },
            ["arrow"] = Hand(rotation),
            ["tag-letter"] = tag,
            ["outlet-thread"] = family.Code switch { "OM45" => "M22 x 1.5", "PA15" => "M14 x 1.5", _ => "M18 x 1.5" },
            ["shaft-slots"] = slots,
            ["spring-dot"] = pressure.Dot,
            ["plate-outline"] = plate,
            ["elements"] = family.Element == "Roller" ? "rollers" : "vanes",
        };

    public static Dictionary<string, Part> With(this Dictionary<string, Part> parts, params (string Role, Part Part)[] changes)
    {
        var changed = new Dictionary<string, Part>(parts);
        foreach (var (role, part) in changes) changed[role] = part;
        return changed;
    }
}

// ---- the four families ------------------------------------------------------------------------------------------------------------

/// <summary>
/// VR20, Veltrask's 20 cc roller pump: the oldest and commonest, cast iron, valve interchangeable.
/// Production change of July 2009, 55 bar only: the round pressure plate became one with two flats, with it its O-ring and spring.
/// </summary>
internal static class Roller20
{
    public static Family Build(Shop shop)
    {
        var family = new Family("VR20", "Veltrask R20 roller pump, 20 cc", "Veltrask", 19.8m, false, 15.875m, 8, 16, 28, 4, 9.5m,
            "cast iron",
            "Roller", 1.00m, (block, running) => $"020-{block}{running:000}");
        shop.Families.Add(family);
        Part P(string role, string detail = "", int alternative = 0, decimal weight = 1m, string? service = null) =>
            shop.Piece(family, role, detail, alternative, weight, service);

        var unionRing = Commons.UnionRing(shop);
        var parts = new Dictionary<string, Part>
        {
            ["housing"] = P("housing", "three ears"), ["shaft"] = P("shaft", "keyed taper"), ["bush"] = P("bush", "19.05 mm"),
            ["shaft-seal"] = P("shaft-seal", "19 x 32 x 7 mm"), ["ring"] = P("ring", "right hand"), ["rotor"] = P("rotor", "twelve slots"),
            ["element"] = P("element", "7.94 x 16 mm"), ["pressure-plate"] = P("pressure-plate", "two flats", 20),
            ["thrust-plate"] = P("thrust-plate"), ["dowel"] = P("dowel", "5 x 32 mm"), ["plate-spring"] = P("plate-spring", "straight", 20),
            ["end-cover"] = P("end-cover"), ["cover-ring"] = P("cover-ring", "78 mm"), ["rotor-ring"] = P("rotor-ring"),
            ["valve-spring"] = P("valve-spring"), ["plug"] = P("plug", "M24 x 1.5"), ["plug-o-ring"] = P("plug-o-ring", "20.3 x 2.4 mm"),
            ["union"] = P("union", "M18 x 1.5"), ["union-o-ring"] = unionRing, ["cover-o-ring"] = P("cover-o-ring", "72.7 x 2.6 mm"),
            ["plate-o-ring"] = P("plate-o-ring", "65.1 x 2.6 mm, for two flats", 20), ["ring-o-ring"] = P("ring-o-ring", "68 x 3 mm"),
            ["reservoir"] = P("reservoir", "0.9 l, steel, filler left"), ["reservoir-o-ring"] = P("reservoir-o-ring", "94.6 x 3.5 mm"),
            ["stud-seal"] = P("stud-seal", "8 mm"), ["cap"] = P("cap", "with dipstick"), ["cap-gasket"] = P("cap-gasket", "34 mm"),
            ["drive"] = P("drive", "V-belt, 128 mm"), ["key"] = P("key", "4 x 6.5 mm"), ["bolt"] = P("bolt", "M8 x 30"),
                ["magnet"] = P("magnet"),
            ["screen"] = P("screen"),
        };
        // What only the early 55 bar pump has. Its conical spring is out of production and the shelf is empty: nothing replaces it.
        var roundPlate = P("pressure-plate", "round");
        var roundRing = P("plate-o-ring", "63.2 x 2.6 mm, for round plate");
        var conical = shop.Add(family.Number(4, 11), "Pressure plate spring, VR20, conical, early 55 bar", "spring", 1.65m,
            supplied: false);
        var reservoirRight = shop.Add(family.Number(6, 144), "Reservoir, VR20, 1.3 l, steel, filler right", "housing", 17.40m);
        var reservoirMarine = shop.Add(family.Number(6, 164), "Reservoir, VR20, 0.9 l, plastic, marine", "housing", 16.10m);
        var pulley140 = shop.Add(family.Number(7, 149), "Pulley, VR20, V-belt, 140 mm", "hardware", 13.90m);
        var pulleyRibbed = shop.Add(family.Number(7, 169), "Pulley, VR20, six ribs, 125 mm", "hardware", 15.60m);

        var valves = new[] { PressureClass.P055, PressureClass.P070, PressureClass.P085 }
            .ToDictionary(c => c, c => Trade.Valve(shop, family, c));

        // Sealed packages. The early kit differs in one ring only, and so does the answer when one kit is out and the other is not.
        Part Reseal(int running, string which, Part plateRing) => shop.Pack(family.Number(8, running), $"Reseal kit, VR20, {which}", "kit",
            0.72m, null,
            Trade.One(parts["shaft-seal"]), Trade.One(parts["plug-o-ring"]), Trade.One(unionRing), Trade.One(parts["cover-o-ring"]),
            Trade.One(plateRing), Trade.One(parts["ring-o-ring"]));
        var resealRound = Reseal(101, "round plate", roundRing);
        var reseal = Reseal(121, "two-flat plate", parts["plate-o-ring"]);
        var reservoirSeals = shop.Pack(family.Number(8, 102), "Reservoir seal kit, VR20", "kit", 0.80m, null,
            Trade.One(parts["reservoir-o-ring"]),
            (parts["stud-seal"], 2), Trade.One(unionRing), Trade.One(parts["cap-gasket"]));
        var master = shop.Pack(family.Number(8, 123), "Master seal kit, VR20, two-flat plate", "kit", 0.68m, null, Trade.One(reseal),
            Trade.One(reservoirSeals));
        shop.Pack(family.Number(8, 104), "Shaft seal kit, VR20", "kit", 0.90m, null, Trade.One(parts["shaft-seal"]),
            Trade.One(parts["key"]));
        var leftRing = P("ring", "left hand", 20);
        var rotating = Trade.RotatingKit(shop, family, parts, "cw");
        var rotatingLeft = Trade.RotatingKit(shop, family, parts.With(("ring", leftRing)), "ccw");
        var hardware = shop.Pack(family.Number(8, 106), "Hardware pack, VR20", "kit", 0.85m, null, (parts["dowel"], 2),
            Trade.One(parts["plate-spring"]), Trade.One(parts["cover-ring"]), Trade.One(parts["key"]), Trade.One(parts["rotor-ring"]));
        shop.Pack(family.Number(8, 108), "Overhaul kit, VR20, two-flat plate", "kit", 0.80m, null, Trade.One(master), Trade.One(rotating),
            Trade.One(hardware), Trade.One(parts["bush"]));
        foreach (var (pressure, valve) in valves)
            shop.Pack(family.Number(8, 100 + pressure.Bar), $"Valve kit, VR20, {pressure.Bar} bar", "kit", 0.88m, pressure,
                Trade.One(valve),
                Trade.One(parts["valve-spring"]), Trade.One(parts["plug-o-ring"]), Trade.One(parts["screen"]));

        // Volume classes run down the maker's line and are sold low; the 85 bar pump is built to order.
        Part Assembly(PressureClass pressure, string rotation, decimal factor) => Trade.LessReservoir(shop, family,
            parts.With(("valve", valves[pressure]), ("ring", rotation == "cw" ? parts["ring"] : leftRing)), pressure, rotation, factor,
            reseal, rotation == "cw" ? rotating : rotatingLeft, reservoirSeals);
        var small = Assembly(PressureClass.P055, "cw", 0.62m);
        var right = Assembly(PressureClass.P070, "cw", 0.70m);
        Assembly(PressureClass.P070, "ccw", 0.74m);
        Assembly(PressureClass.P085, "cw", 0.86m);
        foreach (var (pump, pressure) in new[] { (small, PressureClass.P055), (right, PressureClass.P070) })
            shop.Pack(family.Number(9, pressure.Bar + 400), $"Complete pump with reservoir, VR20, {pressure.Bar} bar, right hand",
                "assembly", 0.66m,
                pressure, Trade.One(pump), Trade.One(parts["reservoir"]), Trade.One(parts["cap"]), Trade.One(parts["cap-gasket"]));

        // Three shaft seals, one after the other: two of them gone for good, the last still to be used up.
        var seal1 = shop.Old(family.Number(1, 4), "Shaft seal, VR20, leather backed", parts["shaft-seal"], false);
        var seal2 = shop.Old(family.Number(1, 14), "Shaft seal, VR20, first rubber", parts["shaft-seal"], false);
        var seal3 = shop.Old(family.Number(1, 24), "Shaft seal, VR20, nitrile", parts["shaft-seal"], true);
        shop.Supersede(seal1, "replace", (seal2, 1));
        shop.Supersede(seal2, "replace", (seal3, 1));
        shop.Supersede(seal3, "use-up", (parts["shaft-seal"], 1));
        // One set of bracket bolts became three bolts, and each bolt later a stronger bolt with a washer.
        var strongBolt = shop.Add(family.Number(7, 151), "Bracket bolt, VR20, M8 x 30, class 10.9", "hardware", 0.62m);
        var boltSet = shop.Add(family.Number(7, 31), "Bracket bolt set, VR20 (three bolts)", "hardware", 1.50m, "none", supplied: false,
            unit: "set");
        shop.Supersede(boltSet, "replace", (parts["bolt"], 3));
        shop.Supersede(parts["bolt"], "replace", (strongBolt, 1), (Commons.Washer8(shop), 1));
        shop.Parts[shop.Parts.IndexOf(parts["bolt"])] = parts["bolt"] = parts["bolt"] with { Service = "none", Supplied = false };
        var unionOld = shop.Old(family.Number(1, 20), "O-ring, outlet union, VR20", unionRing, false);
        shop.Supersede(unionOld, "replace", (unionRing, 1));
        var pulleyOld = shop.Old(family.Number(7, 29), "Pulley, VR20, V-belt, 128 mm, cast", parts["drive"], false);
        shop.Supersede(pulleyOld, "replace", (parts["drive"], 1));
        var kitOld = shop.Old(family.Number(8, 1), "Reseal kit, VR20, round plate, first issue", resealRound, true);
        shop.Contents[kitOld.Number] = [.. shop.Contents[resealRound.Number]];
        shop.Supersede(kitOld, "use-up", (resealRound, 1));
        var pumpOld = shop.Old(family.Number(9, 15), "Pump less reservoir and pulley, VR20, 55 bar, round plate", small, false);
        shop.Supersede(pumpOld, "replace", (small, 1));

        void Variant(PressureClass pressure, string rotation, string series, string from, string to, string serialFrom, string serialTo,
            string note, string plate, string tag, params (string, Part)[] changes) => shop.Variants.Add(new(
                family, pressure, rotation, series, from, to, serialFrom, serialTo, note, parts.With(
                [("valve", valves[pressure]), ("ring", rotation == "cw" ? parts["ring"] : leftRing), .. changes]),
            Trade.Looks(family, pressure, rotation, "none", plate, tag)));
        Variant(PressureClass.P055, "cw", "1", "1998-01", "2009-06", "A10001", "A59999", "Round pressure plate", "round", "A",
            ("shaft-seal", seal1), ("pressure-plate", roundPlate), ("plate-o-ring", roundRing), ("plate-spring", conical), ("bolt", boltSet),
            ("union-o-ring", unionOld), ("drive", pulleyOld));
        Variant(PressureClass.P055, "cw", "2", "2009-07", "", "B10001", "B99999", "Pressure plate with two flats", "two flats", "B");
        Variant(PressureClass.P070, "cw", "", "1998-01", "", "C10001", "C99999", "", "two flats", "C", ("shaft-seal", seal3),
            ("union-o-ring", unionOld));
        Variant(PressureClass.P070, "ccw", "", "2001-04", "", "D10001", "D49999", "Left hand, for the port engine of twins", "two flats",
            "D",
            ("shaft-seal", seal3), ("drive", pulley140), ("reservoir", reservoirMarine));
        Variant(PressureClass.P085, "cw", "", "2004-09", "", "E10001", "E39999", "For loaders and front axles with ballast", "two flats",
            "E",
            ("drive", pulleyRibbed), ("reservoir", reservoirRight));
        return family;
    }
}

/// <summary>
/// VS30, Veltrask's 30 cc vane pump: cast iron, valve ground to its bore.
/// Production change of October 2012, 70 bar only: the drive end of the shaft went from two slots to four, with a new pulley hub.
/// </summary>
internal static class Vane30
{
    public static Family Build(Shop shop)
    {
        var family = new Family("VS30", "Veltrask S30 vane pump, 30 cc", "Veltrask", 29.6m, true, 15.875m, 8, 14, 20, 3, 11.0m, "cast iron",
            "Vane", 1.20m, (block, running) => $"030-{block}{running:000}");
        shop.Families.Add(family);
        Part P(string role, string detail = "", int alternative = 0, decimal weight = 1m, string? service = null) =>
            shop.Piece(family, role, detail, alternative, weight, service);

        var unionRing = Commons.UnionRing(shop);
        var parts = new Dictionary<string, Part>
        {
            ["housing"] = P("housing", "three ears", service: "assembly-only"), ["shaft"] = P("shaft", "four slots"), ["bush"] = P("bush",
                "20 mm"),
            ["shaft-seal"] = P("shaft-seal", "20 x 35 x 7 mm"), ["ring"] = P("ring", "right hand"), ["rotor"] = P("rotor", "twelve slots"),
            ["element"] = P("element", "2 x 9 x 18 mm"), ["pressure-plate"] = P("pressure-plate"), ["thrust-plate"] = P("thrust-plate"),
            ["dowel"] = P("dowel", "5 x 36 mm"), ["plate-spring"] = P("plate-spring"), ["end-cover"] = P("end-cover"),
            ["cover-ring"] = P("cover-ring", "84 mm"), ["rotor-ring"] = P("rotor-ring", "flat wire"), ["valve-spring"] = P("valve-spring"),
            ["plug"] = P("plug", "M24 x 1.5"), ["plug-o-ring"] = P("plug-o-ring", "20.3 x 2.6 mm"), ["union"] = P("union", "M18 x 1.5"),
            ["union-o-ring"] = unionRing, ["cover-o-ring"] = P("cover-o-ring", "78.1 x 2.6 mm"), ["plate-o-ring"] = P("plate-o-ring",
                "69.5 x 2.6 mm"),
            ["ring-o-ring"] = P("ring-o-ring", "73 x 3 mm"), ["reservoir"] = P("reservoir", "1.1 l, steel"),
            ["reservoir-o-ring"] = P("reservoir-o-ring", "101 x 3.5 mm"), ["stud-seal"] = P("stud-seal", "8 mm, bonded"),
                ["cap"] = P("cap", "bayonet"),
            ["cap-gasket"] = P("cap-gasket", "38 mm"), ["drive"] = P("drive", "six ribs, 132 mm, hub for four slots"), ["key"] = P("key",
                "5 x 7.5 mm"),
            ["bolt"] = P("bolt", "M10 x 35"), ["magnet"] = P("magnet"), ["screen"] = P("screen"),
        };
        var wedge = shop.Add(family.Number(2, 134), "Backing washer, rotor retaining ring, VS30", "hardware", 0.36m);
        // The early shaft is out of production, the last one is sold, and the later one does not drive the early hub.
        var twoSlots = shop.Add(family.Number(2, 2), "Drive shaft, VS30, two slots", "rotating", 16.20m, supplied: false);
        var twoSlotPulley = shop.Add(family.Number(7, 9), "Pulley, VS30, V-belt, 132 mm, hub for two slots", "hardware", 14.80m);
        var pulleyLarge = shop.Add(family.Number(7, 149), "Pulley, VS30, eight ribs, 140 mm, hub for four slots", "hardware", 18.20m);
        var reservoirMarine = shop.Add(family.Number(6, 144), "Reservoir, VS30, 1.1 l, stainless, marine", "housing", 31.50m);
        var reservoirLarge = shop.Add(family.Number(6, 164), "Reservoir, VS30, 1.6 l, steel", "housing", 20.70m);

        var valves = new[] { PressureClass.P070, PressureClass.P085, PressureClass.P105 }.ToDictionary(c => c, c => Trade.Valve(shop, family, c));

        // The two sealed packages overlap in the union O-ring: buying both leaves one over, and there is no larger one.
        var reseal = shop.Pack(family.Number(8, 101), "Reseal kit, VS30", "kit", 0.72m, null, Trade.One(parts["shaft-seal"]),
            Trade.One(parts["plug-o-ring"]), Trade.One(unionRing), Trade.One(parts["cover-o-ring"]), Trade.One(parts["plate-o-ring"]),
            Trade.One(parts["ring-o-ring"]));
        var reservoirSeals = shop.Pack(family.Number(8, 102), "Reservoir seal kit, VS30", "kit", 0.80m, null,
            Trade.One(parts["reservoir-o-ring"]),
            (parts["stud-seal"], 2), Trade.One(unionRing), Trade.One(parts["cap-gasket"]));
        shop.Pack(family.Number(8, 104), "Shaft seal kit, VS30", "kit", 0.90m, null, Trade.One(parts["shaft-seal"]),
            Trade.One(parts["key"]));
        var leftRing = P("ring", "left hand", 20);
        var rotating = Trade.RotatingKit(shop, family, parts, "cw");
        var rotatingLeft = Trade.RotatingKit(shop, family, parts.With(("ring", leftRing)), "ccw");
        shop.Pack(family.Number(8, 106), "Hardware pack, VS30", "kit", 0.97m, null, (parts["dowel"], 2), Trade.One(parts["plate-spring"]),
            Trade.One(parts["cover-ring"]), Trade.One(parts["rotor-ring"]));
        shop.Pack(family.Number(8, 109), "Plate kit, VS30 (both plates and their rings)", "kit", 0.88m, null,
            Trade.One(parts["pressure-plate"]),
            Trade.One(parts["thrust-plate"]), Trade.One(parts["plate-o-ring"]), Trade.One(parts["ring-o-ring"]));

        var matched = valves.ToDictionary(pair => pair.Key, pair => Trade.MatchedHousing(shop, family, parts, pair.Key, pair.Value, 0.90m));
        Part Assembly(PressureClass pressure, string rotation, decimal factor) => Trade.LessReservoir(shop, family,
            parts.With(("valve", valves[pressure]), ("ring", rotation == "cw" ? parts["ring"] : leftRing)), pressure, rotation, factor,
            matched[pressure], reseal, rotation == "cw" ? rotating : rotatingLeft, reservoirSeals);
        var ordinary = Assembly(PressureClass.P070, "cw", 0.78m);
        // 85 bar right hand is the maker's volume pump: cheaper whole than rebuilt from its parts.
        var volume = Assembly(PressureClass.P085, "cw", 0.62m);
        Assembly(PressureClass.P085, "ccw", 0.80m);
        Assembly(PressureClass.P105, "cw", 0.88m);
        shop.Pack(family.Number(9, 485), "Complete pump with reservoir, VS30, 85 bar, right hand", "assembly", 0.66m, PressureClass.P085,
            Trade.One(volume), Trade.One(parts["reservoir"]), Trade.One(parts["cap"]), Trade.One(parts["cap-gasket"]));

        // The plain rotor ring became a flat one with a washer behind it: two pieces for one.
        var plainRing = shop.Old(family.Number(2, 14), "Rotor retaining ring, VS30, round wire", parts["rotor-ring"], false);
        shop.Supersede(plainRing, "replace", (parts["rotor-ring"], 1), (wedge, 1));
        var coverRingOld = shop.Old(family.Number(7, 13), "End cover retaining ring, VS30, 84 mm, unplated", parts["cover-ring"], true);
        shop.Supersede(coverRingOld, "use-up", (parts["cover-ring"], 1));
        var dowelOld = shop.Old(family.Number(7, 10), "Locating dowel, VS30, 5 x 36 mm, plain end", parts["dowel"], true);
        shop.Supersede(dowelOld, "use-up", (parts["dowel"], 1));
        var unionOld = shop.Old(family.Number(1, 20), "O-ring, outlet union, VS30", unionRing, false);
        shop.Supersede(unionOld, "replace", (unionRing, 1));
        var kitOld = shop.Old(family.Number(8, 1), "Reseal kit, VS30, first issue", reseal, false);
        shop.Supersede(kitOld, "replace", (reseal, 1));
        // A whole early pump is replaced by a later one and the pulley its shaft wants: a set again.
        var pumpOld = shop.Old(family.Number(9, 20), "Pump less reservoir and pulley, VS30, 70 bar, two slots", ordinary, false);
        shop.Supersede(pumpOld, "replace", (ordinary, 1), (parts["drive"], 1));

        void Variant(PressureClass pressure, string rotation, string series, string from, string to, string serialFrom, string serialTo,
            string note, string slots, string tag, params (string, Part)[] changes) => shop.Variants.Add(new(
                family, pressure, rotation, series, from, to, serialFrom, serialTo, note, parts.With(
                [("valve", valves[pressure]), ("ring", rotation == "cw" ? parts["ring"] : leftRing), .. changes]),
            Trade.Looks(family, pressure, rotation, slots, "round", tag)));
        Variant(PressureClass.P070, "cw", "1", "2003-03", "2012-09", "30A0001", "30A7480", "Shaft with two slots", "2", "F", ("shaft", twoSlots),
            ("drive", twoSlotPulley), ("rotor-ring", plainRing), ("cover-ring", coverRingOld), ("dowel", dowelOld), ("union-o-ring", unionOld));
        Variant(PressureClass.P070, "cw", "2", "2012-10", "", "30B0001", "30B9999", "Shaft with four slots", "4", "G");
        Variant(PressureClass.P085, "cw", "", "2005-06", "", "30C0001", "30C9999", "", "4", "H");
        Variant(PressureClass.P085, "ccw", "", "2006-02", "", "30D0001", "30D4999", "Left hand", "4", "J", ("drive", pulleyLarge),
            ("reservoir", reservoirMarine));
        Variant(PressureClass.P105, "cw", "", "2008-11", "", "30E0001", "30E4999", "With auxiliary outlet in use", "4", "K", ("drive", pulleyLarge), ("reservoir", reservoirLarge));
        return family;
    }
}

/// <summary>
/// OM45, Oskimar's 45 cc vane pump for buses and heavy boats: cast iron, gear driven through a coupling, remote reservoir, two shaft
/// seals, ball and needle bearings. Valve ground to its bore; a seized one means a matched housing.
/// </summary>
internal static class Heavy45
{
    public static Family Build(Shop shop)
    {
        var family = new Family("OM45", "Oskimar M45 vane pump, 45 cc", "Oskimar", 44.8m, true, 19.05m, 10, 17, 24, 4, 14.0m, "cast iron",
            "Vane", 1.76m, (block, running) => $"45.{block}.{running:000}");
        shop.Families.Add(family);
        Part P(string role, string detail = "", int alternative = 0, decimal weight = 1m, string? service = null, string? name = null) =>
            shop.Piece(family, role, detail, alternative, weight, service, name);

        var parts = new Dictionary<string, Part>
        {
            ["housing"] = P("housing", "four ears", service: "assembly-only"), ["shaft"] = P("shaft", "splined, tang end"),
            ["bush"] = P("bush", "25 x 52 x 15 mm", weight: 2.6m, name: "Ball bearing, drive side"),
            ["shaft-seal"] = P("shaft-seal", "25 x 42 x 8 mm"), ["ring"] = P("ring", "right hand"), ["rotor"] = P("rotor", "twelve slots"),
            ["element"] = P("element", "2.5 x 11 x 24 mm"), ["pressure-plate"] = P("pressure-plate", "bronze faced"),
                ["thrust-plate"] = P("thrust-plate"),
            ["dowel"] = P("dowel", "6 x 44 mm"), ["plate-spring"] = P("plate-spring"), ["end-cover"] = P("end-cover", "ribbed"),
            ["cover-ring"] = P("cover-ring", "104 mm"), ["rotor-ring"] = P("rotor-ring"), ["valve-spring"] = P("valve-spring"),
            ["plug"] = P("plug", "M30 x 1.5"), ["plug-o-ring"] = P("plug-o-ring", "26.2 x 3 mm"), ["union"] = P("union", "M22 x 1.5"),
            ["union-o-ring"] = P("union-o-ring", "19.3 x 2.4 mm"), ["cover-o-ring"] = P("cover-o-ring", "97.8 x 3.5 mm"),
            ["plate-o-ring"] = P("plate-o-ring", "86.6 x 3.5 mm", service: "kit-only"), ["ring-o-ring"] = P("ring-o-ring", "91 x 3.5 mm"),
            ["drive"] = P("drive", "three dogs", name: "Drive coupling"), ["key"] = P("key", "6 x 9 mm"), ["bolt"] = P("bolt", "M12 x 40"),
            ["magnet"] = P("magnet"), ["screen"] = P("screen"), ["outer-seal"] = P("outer-seal", "25 x 47 x 7 mm"),
                ["needle"] = P("needle", "18 x 24 x 16 mm"),
            ["elbow"] = P("elbow", "32 mm hose"), ["elbow-o-ring"] = P("elbow-o-ring", "34.2 x 3 mm"),
        };
        var elbowLarge = shop.Add(family.Number(7, 156), "Inlet elbow, OM45, 38 mm hose", "hardware", 9.60m);
        var longCoupling = shop.Add(family.Number(7, 149), "Drive coupling, OM45, three dogs, long", "hardware", 26.40m);

        var valves = new[] { PressureClass.P085, PressureClass.P105 }.ToDictionary(c => c, c => Trade.Valve(shop, family, c));

        // The elbow's O-ring came later and never got into the reseal kit: alone it is cheap, the port seal kit that has it is not.
        var reseal = shop.Pack(family.Number(8, 101), "Reseal kit, OM45", "kit", 0.74m, null, Trade.One(parts["shaft-seal"]),
            Trade.One(parts["outer-seal"]), Trade.One(parts["plug-o-ring"]), Trade.One(parts["union-o-ring"]),
                Trade.One(parts["cover-o-ring"]),
            Trade.One(parts["plate-o-ring"]), Trade.One(parts["ring-o-ring"]));
        var ports = shop.Pack(family.Number(8, 110), "Port seal kit, OM45", "kit", 0.95m, null, Trade.One(parts["elbow-o-ring"]),
            Trade.One(parts["union-o-ring"]), Trade.One(parts["plug-o-ring"]));
        var shaftSeals = shop.Pack(family.Number(8, 104), "Shaft seal kit, OM45 (both seals)", "kit", 0.88m, null,
            Trade.One(parts["shaft-seal"]),
            Trade.One(parts["outer-seal"]));
        var leftRing = P("ring", "left hand", 20);
        var rotating = Trade.RotatingKit(shop, family, parts, "cw");
        var rotatingLeft = Trade.RotatingKit(shop, family, parts.With(("ring", leftRing)), "ccw");
        shop.Pack(family.Number(8, 111), "Bearing kit, OM45", "kit", 0.90m, null, Trade.One(parts["bush"]), Trade.One(parts["needle"]),
            Trade.One(shaftSeals));
        shop.Pack(family.Number(8, 106), "Hardware pack, OM45", "kit", 0.86m, null, (parts["dowel"], 2), Trade.One(parts["plate-spring"]),
            Trade.One(parts["cover-ring"]), Trade.One(parts["rotor-ring"]), Trade.One(parts["key"]), Trade.One(parts["magnet"]));
        shop.Pack(family.Number(8, 109), "Plate kit, OM45", "kit", 0.90m, null, Trade.One(parts["pressure-plate"]),
            Trade.One(parts["thrust-plate"]),
            Trade.One(parts["plate-o-ring"]), Trade.One(parts["ring-o-ring"]));

        var matched = valves.ToDictionary(pair => pair.Key, pair => Trade.MatchedHousing(shop, family, parts, pair.Key, pair.Value, 0.88m));
        Part Assembly(PressureClass pressure, string rotation, decimal factor) => Trade.LessReservoir(shop, family,
            parts.With(("valve", valves[pressure]), ("ring", rotation == "cw" ? parts["ring"] : leftRing)), pressure, rotation, factor,
            matched[pressure], reseal, rotation == "cw" ? rotating : rotatingLeft, ports);
        Assembly(PressureClass.P085, "cw", 0.84m);
        Assembly(PressureClass.P085, "ccw", 0.86m);
        Assembly(PressureClass.P105, "cw", 0.82m);
        Assembly(PressureClass.P105, "ccw", 0.86m);

        var plateOld = shop.Old(family.Number(3, 8), "Pressure plate, OM45, plain iron", parts["pressure-plate"], false);
        shop.Supersede(plateOld, "replace", (parts["pressure-plate"], 1));
        var couplingOld = shop.Old(family.Number(7, 29), "Drive coupling, OM45, two dogs with adapter", parts["drive"], true);
        shop.Supersede(couplingOld, "use-up", (parts["drive"], 1));
        var needleOld = shop.Old(family.Number(7, 35), "Needle bearing, OM45, full complement", parts["needle"], false);
        shop.Supersede(needleOld, "replace", (parts["needle"], 1));
        var kitOld = shop.Old(family.Number(8, 1), "Reseal kit, OM45, without dust lip seal", reseal, false);
        shop.Supersede(kitOld, "replace", (reseal, 1));

        void Variant(PressureClass pressure, string rotation, string from, string to, string serialFrom, string serialTo, string note,
            string tag,
            params (string, Part)[] changes) => shop.Variants.Add(new(
                family, pressure, rotation, "", from, to, serialFrom, serialTo, note, parts.With(
                [("valve", valves[pressure]), ("ring", rotation == "cw" ? parts["ring"] : leftRing), .. changes]), Trade.Looks(family, pressure, rotation, "none", "round", tag)));
        Variant(PressureClass.P085, "cw", "1999-05", "", "M850001", "M859999", "Town buses", "L", ("pressure-plate", plateOld), ("needle", needleOld));
        Variant(PressureClass.P085, "ccw", "2000-10", "2019-12", "N850001", "N854999", "Left hand", "M", ("needle", needleOld), ("drive", couplingOld));
        Variant(PressureClass.P105, "cw", "2002-01", "", "M100001", "M109999", "Articulated buses and tugs", "N", ("elbow", elbowLarge));
        Variant(PressureClass.P105, "ccw", "2004-03", "", "N100001", "N104999", "Left hand, long coupling", "P", ("drive", longCoupling),
            ("elbow", elbowLarge));
        return family;
    }
}

/// <summary>
/// PA15, Pellurin's 15 cc vane pump for lifts and small boats: aluminium housing, remote reservoir, valve ground to its bore. Aluminium
/// grows twice as much as the steel valve with heat, so bores are measured with the thermometer beside them.
/// </summary>
internal static class Compact15
{
    public static Family Build(Shop shop)
    {
        var family = new Family("PA15", "Pellurin A15 vane pump, 15 cc", "Pellurin", 14.7m, true, 14.288m, 8, 13, 19, 3, 8.5m, "aluminium",
            "Vane", 1.08m, (block, running) => $"P15-{block}{running:000}");
        shop.Families.Add(family);
        Part P(string role, string detail = "", int alternative = 0, decimal weight = 1m, string? service = null) =>
            shop.Piece(family, role, detail, alternative, weight, service);

        // Every seal of this pump can be had loose, so here kit against pieces is a question of price alone.
        var parts = new Dictionary<string, Part>
        {
            ["housing"] = P("housing", "two ears, aluminium", service: "assembly-only"), ["shaft"] = P("shaft", "keyed"),
                ["bush"] = P("bush", "16 mm, flanged"),
            ["shaft-seal"] = P("shaft-seal", "16 x 28 x 7 mm"), ["ring"] = P("ring", "right hand"), ["rotor"] = P("rotor", "twelve slots"),
            ["element"] = P("element", "1.8 x 7 x 14 mm"), ["pressure-plate"] = P("pressure-plate"), ["thrust-plate"] = P("thrust-plate"),
            ["dowel"] = P("dowel", "4 x 28 mm"), ["plate-spring"] = P("plate-spring", "wave"), ["end-cover"] = P("end-cover", "aluminium"),
            ["cover-ring"] = P("cover-ring", "66 mm"), ["rotor-ring"] = P("rotor-ring"), ["valve-spring"] = P("valve-spring"),
            ["plug"] = P("plug", "M20 x 1.5, steel"), ["plug-o-ring"] = P("plug-o-ring", "17.2 x 2.4 mm"), ["union"] = P("union",
                "M14 x 1.5"),
            ["union-o-ring"] = P("union-o-ring", "11.3 x 2.4 mm"), ["cover-o-ring"] = P("cover-o-ring", "60 x 2.5 mm"),
            ["plate-o-ring"] = P("plate-o-ring", "52 x 2.5 mm"), ["ring-o-ring"] = P("ring-o-ring", "55 x 2.5 mm", service: "separate"),
            ["drive"] = P("drive", "four ribs, 110 mm"), ["key"] = P("key", "3 x 5 mm"), ["bolt"] = P("bolt", "M8 x 45"),
                ["screen"] = P("screen"),
            ["elbow"] = P("elbow", "19 mm hose"), ["elbow-o-ring"] = P("elbow-o-ring", "21 x 2.4 mm"),
        };
        var pulleySmall = shop.Add(family.Number(7, 149), "Pulley, PA15, V-belt, 96 mm", "hardware", 11.80m);
        var elbowSmall = shop.Add(family.Number(7, 156), "Inlet elbow, PA15, 16 mm hose", "hardware", 5.10m);

        var valves = new[] { PressureClass.P055, PressureClass.P070, PressureClass.P085 }.ToDictionary(c => c, c => Trade.Valve(shop, family, c));

        var reseal = shop.Pack(family.Number(8, 101), "Reseal kit, PA15", "kit", 0.72m, null, Trade.One(parts["shaft-seal"]),
            Trade.One(parts["plug-o-ring"]), Trade.One(parts["union-o-ring"]), Trade.One(parts["cover-o-ring"]),
                Trade.One(parts["plate-o-ring"]),
            Trade.One(parts["ring-o-ring"]), Trade.One(parts["elbow-o-ring"]));
        shop.Pack(family.Number(8, 104), "Shaft seal kit, PA15", "kit", 0.90m, null, Trade.One(parts["shaft-seal"]),
            Trade.One(parts["key"]));
        var leftRing = P("ring", "left hand", 20);
        var rotating = Trade.RotatingKit(shop, family, parts, "cw");
        var rotatingLeft = Trade.RotatingKit(shop, family, parts.With(("ring", leftRing)), "ccw");
        var hardware = shop.Pack(family.Number(8, 106), "Hardware pack, PA15", "kit", 0.88m, null, (parts["dowel"], 2),
            Trade.One(parts["plate-spring"]),
            Trade.One(parts["cover-ring"]), Trade.One(parts["rotor-ring"]), Trade.One(parts["key"]));
        shop.Pack(family.Number(8, 108), "Overhaul kit, PA15", "kit", 0.82m, null, Trade.One(reseal), Trade.One(rotating),
            Trade.One(hardware));

        var matched = valves.ToDictionary(pair => pair.Key, pair => Trade.MatchedHousing(shop, family, parts, pair.Key, pair.Value, 0.92m));
        Part Assembly(PressureClass pressure, string rotation, decimal factor) => Trade.LessReservoir(shop, family,
            parts.With(("valve", valves[pressure]), ("ring", rotation == "cw" ? parts["ring"] : leftRing)), pressure, rotation, factor,
            matched[pressure], reseal, rotation == "cw" ? rotating : rotatingLeft);
        Assembly(PressureClass.P055, "cw", 0.70m);
        Assembly(PressureClass.P070, "cw", 0.60m);
        Assembly(PressureClass.P070, "ccw", 0.82m);
        Assembly(PressureClass.P085, "cw", 0.84m);

        var sealOld = shop.Old(family.Number(1, 4), "Shaft seal, PA15, single lip", parts["shaft-seal"], true);
        shop.Supersede(sealOld, "use-up", (parts["shaft-seal"], 1));
        var plugOld = shop.Old(family.Number(7, 17), "Valve plug, PA15, aluminium", parts["plug"], false);
        shop.Supersede(plugOld, "replace", (parts["plug"], 1), (Commons.PlugWasher(shop), 1));
        var pulleyOld = shop.Old(family.Number(7, 29), "Pulley, PA15, V-belt, 110 mm", parts["drive"], false);
        shop.Supersede(pulleyOld, "replace", (parts["drive"], 1));

        void Variant(PressureClass pressure, string rotation, string from, string serialFrom, string serialTo, string note, string tag,
            params (string, Part)[] changes) => shop.Variants.Add(new(family, pressure, rotation, "", from, "", serialFrom, serialTo, note,
            parts.With(
                [("valve", valves[pressure]), ("ring", rotation == "cw" ? parts["ring"] : leftRing), .. changes]), Trade.Looks(family, pressure, rotation, "none", "round", tag)));
        Variant(PressureClass.P055, "cw", "2006-01", "5500001", "5549999", "Small boats and ride-on machines", "R", ("shaft-seal", sealOld),
            ("drive", pulleySmall), ("elbow", elbowSmall));
        Variant(PressureClass.P070, "cw", "2006-01", "7000001", "7099999", "", "S", ("shaft-seal", sealOld), ("plug", plugOld), ("drive", pulleyOld));
        Variant(PressureClass.P070, "ccw", "2010-08", "7500001", "7549999", "Left hand", "T");
        Variant(PressureClass.P085, "cw", "2013-03", "8500001", "8549999", "Lifts with side shift on the steering circuit", "U");
        return family;
    }
}

/// <summary>What belongs to no family: the shop's own numbers for standard pieces, fluids and tools.</summary>
internal static class Commons
{
    public static Part UnionRing(Shop shop) => Once(shop, "TP-0172", () =>
        shop.Add("TP-0172", "O-ring, 15.3 x 2.4 mm, outlet union M18, VR20 and VS30", "seal", 0.64m));

    public static Part Washer8(Shop shop) => Once(shop, "TP-0008", () => shop.Add("TP-0008", "Washer, 8 mm, hardened", "hardware", 0.09m));

    public static Part PlugWasher(Shop shop) => Once(shop, "TP-0020", () => shop.Add("TP-0020", "Seal washer, 20 mm, copper", "hardware",
        0.28m));

    private static Part Once(Shop shop, string number,
        Func<Part> make) => shop.Parts.FirstOrDefault(part => part.Number == number) ?? make();

    public static void Build(Shop shop)
    {
        Washer8(shop);
        // Loose O-rings by size for hoses and odd jobs; none of them is on a parts list.
        foreach (var (inside, section) in new[] { (9.3m, 2.4m), (12.4m, 1.8m), (14.0m, 1.8m), (17.2m, 1.8m), (22.2m, 3.0m), (29.2m, 3.0m),
            (44.2m, 3.0m), (50.2m, 3.0m) })
            shop.Add($"TP.OR.{inside * 10:0000}.{section * 10:00}", $"O-ring, {inside.ToString("0.0", CultureInfo.InvariantCulture)} x "
                + $"{section.ToString("0.0", CultureInfo.InvariantCulture)} mm, nitrile 70", "seal", 0.10m + inside * 0.006m);
        foreach (var (number, name, cost) in new[]
        {
            ("TP-0106", "Bolt, M6 x 20, class 8.8", 0.14m), ("TP-0108", "Bolt, M8 x 25, class 8.8", 0.19m), ("TP-0110",
                "Bolt, M10 x 30, class 10.9", 0.42m),
            ("TP-0112", "Bolt, M12 x 35, class 10.9", 0.58m), ("TP-0210", "Washer, 10 mm, hardened", 0.11m), ("TP-0212",
                "Washer, 12 mm, hardened", 0.14m),
            ("TP-0301", "Protective plug, M14", 0.06m), ("TP-0302", "Protective plug, M18", 0.07m), ("TP-0303", "Protective plug, M22",
                0.08m),
            ("TP-0310", "Tag, brass, rebuilt", 0.35m), ("TP-0311", "Tag, class, self-cancelling", 0.22m),
        }) shop.Add(number, name, "hardware", cost);
        shop.Add("TP-0901", "Steering fluid, mineral", "fluid", 4.60m, unit: "l", leadDays: 5);
        shop.Add("TP-0902", "Steering fluid, cold climate", "fluid", 7.90m, unit: "l", leadDays: 12);
        shop.Add("TP-0903", "Assembly grease, 50 g", "fluid", 2.10m, leadDays: 5);
        shop.Add("TP-0904", "Cleaning fluid, low flash hazard", "fluid", 2.70m, unit: "l", leadDays: 5);
        foreach (var (number, name, cost) in new[]
        {
            ("TP-9001", "Pulley puller, collar type", 118.00m), ("TP-9002", "Pulley installing tool, threaded, M10", 64.00m),
            ("TP-9003", "Seal driver, 32 mm", 21.00m), ("TP-9004", "Seal driver, 35 mm", 21.00m), ("TP-9005",
                "Seal driver, 42/47 mm stepped", 29.00m),
            ("TP-9006", "Seal driver, 28 mm", 19.50m), ("TP-9007", "Seal protecting sleeve, keyed shaft", 12.40m), ("TP-9008",
                "End cover press frame", 142.00m),
            ("TP-9009", "Ring pick, bent", 6.80m), ("TP-9010", "Dowel height gauge, 4.76 mm", 33.00m), ("TP-9011",
                "Bearing driver set, 52 mm", 47.00m),
            ("TP-9012", "Valve extractor magnet, soft tip", 15.20m),
        }) shop.Add(number, name, "tool", cost);
    }
}

// ---- where the pumps are ----------------------------------------------------------------------------------------------------------

/// <summary>
/// Machines and what they steer with. A fit says which duty each way of building the machine asks for; the years of a row are those in
/// which both the machine and that variant were built, so a production change splits a machine's years by itself.
/// </summary>
internal static class Machines
{
    private static readonly Dictionary<string, (string Option, string Duty)[]> Fits = new()
    {
        ["small boat"] = [("single engine", "VR20-055-R")],
        ["cruiser"] = [("single engine", "VR20-070-R"), ("twin engines, starboard", "VR20-070-R"), ("twin engines, port", "VR20-070-L")],
        ["launch"] = [("single engine", "PA15-055-R"), ("with bow thruster", "PA15-070-R")],
        ["twin launch"] = [("starboard", "PA15-070-R"), ("port", "PA15-070-L")],
        ["work boat"] = [("single engine", "VS30-085-R"), ("twin engines, port", "VS30-085-L")],
        ["tug"] = [("starboard", "OM45-105-R"), ("port", "OM45-105-L")],
        ["small tractor"] = [("", "VR20-055-R"), ("with loader", "VR20-085-R")],
        ["tractor"] = [("", "VS30-070-R"), ("with loader", "VS30-085-R")],
        ["large tractor"] = [("", "VS30-085-R"), ("front linkage", "VS30-105-R")],
        ["orchard tractor"] = [("", "PA15-070-R"), ("reverse drive", "PA15-070-L")],
        ["midibus"] = [("", "VS30-070-R"), ("left-hand auxiliary drive", "VS30-085-L")],
        ["town bus"] = [("", "OM45-085-R"), ("left-hand auxiliary drive", "OM45-085-L")],
        ["articulated bus"] = [("", "OM45-105-R"), ("rear engine, left", "OM45-105-L")],
        ["lift"] = [("two-stage mast", "PA15-070-R"), ("triplex mast", "PA15-085-R")],
        ["heavy lift"] = [("", "VR20-070-R"), ("with side shift", "VR20-085-R")],
    };

    private static readonly (string Make, string Model, string Fit, int From, int To)[] Built =
    [
        ("Haldrin", "Skerry 19", "small boat", 1999, 2014), ("Haldrin", "Skerry 24", "cruiser", 2001, 0), ("Haldrin", "Skerry 28",
            "cruiser", 2004, 0),
        ("Haldrin", "Sound 32", "cruiser", 1998, 2010), ("Haldrin", "Sound 36", "work boat", 2007, 0), ("Haldrin", "Tern 17", "launch",
            2008, 0),
        ("Haldrin", "Tern 21", "twin launch", 2011, 0), ("Haldrin", "Pilot 40", "tug", 2005, 0),
        ("Skaervik Yard", "SV 7", "small boat", 2000, 2018), ("Skaervik Yard", "SV 9", "launch", 2006, 2019), ("Skaervik Yard", "SV 12",
            "work boat", 2005, 2021),
        ("Skaervik Yard", "SV 16 Tug", "tug", 2002, 2020), ("Skaervik Yard", "SV 20 Tug", "tug", 2009, 0),
        ("Brannoway", "Otter", "small boat", 2003, 0), ("Brannoway", "Heron", "cruiser", 2002, 2016), ("Brannoway", "Gannet",
            "twin launch", 2010, 0),
        ("Marrowby", "M25", "small tractor", 1998, 2012), ("Marrowby", "M30", "small tractor", 2000, 2016), ("Marrowby", "M35",
            "small tractor", 2008, 0),
        ("Marrowby", "M60", "tractor", 2003, 2015), ("Marrowby", "M70", "tractor", 2006, 0), ("Marrowby", "M85", "tractor", 2010, 0),
        ("Marrowby", "M110", "large tractor", 2007, 0), ("Marrowby", "M130", "large tractor", 2009, 0),
        ("Fennimoor", "Drover 40", "small tractor", 2001, 2013), ("Fennimoor", "Drover 45", "small tractor", 2005, 2019), ("Fennimoor",
            "Drover 75", "tractor", 2004, 2018),
        ("Fennimoor", "Drover 90", "tractor", 2009, 0), ("Fennimoor", "Drover 140", "large tractor", 2010, 0), ("Fennimoor", "Vineyard 50",
            "orchard tractor", 2010, 0),
        ("Ploverhill", "Orchard 38", "orchard tractor", 2007, 2020), ("Ploverhill", "Orchard 44", "orchard tractor", 2012, 0),
            ("Ploverhill", "Field 65", "tractor", 2005, 2017),
        ("Ploverhill", "Field 100", "large tractor", 2006, 2022),
        ("Quillstad", "Q7", "midibus", 2004, 2016), ("Quillstad", "Q8", "midibus", 2010, 0), ("Quillstad", "Q12", "town bus", 1999, 2014),
        ("Quillstad", "Q12 N", "town bus", 2008, 0), ("Quillstad", "Q18", "articulated bus", 2003, 0),
        ("Tarnbus", "Village", "midibus", 2006, 2020), ("Tarnbus", "City", "town bus", 2001, 2018), ("Tarnbus", "City Long",
            "articulated bus", 2005, 2021),
        ("Tarnbus", "Airport", "town bus", 2010, 0),
        ("Ostrelift", "OL 15", "lift", 2007, 0), ("Ostrelift", "OL 20", "lift", 2009, 0), ("Ostrelift", "OL 25", "lift", 2013, 0),
            ("Ostrelift", "OL 50", "heavy lift", 2002, 2017),
        ("Ostrelift", "OL 70", "heavy lift", 2005, 0),
        ("Gantrell", "Stow 2", "lift", 2006, 2021), ("Gantrell", "Stow 3", "lift", 2014, 0), ("Gantrell", "Yard 6", "heavy lift", 2004,
            2019), ("Gantrell", "Yard 8", "heavy lift", 2008, 0),
        ("Wickenhall", "Sweep 400", "orchard tractor", 2011, 0), ("Wickenhall", "Sweep 600", "midibus", 2008, 2022), ("Wickenhall",
            "Roller R9", "heavy lift", 2006, 0),
        ("Wickenhall", "Roller R12", "large tractor", 2011, 0), ("Haldrin", "Tern 24", "twin launch", 2014, 0), ("Brannoway", "Osprey",
            "cruiser", 2009, 0),
        ("Fennimoor", "Vineyard 60", "orchard tractor", 2013, 0), ("Marrowby", "M20", "small tractor", 1999, 2011), ("Marrowby", "M65",
            "tractor", 2004, 2014),
        ("Ploverhill", "Field 80", "tractor", 2008, 2020), ("Gantrell", "Stow 4", "lift", 2016, 0), ("Tarnbus", "Coach", "articulated bus",
            2011, 0),
    ];

    public static void Build(Shop shop)
    {
        var sheet = shop.Sheet("applications", "make,model,year_from,year_to,option,variant");
        foreach (var machine in Built)
            foreach (var (option, duty) in Fits[machine.Fit])
                foreach (var variant in shop.Variants.Where(variant => variant.Duty == duty))
                {
                    var from = Math.Max(machine.From, Year(variant.BuiltFrom));
                    var last = Math.Min(machine.To == 0 ? int.MaxValue : machine.To,
                        variant.BuiltTo.Length == 0 ? int.MaxValue : Year(variant.BuiltTo));
                    if (from <= last) sheet.Row(machine.Make, machine.Model, from, last == int.MaxValue ? "" : last, option, variant.Code);
                }
    }

    /// <summary>How many rows of the applications point to a variant of this duty: what the shelf is sized by.</summary>
    public static int Demand(Variant variant) => Built.Sum(machine => Fits[machine.Fit].Count(fit => fit.Duty == variant.Duty));

    private static int Year(string month) => int.Parse(month.AsSpan(0, 4), CultureInfo.InvariantCulture);
}

/// <summary>Other people's numbers for the same things: cast into the iron, printed on a second supplier's bag, in a machine maker's book.</summary>
internal static class OtherNames
{
    public static void Build(Shop shop)
    {
        var sheet = shop.Sheet("aliases", "number,part,source");
        // A second supplier numbers seals by his own running list, and machine makers number whatever their workshops may order.
        var seals = 0;
        foreach (var part in shop.Parts.Where(part => part is { Kind: "seal", Service: not "none" } && !part.Number.StartsWith("TP.",
            StringComparison.Ordinal)))
            sheet.Row($"MS {4000 + ++seals * 7}/{part.Number[..2].Replace("P1", "15", StringComparison.Ordinal)}", part.Number,
                "Merrinseal");
        foreach (var part in shop.Parts.Where(part => part is { Kind: "kit", Supplied: true }))
            sheet.Row("GK-" + Digits(part.Number), part.Number, "Gaskell Row Trade Kits");
        foreach (var (part, book) in shop.Parts.Where(part => part is { Kind: "assembly",
            Supplied: true }).SelectMany(part => BooksOf(part).Select(book => (part, book))))
            sheet.Row(book.Number, part.Number, book.Source);
        foreach (var (number, cast) in new[]
        {
            ("020-6101", "VT 1187 C"), ("020-6101", "VT 1187 D"), ("020-6112", "VT 1190"), ("020-3108", "VT 1204 R"), ("020-3128",
                "VT 1204 F"), ("020-6124", "VT 31"),
            ("030-6101", "VT 2261 A"), ("030-6101", "VT 2261 B"), ("030-6112", "VT 2265"), ("45.6.101", "OSK 4503"), ("45.6.112",
                "OSK 4511"),
            ("P15-6101", "PL-A-0077"), ("P15-6112", "PL-A-0081"), ("45.3.108", "OSK 4520"), ("030-3108", "VT 2270"), ("P15-3108",
                "PL-A-0090"),
        }) sheet.Row(cast, shop[number].Number, "casting number");
        foreach (var (number, stamp) in new[] { ("020-5055", "55 W"), ("020-5070", "70 Y"), ("020-5085", "85 B"), ("030-5070", "S70 Y"),
            ("030-5085", "S85 B"), ("030-5105", "S105 R") })
            sheet.Row(stamp, shop[number].Number, "stamped on the valve");
        // The trap at the counter: two suppliers use one number for two different things. Only the source tells them apart.
        sheet.Row("77-410", "020-1104", "Merrinseal blue list");
        sheet.Row("77-410", "45.1.118", "Cordwell Rubber");
    }

    private static IEnumerable<(string Number, string Source)> BooksOf(Part part) => part.Number switch
    {
        _ when part.Number.StartsWith("020", StringComparison.Ordinal) => [($"MB/{Digits(part.Number)}/0", "Marrowby"),
            ($"HB {Digits(part.Number)}", "Haldrin")],
        _ when part.Number.StartsWith("030", StringComparison.Ordinal) => [($"FM-{Digits(part.Number)}-00", "Fennimoor"),
            ($"QS {Digits(part.Number)}", "Quillstad")],
        _ when part.Number.StartsWith("45", StringComparison.Ordinal) => [($"QS {Digits(part.Number)}", "Quillstad"),
            ($"TB.{Digits(part.Number)}", "Tarnbus")],
        _ => [($"OL/{Digits(part.Number)}", "Ostrelift")],
    };

    private static string Digits(string number) => string.Concat(number.Where(char.IsAsciiDigit));
}

// ---- what to look at, measure and beware of -----------------------------------------------------------------------------------------

internal static class Advice
{
    public static void Build(Shop shop, Family[] families)
    {
        var guide = shop.Sheet("feature-guide", "feature,question,seconds,teardown");
        foreach (var (feature, question, seconds, teardown) in new[]
        {
            ("reservoir", "Is the reservoir on the pump or remote?", 5, "no"),
            ("drive", "Is the pump driven by a pulley or by a coupling?", 5, "no"),
            ("housing-metal", "Does a magnet stick to the housing (iron) or not (aluminium)?", 10, "no"),
            ("mount-ears", "How many mounting ears has the housing?", 10, "no"),
            ("arrow", "Which way does the arrow on the housing turn, seen from the drive end?", 15, "no"),
            ("tag-letter", "Which letter stands first on the maker's tag?", 20, "no"),
            ("shaft-slots", "How many slots has the drive end of the shaft, with the pulley off?", 240, "no"),
            ("outlet-thread", "What thread has the outlet union?", 60, "no"),
            ("spring-dot", "What colour is the paint dot on the relief spring, with the valve plug out?", 420, "yes"),
            ("plate-outline", "Is the pressure plate round or does it have two flats?", 900, "yes"),
            ("elements", "Does the rotor carry rollers or vanes?", 960, "yes"),
        }) guide.Row(feature, question, seconds, teardown);

        var cautions = shop.Sheet("cautions", "applies_to,text,severity");
        foreach (var (to, text, severity) in new[]
        {
            ("*", "The maker's service information, local codes and licensed practice come first; this list does not replace them.",
                "warning"),
            ("*", "A spring is held under the end cover. Press the cover down in a frame before its ring comes out, and keep out of its line.", "warning"),
            ("*", "Fluid under pressure goes through skin. Never feel for a leak with a hand; an injection wound is an emergency even when it looks small.", "warning"),
            ("*", "Let the pump and its fluid cool down before opening anything.", "caution"),
            ("*", "A bad repair can take away the steering assistance without warning. Test lock to lock on a safe site before the machine goes back to work.", "warning"),
            ("*", "Run a rebuilt pump only on a guarded bench with a working relief and an emergency stop.", "warning"),
            ("*", "Collect drained fluid and used seals, and dispose of them as local rules say.", "note"),
            ("seal", "Seals come out of a closed bag with a legible lot. A seal that has been fitted once is not fitted again.", "caution"),
            ("seal", "Lead the shaft seal over the key and slots with the protecting sleeve.", "note"),
            ("rotating", "Ring, rotor and elements are one matched set. Do not mix pieces of two sets, nor turn the ring over for the other rotation.", "caution"),
            ("valve", "Do not change the number of shims under the relief spring. They set the pressure class and go back as they came out.", "warning"),
            ("valve", "Classes look alike. Check the class on the tag and the dot on the spring before a valve goes in.", "warning"),
            ("VR20", "A pulley goes neither on nor off by hammer or press: use its puller and its installing tool.", "caution"),
            ("VS30", "A pulley goes neither on nor off by hammer or press: use its puller and its installing tool.", "caution"),
            ("PA15", "A pulley goes neither on nor off by hammer or press: use its puller and its installing tool.", "caution"),
            ("body", "Lap a plate only on a surface plate, and measure the running clearance again afterwards.", "note"),
            ("VS30", "The valve was ground to this bore. Never put a valve of another housing in, however well it seems to slide.",
                "warning"),
            ("OM45", "The valve was ground to this bore. Never put a valve of another housing in, however well it seems to slide.",
                "warning"),
            ("PA15", "The valve was ground to this bore. Never put a valve of another housing in, however well it seems to slide.",
                "warning"),
            ("PA15", "Aluminium threads strip easily: start every union and plug by hand.", "caution"),
            ("PA15", "Measure an aluminium bore at bench temperature and write the temperature down: it grows about twice as much as the steel valve.", "note"),
            ("OM45", "The pump weighs more than it looks. Support it before the last bolt comes out.", "caution"),
            ("020-3108", "Round plate, before July 2009. It drops into the later pump but leaves two passages half covered: do not exchange them.", "warning"),
            ("030-2002", "Two-slot shaft. The four-slot shaft fits the pump but not the early hub.", "caution"),
            ("030-2134", "The washer goes behind the flat rotor ring, chamfer towards the rotor.", "note"),
        }) cautions.Row(to, text, severity);

        var checks = shop.Sheet("checks", "family,variant,sequence,text,expected,unit,low,high");
        var tools = shop.Sheet("tools", "family,variant,name,note");
        foreach (var family in families)
        {
            var element = family.Element.ToLowerInvariant();
            void Check(int sequence, string text, string expected, string unit = "", string low = "", string high = "") =>
                checks.Row(family.Code, "", sequence, text, expected, unit, low, high);
            Check(10, $"Count the {element}s in the rotor and see that each falls into its slot by its own weight.",
                $"12 {element}s, all free", "pieces", "12", "12");
            Check(20, "Height of the locating dowel above the cam ring before the pressure plate goes on.", "3/16 in proud of the cam",
                "mm", "4.66", "4.86");
            Check(30, "Look through the two pressure ports and count the passages you can see. Fewer means that plate or ring sits the wrong way round.",
                "6 passages, 3 in each port", "passages", "6", "6");
            Check(40, "Clearance between cam ring and pressure plate. With too much here the pump does not prime.", "barely any", "mm",
                "0.010", Figure(0.04m + family.Cc / 2000m));
            Check(50, "Shims under the relief spring: as many as were found, none added, none left out.", "as found at tear-down");
            Check(60, family.Selective
                ? "The valve that was ground to this bore slides through it, oiled, by its own weight and does not stick at any angle."
                : "The valve slides through its bore, oiled, by its own weight.", "slides freely");
            Check(70, "End cover ring seated all round, its gap away from the knock-out hole.", "seated");
            Check(80, "Torque to turn the shaft by hand, oiled, before the drive goes on.", "smooth, no tight spot", "N·m", "0.1",
                Figure(Math.Round(family.Size * 1.1m, 1)));
            if (family.Code != "OM45") Check(85, "Face of the pulley hub against the end of the shaft.", "flush", "mm", "-0.25", "0.25");

            void Tool(string name, string note) => tools.Row(family.Code, "", name, note);
            if (family.Code != "OM45")
            {
                Tool("Pulley puller, collar type", "TP-9001; grips the hub's groove, never the rim");
                Tool("Pulley installing tool, threaded", "TP-9002; draws the hub on by the shaft's own thread");
            }
            Tool("Seal driver", family.Code switch { "VR20" => "TP-9003, 32 mm", "VS30" => "TP-9004, 35 mm",
                "OM45" => "TP-9005, 42/47 mm stepped", _ => "TP-9006, 28 mm" });
            Tool("Seal protecting sleeve", "TP-9007; over the key or slots");
            Tool("End cover press frame", "TP-9008; holds the cover against its spring");
            Tool("Dowel height gauge", "TP-9010");
            Tool("Valve extractor magnet", "TP-9012; soft tip, does not mark the land");
            if (family.Code == "OM45") Tool("Bearing driver set", "TP-9011, 52 mm");
        }
        foreach (var variant in shop.Variants)
        {
            var p = variant.Class;
            void Check(int sequence, string text, string expected, string unit, decimal low, decimal high) =>
                checks.Row("", variant.Code, sequence, text, expected, unit, low, high);
            Check(90, "Relief pressure on the guarded bench, fluid at 50 °C. Outside: find out why, do not touch the shims.",
                $"{p.ReliefKpa} kPa", "kPa", p.ReliefKpa - p.MinusKpa, p.ReliefKpa + p.PlusKpa);
            // A new pump of this kind gives about 95 % of its displacement at 1,000 turns a minute against half its relief pressure.
            Check(95, "Flow on the guarded bench at 1,000 turns a minute against half the relief pressure.",
                $"about {Figure(Math.Round(variant.Family.Cc * 0.95m, 1))} l/min",
                "l/min", Math.Round(variant.Family.Cc * 0.90m, 1), Math.Round(variant.Family.Cc * 1.02m, 1));
        }
        foreach (var variant in shop.Variants.Where(variant => variant.Seen["shaft-slots"] == "2"))
            tools.Row("", variant.Code, "Hub wrench for two slots", "holds the early hub while the installing tool turns");
    }

    private static string Figure(decimal value) => value.ToString("0.0##", CultureInfo.InvariantCulture);
}

// ---- what is on the shelf -----------------------------------------------------------------------------------------------------------

/// <summary>
/// Places and the opening count. A shelf holds about two months of what its kind moves in the machines it goes into; rubber and kits in
/// drawers and in lots, assemblies by serial. What is different from the rule is different for a reason, given beside it.
/// </summary>
internal static class Shelves
{
    /// <summary>A row of shelves: its letter, how many bins it has and how many numbers go into one bin.</summary>
    private static readonly Dictionary<string, (string Letter, string Name, int Bins)> Zones = new()
    {
        ["seal"] = ("A", "Seals, drawer", 12), ["kit"] = ("B", "Kits, shelf", 10), ["rotating"] = ("C", "Shafts, shelf", 3),
            ["plate"] = ("C", "Plates, shelf", 4),
        ["spring"] = ("C", "Springs, drawer", 3), ["valve"] = ("C", "Valves, drawer", 2), ["housing"] = ("D",
            "Housings and reservoirs, shelf", 5),
        ["assembly"] = ("D", "Assemblies, pallet", 5), ["hardware"] = ("E", "Hardware, drawer", 12), ["fluid"] = ("F", "Fluids, bunded",
            2), ["tool"] = ("G", "Tool crib, hook", 2),
    };

    private static readonly Dictionary<string, int> Exceptions = new()
    {
        ["020-4011"] = 0,   // conical spring: out of production, sold out
        ["030-2002"] = 0,   // two-slot shaft: out of production, sold out
        ["030-7013"] = 1,   // the last unplated cover ring, to be used up
        ["030-7010"] = 1,   // one old dowel, to be used up: a pump needs two
        ["020-1024"] = 2,   // nitrile shaft seals, to be used up
        ["P15-1004"] = 3,   // single-lip shaft seals, to be used up
        ["45.7.029"] = 1,   // a coupling with adapter, to be used up
        ["020-8001"] = 2,   // reseal kits of the first issue, to be used up
        ["030-8105"] = 0,   // rotating kit: the last one went yesterday, the one in quarantine does not count
        ["020-8121"] = 0,   // reseal kit for two flats: on back order
        ["020-8123"] = 0,   // master kit: on back order
        ["020-8108"] = 0,   // and so is the overhaul kit, which holds it
        ["030-9070"] = 1, ["030-9270"] = 1, ["030-9285"] = 2, ["P15-9270"] = 1, ["45.9.085"] = 1, ["45.9.105"] = 0, ["020-9255"] = 2,
            ["030-9085"] = 1, ["020-9285"] = 0,
    };

    public static void Build(Shop shop)
    {
        var locations = shop.Sheet("locations", "code,name,kind");
        var stock = shop.Sheet("stock", "part,location,lot,quantity,condition");
        var bins = new Dictionary<string, List<string>>();
        var used = new Dictionary<string, int>();
        foreach (var (kind, (letter, name, count)) in Zones)
        {
            bins[kind] = [];
            for (var bin = 1; bin <= count; bin++)
            {
                var at = used[letter] = used.GetValueOrDefault(letter) + 1;
                var code = $"{letter}-{at:00}";
                bins[kind].Add(code);
                locations.Row(code, $"{name} {bin}", "bin");
            }
        }
        foreach (var (code, name, kind) in new[]
        {
            ("BENCH-1", "Tear-down bench", "bench"), ("BENCH-2", "Assembly bench", "bench"), ("BENCH-T", "Test bench, guarded", "bench"),
            ("Q-01", "Quarantine cage", "quarantine"), ("Q-02", "Quarantine, units to be measured", "quarantine"), ("DOCK",
                "Goods in and out", "dock"),
            ("U-01", "Loose housings, racked", "bin"), ("U-02", "Loose valves, oiled tray", "bin"), ("U-03", "Matched pairs, boxed",
                "bin"), ("K-01", "Core bank, pallet", "bin"),
        }) locations.Row(code, name, kind);

        foreach (var group in shop.Parts.GroupBy(part => part.Kind))
        {
            // Numbers of a kind fill the bins of that kind one after the other, so that neighbours on the parts list are neighbours on the shelf.
            var numbers = group.ToList();
            for (var index = 0; index < numbers.Count; index++)
            {
                var part = numbers[index];
                var quantity = Exceptions.TryGetValue(part.Number, out var counted) ? counted : Usual(shop, part);
                if (quantity == 0) continue;
                var zone = bins[part.Kind];
                var bin = zone[index * zone.Count / numbers.Count];
                if (part.Tracking == "serial")
                    for (var piece = 1; piece <= quantity; piece++) stock.Row(part.Number, bin, $"{Canonical(part.Number)}-{2600 + piece}",
                        1, "new");
                else if (part.Tracking == "lot" && quantity > 4)
                {
                    stock.Row(part.Number, bin, "26-Q1", quantity / 3, "new");
                    stock.Row(part.Number, bin, "26-Q3", quantity - quantity / 3, "new");
                }
                else stock.Row(part.Number, bin, part.Tracking == "lot" ? "26-Q2" : "", quantity, "new");
            }
        }
        // What is there and may not be used, and what came off good cores.
        stock.Row("030-8105", "Q-01", "26-Q2", 1, "new");
        stock.Row("020-8105", "Q-01", "25-Q4", 1, "new");
        stock.Row("TP-0172", "BENCH-2", "", 25, "new");
        stock.Row("020-6124", "D-05", "", 3, "used");
        stock.Row("030-6124", "D-05", "", 2, "used");
        stock.Row("020-3128", "BENCH-1", "", 2, "rebuilt");
        stock.Row("45.2.102", "BENCH-1", "", 1, "rebuilt");
    }

    /// <summary>About two months of what moves: machines served, times what one machine in the round takes in that kind, at least one.</summary>
    private static int Usual(Shop shop, Part part)
    {
        if (part.Service is "kit-only" or "assembly-only" or "none") return 0;
        if (part.Kind == "tool") return part.Number is "TP-9003" or "TP-9007" or "TP-9012" ? 2 : 1;
        if (part.Kind == "fluid") return part.Number is "TP-0901" ? 208 : 24;
        if (part.Number.StartsWith("TP", StringComparison.Ordinal)) return part.Cost < 0.2m ? 200 : 60;
        if (!part.Supplied) return 0;
        var demand = shop.Variants.Where(variant => Needs(shop, variant, part)).Sum(Machines.Demand);
        var rate = part.Kind switch { "seal" => 0.9m, "kit" => 0.10m, "hardware" or "spring" => 0.4m, "plate" => 0.20m,
            "rotating" => 0.12m, "valve" => 0.15m, "assembly" => 0.08m, _ => 0.10m };
        return (int)Math.Ceiling(demand * rate);
    }

    private static bool Needs(Shop shop, Variant variant, Part part) =>
        (part.Class.Length == 0 || part.Class == variant.Class.Code)
        && (shop.Contents.TryGetValue(part.Number, out var inside)
            ? inside.All(content => Needs(shop, variant, content.Part) || content.Part.Kind is "hardware" or "seal")
            : variant.Parts.Values.Any(listed => listed.Number == part.Number || Followed(shop, listed).Contains(part.Number)));

    private static HashSet<string> Followed(Shop shop, Part listed)
    {
        var found = new HashSet<string>();
        var open = new Queue<string>([listed.Number]);
        while (open.TryDequeue(out var number))
            foreach (var step in shop.Supersessions.Where(step => step.Old.Number == number))
                if (found.Add(step.New.Number)) open.Enqueue(step.New.Number);
        return found;
    }

    public static string Canonical(string number) => string.Concat(number.Where(char.IsAsciiLetterOrDigit)).ToUpperInvariant();
}

// ---- used pumps, loose halves and what was measured on them ---------------------------------------------------------------------------

/// <summary>
/// The core bank and the loose halves. Bores and valves are spread evenly over what wear and grinding leave (the golden section
/// gives an even spread without repeats), read at six places, at the temperature of that morning. Most can be paired, some could be paired with several,
/// a few with none; form beyond the family's limit refuses a handful. Taking the nearest first does not give the most pairs.
/// </summary>
internal static class Bank
{
    private const double GoldenSection = 0.6180339887498949;
    private const int Cores = 25;

    /// <summary>The one core that came in so rusty that not even its family is known.</summary>
    private const int UnknownCore = 18;

    /// <summary>Six places: three depths, two directions. Their mean is zero and their spread one, so size and form come out as meant.</summary>
    private static readonly double[] Places = [-0.5, 0.5, -0.2, 0.3, -0.3, 0.2];

    private sealed record Lot(string Family, string Class, int Housings, int Valves, double BoreLow, double BoreSpan, double SpoolLow,
        double SpoolSpan);

    public static void Build(Shop shop, Family[] families)
    {
        var gauges = shop.Sheet("gauges", "code,kind,uncertainty_um,calibrated_on,due_on");
        foreach (var (code, kind, u, on, due) in new[]
        {
            ("AG-1", "air gauge, bores 14 to 20 mm", "0.6", "2026-03-16", "2027-03-16"), ("AG-2", "air gauge, bores 14 to 20 mm", "0.8",
                "2026-05-04", "2027-05-04"),
            ("IM-1", "indicating micrometer, 0 to 25 mm", "0.7", "2026-03-16", "2027-03-16"), ("IM-2", "indicating micrometer, 0 to 25 mm",
                "0.9", "2026-08-24", "2027-08-24"),
            ("BG-1", "two-point bore gauge", "1.8", "2026-01-12", "2027-01-12"), ("OM-1", "outside micrometer, 0 to 25 mm", "3.0",
                "2025-06-30", "2026-06-30"),
        }) gauges.Row(code, kind, u, on, due);

        var cores = shop.Sheet("cores", "tag,family,variant,serial,condition,received_on,received_from,deposit");
        // Deposits follow the size of the pump. A core without a tag keeps its variant open; one may even keep its family open.
        var senders = new[] { "Oster Lock Boatyard", "Fenside Farm Services", "Tarn Valley Buses", "Quay Lift Hire", "counter" };
        var conditions = new[] { "complete", "complete", "leaking, complete", "seized", "incomplete, no pulley", "complete",
            "housing cracked" };
        var tornDown = new HashSet<int>();
        for (var index = 1; index <= Cores; index++)
        {
            var variant = CoreVariant(shop, index);
            var known = Identified(index);
            var serial = known ? NthSerial(variant, index * 37) : "";
            var received = new DateOnly(2026, 4, 6).AddDays(index * 6);
            cores.Row($"C-{index:0000}", index == UnknownCore ? "" : variant.Family.Code, known ? variant.Code : "", serial,
                conditions[index % conditions.Length], received.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
                    senders[index % senders.Length],
                new Money(Math.Round(variant.Family.Size * 25m / 5m) * 5m));
        }

        var units = shop.Sheet("units", "tag,role,family,pressure_class,part,location,core,shim_count,shim_stack_mm,paired_with");
        var measurements = shop.Sheet("measurements", "unit,characteristic,taken_at,gauge,temperature_c,readings_mm");
        var clock = new DateTime(2026, 10, 5, 6, 30, 0, DateTimeKind.Utc);
        var housings = 0;
        var valves = 0;

        void Measure(string tag, bool bore, Family family, double offsetUm, double formUm, string gauge, double celsius)
        {
            // The thermal growth is in the reading and must come out again at 20 degrees.
            var alpha = bore ? family.Aluminium ? 23e-6 : 10.5e-6 : 11.5e-6;
            var at20 = (double)family.BoreMm + offsetUm / 1000;
            var readings = Places.Select(place => ((at20 + place * formUm / 1000) * (1 + alpha * (celsius - 20))).ToString("0.0000",
                CultureInfo.InvariantCulture));
            measurements.Row(tag, bore ? "bore" : "spool", clock.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture), gauge,
                celsius.ToString("0.0", CultureInfo.InvariantCulture), string.Join(';', readings));
            clock = clock.AddMinutes(clock.Hour >= 14 ? 17 * 60 - 1 : 7);
        }

        string Unit(bool bore, Family family, string pressure, string location, string core, string pairedWith)
        {
            var tag = bore ? $"H-{++housings:0000}" : $"V-{++valves:0000}";
            var part = bore ? family.Number(6, 101) : family.Number(5, int.Parse(pressure.AsSpan(1), CultureInfo.InvariantCulture));
            // Shims are what the maker put there: one to four of 0.15 mm, recorded with the valve they were found under.
            var shims = 1 + valves * 3 % 4;
            units.Row(tag, bore ? "housing" : "valve", family.Code, bore ? "" : pressure, part, location, core, bore ? "" : shims,
                bore ? "" : (shims * 0.15m).ToString("0.00", CultureInfo.InvariantCulture), pairedWith);
            return tag;
        }

        // Pairs as received choose their cores first: what is left gives loose halves.
        var together = new[] { ("VS30", "P085", 13.2), ("OM45", "P085", 16.4), ("OM45", "P105", 18.1), ("PA15", "P070", 12.6) }
            .Select(pair => (Family: families.First(f => f.Code == pair.Item1), Pressure: pair.Item2, Clearance: pair.Item3))
            .Select(pair => (pair.Family, pair.Pressure, pair.Clearance, NextCore(shop, pair.Family, pair.Pressure, tornDown)))
            .ToList();
        var lots = new Lot[]
        {
            new("VS30", "P070", 12, 12, 2, 14, -14, 14), new("VS30", "P085", 6, 6, 4, 14, -14, 12), new("OM45", "P085", 5, 5, 2, 16, -16,
                14), new("OM45", "P105", 7, 7, 3, 16, -17, 16),
            new("PA15", "P070", 7, 7, 1, 13, -13, 12), new("PA15", "P085", 3, 3, 2, 12, -12, 11),
        };
        foreach (var lot in lots)
        {
            var family = families.First(f => f.Code == lot.Family);
            for (var index = 1; index <= lot.Housings; index++)
            {
                var tag = Unit(true, family, lot.Class, "U-01", index == 1 ? NextCore(shop, family, lot.Class, tornDown) : "", "");
                var form = Form(family, housings, 9);
                Measure(tag, true, family, lot.BoreLow + lot.BoreSpan * Spread(housings), form, housings % 3 == 0 ? "AG-2" : "AG-1",
                    Morning(housings, family.Aluminium));
                // Every eighth bore was read again by the other gauge the same morning: the repeat stands.
                if (housings % 8 == 0) Measure(tag, true, family, lot.BoreLow + lot.BoreSpan * Spread(housings) + 0.3, form, "AG-2",
                    Morning(housings, family.Aluminium) + 0.4);
            }
            for (var index = 1; index <= lot.Valves; index++)
            {
                var tag = Unit(false, family, lot.Class, "U-02", index == 1 ? NextCore(shop, family, lot.Class, tornDown) : "", "");
                Measure(tag, false, family, lot.SpoolLow + lot.SpoolSpan * Spread(valves * 2 + 1), Form(family, valves, 13),
                    valves % 4 == 0 ? "IM-2" : "IM-1", Morning(valves + 3, false));
            }
        }
        // Came in together, never apart, fit as they are: pairs as received. Of 70 bar VS30 there is none.
        foreach (var (family, pressure, clearance, core) in together)
        {
            var housing = Unit(true, family, pressure, "U-03", core, $"V-{valves + 1:0000}");
            var valve = Unit(false, family, pressure, "U-03", core, housing);
            Measure(housing, true, family, 6 + clearance / 10, 1.2, "AG-1", 20.6);
            Measure(valve, false, family, 6 + clearance / 10 - clearance, 0.8, "IM-1", 20.6);
        }
    }

    private static double Spread(int index) => index * GoldenSection % 1.0;

    /// <summary>Half a micrometre to a little over two; every so-many-th unit is worn out of round beyond the family's limit.</summary>
    private static double Form(Family family, int index,
        int every) => index % every == 0 ? family.FormUm + 0.8 : 0.5 + 1.4 * Spread(index * 5);

    /// <summary>The measuring room of the day: 19 to 22 degrees; an aluminium housing now and then still warm from the washer.</summary>
    private static double Morning(int index, bool mayBeWarm) => mayBeWarm && index % 5 == 0 ? 27.5 : Math.Round(19.0 + 3.0 * Spread(index * 3), 1);

    /// <summary>The next identified core of the family and class that has not given anything yet; empty when the origin is not known any more.</summary>
    private static string NextCore(Shop shop, Family family, string pressure, HashSet<int> tornDown)
    {
        for (var index = 1; index <= Cores; index++)
        {
            var variant = CoreVariant(shop, index);
            if (Identified(index) && variant.Family == family && variant.Class.Code == pressure && tornDown.Add(index)) return $"C-{index:0000}";
        }
        return "";
    }

    /// <summary>Every sixth core came without its tag.</summary>
    private static bool Identified(int core) => core % 6 != 0;

    private static Variant CoreVariant(Shop shop, int index) => shop.Variants[index * 5 % shop.Variants.Count];

    private static string NthSerial(Variant variant, int nth)
    {
        var first = variant.SerialFrom;
        var digits = first.Length;
        while (digits > 0 && char.IsAsciiDigit(first[digits - 1])) digits--;
        var number = int.Parse(first.AsSpan(digits), CultureInfo.InvariantCulture) + nth;
        return first[..digits] + number.ToString(CultureInfo.InvariantCulture).PadLeft(first.Length - digits, '0');
    }
}
