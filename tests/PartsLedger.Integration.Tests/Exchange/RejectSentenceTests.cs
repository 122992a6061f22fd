using PartsLedger.Integration.Tests.Databases;

namespace PartsLedger.Integration.Tests.Exchange;

/// <summary>Every sentence with its line and column. Each case is one bad row (or two that do not go together) in an otherwise good shop.</summary>
public sealed class RejectSentenceTests(SqliteStore store) : Specification<SqliteStore>(store)
{
    [Theory]
    // Words, texts, numbers, dates.
    [InlineData("parts", "kind", "'sael' is not known here; write one of seal, rotating, plate, spring, valve, housing, hardware, kit, assembly, fluid, tool.", "030-1,X,sael,,,,,,,,")]
    [InlineData("parts", "kind", "The cell is empty; write one of seal, rotating, plate, spring, valve, housing, hardware, kit, assembly, fluid, tool.", "030-1,X,,,,,,,,,")]
    [InlineData("parts", "service", "'sold' is not known here; write one of separate, kit-only, assembly-only, none.", "030-1,X,seal,sold,,,,,,,")]
    [InlineData("parts", "number", "The cell is empty; it must be filled in.", ",X,seal,,,,,,,,")]
    [InlineData("parts", "number", "'--/' has no letter or digit, so it is no part number.", "--/,X,seal,,,,,,,,")]
    [InlineData("parts", "name", "The cell is empty; it must be filled in.", "030-1, ,seal,,,,,,,,")]
    [InlineData("parts", "name", "The text holds a control character (number 7); take it out.", "030-1,a\ab,seal,,,,,,,,")]
    [InlineData("parts", "unit", "The text has 21 characters; at most 20 can be kept.", "030-1,X,seal,,,,123456789012345678901,,,,")]
    [InlineData("parts", "cost", "'4,80' is no amount; write it with a point and without separators of thousands or units or currency.", "030-1,X,seal,,,,,\"4,80\",,,")]
    [InlineData("parts", "cost", "-1 is below zero.", "030-1,X,seal,,,,,-1,,,")]
    [InlineData("parts", "price", "0.00001 is finer than a ten-thousandth or too large to be an amount.", "030-1,X,seal,,,,,,0.00001,,")]
    [InlineData("parts", "lead_days", "'2.5' is no whole number.", "030-1,X,seal,,,,,,,2.5,")]
    [InlineData("parts", "lead_days", "-1 is out of range; write a whole number from 0 to 3650.", "030-1,X,seal,,,,,,,-1,")]
    [InlineData("parts", "supplied", "'maybe' is neither yes nor no.", "030-1,X,seal,,,,,,,,maybe")]
    [InlineData("parts", "pressure_class", "There is no pressure class 'P07'; the nearest known are P070, P085.", "030-1,X,seal,,P07,,,,,,")]
    [InlineData("parts", "number", "The same number already stands in line 2; leave one of the two rows.", "0201001,X,seal,,,,,,,,")]
    [InlineData("parts", "kind, cost", "kind: 'x' is not known here; write one of seal, rotating, plate, spring, valve, housing, hardware, kit, assembly, fluid, tool. cost: -1 is below zero.", "030-1,X,x,,,,,-1,,,")]
    [InlineData("parts", "", "The row has 3 cells where the header has 11; write the empty ones too.", "030-1,X,seal")]
    [InlineData("parts", "", "The row has 12 cells where the header has 11; a cell that holds the separator must stand in double quotes.", "030-1,X,Y,seal,,,,,,,,yes")]
    [InlineData("parts", "", "Text follows a closing double quote; a double quote inside a quoted cell is written twice.", "030-1,\"3/16\" dowel\",hardware,,,,,,,,")]
    [InlineData("pressure-classes", "relief_kpa", "The relief pressure must be above zero.", "P1,X,0,0,0")]
    [InlineData("pressure-classes", "minus_kpa", "The width below the relief pressure is greater than the relief pressure itself.", "P1,X,100,200,0")]
    [InlineData("pressure-classes", "plus_kpa", "The width above the relief pressure cannot be below zero.", "P1,X,100,0,-1")]
    [InlineData("pressure-classes", "relief_kpa", "'high' is no measure; write a number such as 15.875 or 3/16 with a point and without separators of thousands.", "P1,X,high,0,0")]
    [InlineData("pressure-classes", "relief_kpa", "'70 at' has an unknown unit; write one of kPa, bar, MPa, psi, or none.", "P1,X,70 at,0,0")]
    [InlineData("pressure-classes", "relief_kpa", "0.0001 is finer than a pascal.", "P1,X,0.0001,0,0")]
    [InlineData("pressure-classes", "relief_kpa", "999999999999999999 is too large.", "P1,X,999999999999999999,0,0")]
    [InlineData("families", "bore_mm", "The bore must be above zero.", "F1,X,,selective,0,,,")]
    [InlineData("families", "bore_mm", "0.0000001 is finer than a nanometre.", "F1,X,,selective,0.0000001,,,")]
    [InlineData("families", "displacement_cc", "The displacement must be above zero.", "F1,X,0,selective,,,,")]
    [InlineData("families", "clearance_target_um", "The range stands the wrong way round: clearance_min_um 8 comes after clearance_target_um 7.", "F1,X,,selective,,8,7,20")]
    [InlineData("families", "clearance_max_um", "The range stands the wrong way round: clearance_min_um 8 comes after clearance_max_um 5.", "F1,X,,selective,,8,,5")]
    [InlineData("variants", "family", "There is no family 'VR2'; the nearest known are VR20, VS30.", "V1,VR2,P070,,,,,,")]
    [InlineData("variants", "built_to", "The range stands the wrong way round: built_from 2005 comes after built_to 2004-12.", "V1,VS30,P070,2005,2004-12,,,,")]
    [InlineData("variants", "serial_to", "The range stands the wrong way round: serial_from A10 comes after serial_to A9.", "V1,VS30,P070,,,A10,A9,,")]
    [InlineData("variants", "built_from", "'May 2005' is no date; write yyyy-mm-dd, yyyy-mm or yyyy.", "V1,VS30,P070,May 2005,,,,,")]
    [InlineData("variants", "built_from", "The production range of V1 overlaps that of VR20-070-R (in line 2), of the same family, class and rotation; a pump must belong to one of them.", "V1,VR20,P070,2009,2009-06,,,CW,")]
    [InlineData("locations", "kind", "'shelf' is not known here; write one of bin, bench, quarantine, dock.", "B-1,X,shelf")]
    [InlineData("feature-guide", "seconds", "-5 is out of range; write a whole number from 0 to 86400.", "f,What?,-5,no")]
    public async Task A_bad_row_of_the_shop_is_told(string kind, string column, string sentence, string row)
    {
        using var scene = new ImportScene(Store).WriteShop();
        scene.Write(kind, ImportScene.Shop[kind] + row + "\n");
        var line = ImportScene.Shop[kind].Count(character => character == '\n') + 1;

        var report = await scene.Import();

        var reject = Assert.Single(report.Kinds.SelectMany(found => found.Rejects));
        Assert.Equal((line, column, sentence), (reject.Line, reject.Columns, reject.Reason));
        Assert.Equal(3, report.ExitStatus);
        Assert.Equal(ImportScene.Shop.Values.Sum(text => text.Count(character => character == '\n') - 1), report.Taken);
    }

