using CsCheck;
using PartsLedger.Domain.Fit.Measuring;
using PartsLedger.Domain.Measures;

namespace PartsLedger.Domain.Tests.Fit.Measuring;

/// <summary>
/// Published values: the house's table of check values, section C. Each says what it rests on: seen in a copy of the source, computed, or from
/// memory.
/// </summary>
public sealed class ThermalExpansionTests
{
    /// <summary>
    /// Carbon steel 11.5e-6 and cast iron 10.5e-6 per K: table at machinemfg.com/thermal-expansion-formulas-coefficients-for-metals (seen in
    /// this copy only), 11.5e-6 also in GUM H.1; pure aluminium 23e-6: same table.
    /// </summary>
    [Theory]
    [InlineData("steel", 11_500)]
    [InlineData(" STEEL ", 11_500)]
    [InlineData("cast iron", 10_500)]
    [InlineData("Cast-Iron", 10_500)]
    [InlineData("aluminium", 23_000)]
    [InlineData("Aluminum", 23_000)]
    public void A_metal_is_known_by_its_name_without_regard_to_case(string name, long perBillion) =>
        Assert.Equal(perBillion, ThermalExpansion.Of(name).Result.PerBillion);

    [Theory]
    [InlineData(null, "MATERIAL_MISSING")]
    [InlineData(" ", "MATERIAL_MISSING")]
    [InlineData("cheese", "MATERIAL_UNKNOWN")]
    public void An_unknown_metal_is_refused(string? name, string code) => Assert.Equal(code, ThermalExpansion.Of(name).Refusal!.Code);

    [Fact]
    public void A_family_may_state_its_own_expansion()
    {
        Assert.Equal(10_650, ThermalExpansion.FromPerKelvin(10.65e-6m).Result.PerBillion);
        Assert.Equal("EXPANSION_RANGE", ThermalExpansion.FromPerKelvin(11.5m).Refusal!.Code);
        Assert.Equal("EXPANSION_RANGE", ThermalExpansion.FromPerKelvin(-1e-6m).Refusal!.Code);
    }

    /// <summary>Growth of 16 mm over 6 K and of 25 mm over 10 K in steel, cast iron and aluminium: computed, L α ΔT (section C).</summary>
    [Theory]
    [InlineData("steel", 16, 26, 1_104)]
    [InlineData("cast iron", 16, 26, 1_008)]
    [InlineData("aluminium", 16, 26, 2_208)]
    [InlineData("steel", 25, 30, 2_875)]
    [InlineData("cast iron", 25, 30, 2_625)]
    [InlineData("aluminium", 25, 30, 5_750)]
    public void A_length_grows_by_its_metal(string metal, int millimetres, int celsius, long nanometres) =>
        Assert.Equal(nanometres, (ThermalExpansion.Of(metal).Result.At(Mm(millimetres), celsius * 1000) - Mm(millimetres)).Nanometres);

    /// <summary>
    /// An aluminium part read with a steel gauge, both at 26 °C, reading 16.000000: 15.998896 mm at 20 °C; computed,
    /// 16 (1 + 11.5e-6 × 6)/(1 + 23e-6 × 6) (section C).
    /// </summary>
    [Fact]
    public void A_part_read_with_a_gauge_of_another_metal() =>
        Assert.Equal(15_998_896, ThermalExpansion.Aluminium.At20(ThermalExpansion.Steel.At(Mm(16), 26_000), 26_000).Nanometres);

    /// <summary>
    /// Clearance of 16 mm from 20 to 80 °C around a steel spool: +11.04 µm in an aluminium bore, −0.96 µm in a cast-iron one; computed,
    /// 16000 (α_bore − α_spool) 60 (section C).
    /// </summary>
    [Theory]
    [InlineData("aluminium", 11_040)]
    [InlineData("cast iron", -960)]
    public void Clearance_changes_when_housing_and_valve_are_of_different_metals(string housing, long nanometres) =>
        Assert.Equal(nanometres, ThermalExpansion.ClearanceAt(80_000, Mm(16), ThermalExpansion.Of(housing).Result, Mm(16), ThermalExpansion.Steel).Nanometres);

    [Fact]
    public void Halves_of_a_nanometre_are_rounded_away_from_zero()
    {
        // 1 mm of 500e-9 per K over 1 K is half a nanometre.
        var metal = ThermalExpansion.FromPerKelvin(500e-9m).Result;
        Assert.Equal(1_000_001, metal.At(Mm(1), 21_000).Nanometres);
        Assert.Equal(-1_000_001, metal.At(Length.FromNanometres(-1_000_000), 21_000).Nanometres);
        Assert.Equal(1_000_000, metal.At(Mm(1), 20_999).Nanometres);
    }

    /// <summary>
    /// The end gauge of GUM (JCGM 100) H.1, as copied in the documentation of a public uncertainty library (MSLNZ/GTC, docs/API/GUM_H1.rst, read
    /// whole): 50 000 623 nm of standard and 215 nm of difference give 50 000 838 nm. Its means of α and θ differences are zero; the term
    /// of the temperature difference alone, 0.05 K / √3 of steel on 50 mm, is printed as 16.6 nm (16.599 in the table).
    /// </summary>
    [Fact]
    public void The_thermal_part_of_the_end_gauge_in_the_guide()
    {
        var standard = Length.FromNanometres(50_000_623);
        Assert.Equal(50_000_838, (standard + Length.FromNanometres(215)).Nanometres);

        var halfWidth = ThermalExpansion.Steel.At(standard, 20_050) - standard;
        Assert.Equal(29, halfWidth.Nanometres);
        Assert.Equal(16.599, 50_000_623 * 11.5e-6 * 0.05 / Math.Sqrt(3), 0.001);
        Assert.Equal(16.599, halfWidth.Nanometres / Math.Sqrt(3), 0.5);
    }

    [Fact]
    public void Warmed_and_cooled_again_a_length_is_the_same_within_a_nanometre() =>
        Gen.Select(Gen.Long[1, 200_000_000], Gen.Int[-40_000, 150_000], Gen.Long[0, 30_000]).Sample((nanometres, milliCelsius, perBillion) =>
        {
            var metal = ThermalExpansion.FromPerKelvin(perBillion / 1_000_000_000m).Result;
            var back = metal.At20(metal.At(Length.FromNanometres(nanometres), milliCelsius), milliCelsius);
            Assert.InRange(back.Nanometres, nanometres - 1, nanometres + 1);
        });

    [Fact]
    public void Moving_between_two_temperatures_is_going_through_20_degrees() =>
        Gen.Select(Gen.Long[1, 200_000_000], Gen.Int[-40_000, 150_000], Gen.Int[-40_000, 150_000]).Sample((nanometres, from, to) =>
        {
            var length = Length.FromNanometres(nanometres);
            var through = ThermalExpansion.CastIron.At(ThermalExpansion.CastIron.At20(length, from), to);
            Assert.InRange(ThermalExpansion.CastIron.Moved(length, from, to).Nanometres, through.Nanometres - 1, through.Nanometres + 1);
        });

    [Fact]
    public void A_temperature_no_pump_has_is_a_bug_of_the_caller() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => ThermalExpansion.Steel.At(Mm(16), 900_000));

    private static Length Mm(long millimetres) => Length.FromNanometres(millimetres * Length.NanometresPerMillimetre);
}
