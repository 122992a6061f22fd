using PartsLedger.Integration.Tests.Databases;
using PartsLedger.Integration.Tests.Exchange;

namespace PartsLedger.Integration.Tests.Jobs;

/// <summary>
/// An invented shop for jobs: one selective family in two classes, a reseal kit that brings more rings than are needed, an element kit, an
/// assembly, and springs that differ by class. Filled as a shop fills itself: by files.
/// </summary>
internal static class JobShop
{
    public static async Task Fill(Store store)
    {
        using var scene = new ImportScene(store);
        foreach (var (kind, text) in Files) scene.Write(kind, text);
        var report = await scene.Import();
        Assert.False(Directory.Exists(scene.Rejects) && Directory.GetFiles(scene.Rejects) is { Length: > 0 },
            string.Join('\n', Rejected(scene)));
        Assert.NotNull(report);
    }

    private static IEnumerable<string> Rejected(ImportScene scene) =>
        Directory.Exists(scene.Rejects) ? Directory.GetFiles(scene.Rejects).Select(File.ReadAllText) : [];

    private static readonly Dictionary<string, string> Files = new()
    {
        ["pressure-classes"] = "code,name,relief_kpa,minus_kpa,plus_kpa\nP055,55 bar,5500,200,300\nP070,70 bar,7000,250,350\n",
        ["families"] = "code,name,displacement_cc,valve_fit,bore_mm,clearance_min_um,clearance_target_um,clearance_max_um,form_limit_um,land_length_mm,housing_material,valve_material\n"
            + "VS30,Vane pump,29.6,selective,15.875,8,14,20,3,11,cast iron,steel\n",
        ["parts"] = ImportScene.Parts
            + "10-SEAL,Shaft seal,seal,separate,,lot,pc,4,,5,yes\n10-RING,O-ring,seal,separate,,bulk,pc,0.50,,5,yes\n10-CAP,Cap,seal,kit-only,,bulk,pc,0.10,,5,yes\n"
            + "20-ROTOR,Rotor,rotating,kit-only,,bulk,pc,20,,9,yes\n20-VANE,Vane,rotating,kit-only,,bulk,pc,1,,9,yes\n"
            + "30-HSG,Housing,housing,assembly-only,,bulk,pc,40,,30,yes\n30-VLV,Valve,valve,assembly-only,,bulk,pc,30,,30,yes\n"
            + "40-SPR,Relief spring 55,spring,separate,P055,bulk,pc,2,,5,yes\n41-SPR,Relief spring 70,spring,separate,P070,bulk,pc,2,,5,yes\n"
            + "50-BOLT,Bolt,hardware,separate,,bulk,pc,0.20,,2,yes\n51-BOLT,Bolt long,hardware,separate,,bulk,pc,0.25,,2,yes\n"
            + "80-RSL,Reseal kit,kit,separate,,lot,pc,5,,7,yes\n80-ELM,Element kit,kit,separate,,lot,pc,28,,14,yes\n81-OUT,Bag with the element kit,kit,separate,,lot,pc,60,,14,yes\n"
            + "90-ASM,Housing with valve 55,assembly,separate,P055,lot,pc,120,,30,yes\n91-ASM,Housing with valve 70,assembly,separate,P070,lot,pc,120,,30,yes\n",
        ["contents"] = "pack,part,quantity\n80-RSL,10-SEAL,1\n80-RSL,10-RING,6\n80-RSL,10-CAP,1\n80-ELM,20-ROTOR,1\n80-ELM,20-VANE,10\n"
            + "90-ASM,30-HSG,1\n90-ASM,30-VLV,1\n90-ASM,40-SPR,1\n91-ASM,30-HSG,1\n91-ASM,30-VLV,1\n91-ASM,41-SPR,1\n",
        ["variants"] = "code,family,pressure_class,built_from,built_to,serial_from,serial_to,rotation,note\nVS30-055,VS30,P055,,,,,cw,\nVS30-070,VS30,P070,,,,,cw,\n",
        ["positions"] = "variant,position,name,part,quantity,group,renew\n" + Positions("VS30-055", "40-SPR") + Positions("VS30-070",
        "41-SPR"),
        ["locations"] = "code,name,kind\nA-01,Drawer,bin\nA-02,Drawer,bin\nB-01,Drawer,bin\nBENCH,Bench,bench\nQ-01,Hold,quarantine\n",
        ["stock"] = "part,location,lot,quantity,condition\n10-RING,A-01,,20,new\n50-BOLT,A-02,,40,new\n51-BOLT,A-02,,40,new\n40-SPR,B-01,,4,new\n41-SPR,B-01,,4,new\n",
        ["cautions"] = "applies_to,text,severity\n*,Put the shims back as they came.,warning\n*,Bleed the system before the first start.,caution\n",
        ["checks"] = "family,variant,sequence,text,expected,unit,low,high\nVS30,,10,Dowel above the cam ring,4.76 mm,mm,4.66,4.86\n"
            + "VS30,,20,Passages seen through the ports,6,passages,6,6\nVS30,,30,Shaft turns freely by hand,freely,,,\n",
        ["tools"] = "family,variant,name,note\nVS30,,Pulley puller,\n",
        ["gauges"] = "code,kind,uncertainty_um,calibrated_on,due_on\nAG-1,air gauge,0.5,2031-01-10,2032-01-10\nAG-2,air gauge,0.5,2031-01-10,2032-01-10\n",
    };

    private static string Positions(string variant, string spring) =>
        $"{variant},1,Shaft seal,10-SEAL,1,seal,always\n{variant},2,Cover ring,10-RING,4,seal,always\n{variant},3,Rotor,20-ROTOR,1,rotating,if-worn\n"
        + $"{variant},4,Vanes,20-VANE,10,rotating,if-worn\n{variant},5,Housing,30-HSG,1,body,if-worn\n{variant},6,Valve,30-VLV,1,valve,if-worn\n"
        + $"{variant},7,Relief spring,{spring},1,hardware,if-worn\n{variant},8,Bolts,50-BOLT,4,hardware,if-worn\n";
}