    [Theory]
    [InlineData("aliases", "number,part,source", "part", "There is no part '020-1009'; the nearest known are 020-1001, 020-1002, 020-7001.", "X1,020-1009,\n")]
    [InlineData("contents", "pack,part,quantity", "pack", "There is no part '999'; the nearest known are 020-9001, 020-1001, 020-1002.", "999,020-1001,1\n")]
    [InlineData("contents", "pack,part,quantity", "quantity", "The quantity must be above zero.", "020-8001,020-1001,0\n")]
    [InlineData("contents", "pack,part,quantity", "quantity", "-2 is below zero.", "020-8001,020-1001,-2\n")]
    [InlineData("contents", "pack,part,quantity", "quantity", "The cell is empty; say how many.", "020-8001,020-1001,\n")]
    [InlineData("contents", "pack,part,quantity", "quantity", "'two' is no number; write it with a point and without separators of thousands or units.", "020-8001,020-1001,two\n")]
    [InlineData("contents", "pack,part,quantity", "quantity", "0.0001 is finer than a thousandth or too large to be a quantity.", "020-8001,020-7001,0.0001\n")]
    [InlineData("contents", "pack,part,quantity", "quantity", "2000000000 is too many to be true.", "020-8001,020-7001,2000000000\n")]
    [InlineData("contents", "pack,part,quantity", "quantity", "1.5 is not whole, and part 020-1001 is counted in whole pieces (pc).", "020-8001,020-1001,1.5\n")]
    [InlineData("contents", "pack,part,quantity", "part", "A pack cannot hold itself.", "020-8001,0208001,1\n")]
    [InlineData("contents", "pack,part,quantity", "pack", "The same pack and part already stands in line 2; leave one of the two rows.", "020-8001,020-1001,1\n0208001,020 1001,2\n", 3)]
    [InlineData("contents", "pack,part,quantity", "part", "A pack cannot hold itself at any depth: 020-8002 holds 020-9001 holds 020-8001 holds 020-8002.", "020-9001,020-8001,1\n020-8001,020-8002,1\n020-8002,020-9001,1\n", 4)]
    [InlineData("supersessions", "old,new,quantity,rule", "new", "A number cannot take its own place.", "020-1001,020-1001,1,replace\n")]
    [InlineData("supersessions", "old,new,quantity,rule", "new", "A number cannot take its own place in the end: 020-1002 became 020-1001 became 020-1002.", "020-1001,020-1002,1,replace\n020-1002,020-1001,1,replace\n", 3)]
    [InlineData("supersessions", "old,new,quantity,rule", "rule", "020-8002 has the rule replace in line 2; all rows of one old number must have the same rule.", "020-8002,020-8001,1,\n020-8002,020-1001,1,use-up\n", 3)]
    [InlineData("supersessions", "old,new,quantity,rule", "rule", "'swap' is not known here; write one of replace, use-up.", "020-8002,020-8001,1,swap\n")]
    [InlineData("supersessions", "old,new,quantity,rule", "quantity", "0.5 is not whole, and part 020-8001 is counted in whole pieces (pc).", "020-8002,020-8001,0.5,\n")]
    [InlineData("positions", "variant,position,name,part,quantity,group,renew", "variant", "There is no variant 'VR20-070'; the nearest known are VR20-070-R, VR20-070-R2.", "VR20-070,1,Seal,020-1001,1,seal,always\n")]
    [InlineData("positions", "variant,position,name,part,quantity,group,renew", "position", "0 is out of range; write a whole number from 1 to 100000.", "VR20-070-R,0,Seal,020-1001,1,seal,always\n")]
    [InlineData("positions", "variant,position,name,part,quantity,group,renew", "group", "'seals' is not known here; write one of seal, rotating, valve, body, hardware, external.", "VR20-070-R,1,Seal,020-1001,1,seals,always\n")]
    [InlineData("positions", "variant,position,name,part,quantity,group,renew", "renew", "The cell is empty; write one of always, if-worn.", "VR20-070-R,1,Seal,020-1001,1,seal,\n")]
    [InlineData("positions", "variant,position,name,part,quantity,group,renew", "variant", "The same variant and position already stands in line 2; leave one of the two rows.", "VR20-070-R,1,Seal,020-1001,1,seal,always\nvr20-070-r,1,Seal,020-1001,1,seal,always\n", 3)]
    [InlineData("applications", "make,model,year_from,year_to,option,variant", "year_to", "The range stands the wrong way round: year_from 2005 comes after year_to 2004.", "M,N,2005,2004,,VR20-070-R\n")]
    [InlineData("applications", "make,model,year_from,year_to,option,variant", "year_from", "99 is out of range; write a whole number from 1850 to 2200.", "M,N,99,,,VR20-070-R\n")]
    [InlineData("applications", "make,model,year_from,year_to,option,variant", "make", "The same make and model and year_from and variant already stands in line 2; leave one of the two rows.", "M,N,2005,,,VR20-070-R\nm,n,2005,2009,,VR20-070-R\n", 3)]
    [InlineData("features", "variant,feature,value", "feature", "There is no feature 'colour'; the nearest known is drive.", "VR20-070-R,colour,red\n")]
    [InlineData("features", "variant,feature,value", "value", "The cell is empty; it must be filled in.", "VR20-070-R,drive,\n")]
    [InlineData("stock", "part,location,lot,quantity,condition", "location", "There is no location 'A-1'; the nearest known are A-01, A-02, Q-01.", "020-1001,A-1,,1,new\n")]
    [InlineData("stock", "part,location,lot,quantity,condition", "lot", "Part 020-1002 is tracked by lot; say which lot this is.", "020-1002,A-01,,1,new\n")]
    [InlineData("stock", "part,location,lot,quantity,condition", "lot", "Part 020-9001 is tracked by serial; say which serial number this is.", "020-9001,A-01,,1,new\n")]
    [InlineData("stock", "part,location,lot,quantity,condition", "quantity", "Part 020-9001 is tracked one by one; a serial number is one piece.", "020-9001,A-01,S-1,2,new\n")]
    [InlineData("stock", "part,location,lot,quantity,condition", "lot", "Serial number s-1 of 020-9001 already lies in A-01 (line 2); one piece cannot lie in two places.", "020-9001,A-01,S-1,1,new\n020-9001,A-02,s-1,1,new\n", 3)]
    [InlineData("stock", "part,location,lot,quantity,condition", "quantity", "2.5 is not whole, and part 020-1001 is counted in whole pieces (pc).", "020-1001,A-01,,2.5,new\n")]
    [InlineData("stock", "part,location,lot,quantity,condition", "quantity", "-1 is below zero.", "020-1001,A-01,,-1,new\n")]
    [InlineData("stock", "part,location,lot,quantity,condition", "condition", "'quarantine' is not known here; write one of new, rebuilt, used.", "020-1001,A-01,,1,quarantine\n")]
    [InlineData("stock", "part,location,lot,quantity,condition", "part", "The same part and location already stands in line 2; leave one of the two rows.", "020-1001,A-01,,1,new\n020-1001,A-01,,1,used\n", 3)]
    [InlineData("cautions", "applies_to,text,severity", "applies_to", "'seals' is no group (seal, rotating, valve, body, hardware, external), part or family, and not *. There is no part 'seals'; the nearest known are 020-1001, 020-1002, 020-7001.", "seals,Mind.,\n")]
    [InlineData("cautions", "applies_to,text,severity", "severity", "'danger' is not known here; write one of note, caution, warning.", "*,Mind.,danger\n")]
    [InlineData("checks", "family,variant,sequence,text,expected,unit,low,high", "family", "Fill in the family or the variant.", ",,1,Look.,,,,\n")]
    [InlineData("checks", "family,variant,sequence,text,expected,unit,low,high", "family", "Fill in either the family or the variant, not both.", "VR20,VR20-070-R,1,Look.,,,,\n")]
    [InlineData("checks", "family,variant,sequence,text,expected,unit,low,high", "high", "The range stands the wrong way round: low 2 comes after high 1.", "VR20,,1,Look.,,mm,2,1\n")]
    [InlineData("checks", "family,variant,sequence,text,expected,unit,low,high", "low", "0.0000001 is finer than a millionth.", "VR20,,1,Look.,,mm,0.0000001,1\n")]
    [InlineData("tools", "family,variant,name,note", "family", "The same family and name already stands in line 2; leave one of the two rows.", "VR20,,Puller,\nVR20,,puller,\n", 3)]
    public async Task A_bad_row_of_another_file_is_told(string kind, string header, string column, string sentence, string rows, int line = 2)
    {
        using var scene = new ImportScene(Store).WriteShop().Write(kind, header + "\n" + rows);

        var report = await scene.Import();

        var reject = Assert.Single(report.Kinds.SelectMany(found => found.Rejects));
        Assert.Equal((line, column, sentence), (reject.Line, reject.Columns, reject.Reason));
        Assert.Equal(rows.Count(character => character == '\n') - 1, report.Kinds.Single(found => found.Kind == kind).New);
    }

    [Fact]
    public async Task A_row_that_depends_on_a_rejected_row_says_so()
    {
        using var scene = new ImportScene(Store).WriteShop();
        scene.Write("parts", ImportScene.Shop["parts"] + "030-1,X,nonsense,,,,,,,,\n").Write("contents", "pack,part,quantity\n020-8001,030.1,2\n");

        var report = await scene.Import();

        var reject = Assert.Single(report.Kinds.Single(kind => kind.Kind == "contents").Rejects);
        Assert.Equal("There is no part '030.1': its own row was rejected (parts.csv line 8). Correct that row first.", reject.Reason);
    }

    [Fact]
    public async Task A_rule_and_a_range_are_held_against_what_the_database_has_already()
    {
        using var scene = new ImportScene(Store).WriteShop().Write("contents", "pack,part,quantity\n020-8001,020-8002,1\n")
            .Write("supersessions", "old,new,quantity,rule\n020-8002,020-8001,1,replace\n");
        await scene.Import();
        scene.Write("contents", "pack,part,quantity\n020-8002,020-8001,1\n").Write("supersessions", "old,new,quantity,rule\n020-8002,020-1001,1,use-up\n")
            .Write("variants", "code,family,pressure_class,built_from,built_to,rotation\nV9,VR20,P070,2008,,cw\n");

        var report = await scene.Import();

        Assert.Equal(
        [
            "A pack cannot hold itself at any depth: 020-8002 holds 020-8001 holds 020-8002.",
            "020-8002 has the rule replace in the database, for 020-8001; all rows of one old number must have the same rule.",
            "The production range of V9 overlaps that of VR20-070-R (in the database), of the same family, class and rotation; a pump must belong to one of them.",
        ], report.Kinds.SelectMany(kind => kind.Rejects).Select(reject => reject.Reason));
    }

    [Fact]
    public async Task A_rule_may_be_changed_for_all_rows_of_an_old_number_at_once()
    {
        using var scene = new ImportScene(Store).WriteShop().Write("supersessions", "old,new,quantity,rule\n020-8002,020-8001,1,replace\n020-8002,020-1001,2,replace\n");
        await scene.Import();

        var report = await scene.Write("supersessions", "old,new,quantity,rule\n020-8002,020-8001,1,use-up\n020-8002,020-1001,2,use-up\n").Import();

        Assert.Equal((2, 0), (report.Kinds.Single(kind => kind.Kind == "supersessions").Changed, report.Rejected));
    }
}
