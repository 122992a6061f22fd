using PartsLedger.Data;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Fit.Conformity;
using PartsLedger.Domain.Fit.Flow;
using PartsLedger.Domain.Fit.Measuring;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;

namespace PartsLedger.Fit;

/// <summary>
/// Does this valve go into this housing: yes, no, or not to be told with these gauges; and what the clearance means with warm oil: how much
/// leaks past the spool at the class's relief pressure.
/// </summary>
public static class JudgeFit
{
    /// <param name="WarmCelsius">The pump's working temperature, −40 to 150 °C.</param>
    /// <param name="OilGrade">ISO viscosity grade of the oil.</param>
    /// <param name="IdleRpm">Speed at which the leak is compared with the pump's flow, 100 to 5000 a minute.</param>
    [AllowedToEveryone]
    public sealed record Query(string Housing, string Valve, decimal WarmCelsius = 80, int OilGrade = 32, int IdleRpm = 700) : IQuery<Answer>;

    /// <param name="Probability">That the true clearance is within the limits, 0 to 1.</param>
    /// <param name="Doubts">What could not be reckoned, and where a formula is near its limits.</param>
    public sealed record Answer(
        FitOutcome Outcome, decimal ClearanceUm, decimal DeviationUm, double Probability, string Sentence, decimal WarmClearanceUm, Band? LeakMlPerMinute,
        Band? LeakShareAtIdle, IReadOnlyList<string> Doubts);

    // A spool lies anywhere from the middle to the wall; an oil of a grade is within ten percent of it (ISO VG limits); how much of its
    // displacement a worn or a new pump delivers at idle is common practice, no source.
    private static readonly Band Eccentricity = Band.Between(0, 1, 0.5);
    private const double GradePercent = 10;

    public sealed class Handler(LedgerContext db, UnitDesk desk, SizedUnits sizes, ShopSettings settings, TimeProvider clock) : IQueryHandler<Query, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            if (query.WarmCelsius is < -40 or > 150) return new Refusal("TEMPERATURE_RANGE", $"{query.WarmCelsius} °C is no working temperature.", "Give −40 to 150 °C.");
            if (query.IdleRpm is < 100 or > 5000) return new Refusal("SPEED_RANGE", $"{query.IdleRpm} a minute is no idling speed.", "Give 100 to 5000 a minute.");
            var housing = await desk.Unit(query.Housing, cancellation);
            if (!housing.Succeeded) return housing.Refusal;
            var valve = await desk.Unit(query.Valve, cancellation);
            if (!valve.Succeeded) return valve.Refusal;
            if (housing.Result.Role != UnitRole.Housing) return UnitRefusals.WrongRole(housing.Result, UnitRole.Housing);
            if (valve.Result.Role != UnitRole.Valve) return UnitRefusals.WrongRole(valve.Result, UnitRole.Valve);
            if (housing.Result.FamilyId != valve.Result.FamilyId) return UnitRefusals.OtherFamily(housing.Result, valve.Result);
            var family = FamilyFit.Of(housing.Result.Family);
            if (!family.Limits.Succeeded) return family.Limits.Refusal;

            var (bore, spool) = await sizes.Read(housing.Result, valve.Result, family, DateOnly.FromDateTime(clock.GetUtcNow().UtcDateTime), cancellation);
            if ((bore.RefusedByTag ?? spool.RefusedByTag) is { } refused) return refused;
            var judged = new FitRule(family.Limits.Result, await settings.GuardFactor(db, cancellation)).Judge(bore.Half, spool.Half);

            var milli = (int)decimal.Round(query.WarmCelsius * 1000);
            var (ofHousing, ofValve) = (family.Metal(UnitRole.Housing, milli), family.Metal(UnitRole.Valve, milli));
            if (!ofHousing.Succeeded) return ofHousing.Refusal;
            if (!ofValve.Succeeded) return ofValve.Refusal;
            var warm = ThermalExpansion.ClearanceAt(milli, bore.Size!.Size, ofHousing.Result, spool.Size!.Size, ofValve.Result);
            var doubts = new List<string>();
            var (leak, share) = Leak(query, housing.Result.Family.LandLength, housing.Result.Family.Displacement, valve.Result.PressureClass?.Relief,
                bore, warm, FitRule.StandardUncertainty(bore.Half, spool.Half) * 2, doubts);
            return new Answer(judged.Outcome, judged.Clearance.ToMicrometres(), judged.Deviation.ToMicrometres(), judged.Probability, judged.Sentence,
                warm.ToMicrometres(), leak, share, doubts);
        }

        private static (Band? Leak, Band? Share) Leak(
            Query query, Length? land, Volume? displacement, Pressure? relief, SizedUnit bore, Length warm, double uncertainty, List<string> doubts)
        {
            if (land is not { } length || relief is not { } pressure)
            {
                doubts.Add("The leak is not reckoned: the family's land length or the valve's class is not known.");
                return (null, null);
            }
            if (warm <= Length.Zero)
            {
                doubts.Add("The leak is not reckoned: warm, the two would bind.");
                return (null, null);
            }
            var oil = HydraulicOil.OfGrade(query.OilGrade);
            if (!oil.Succeeded)
            {
                doubts.Add(oil.Refusal.ToString());
                return (null, null);
            }
            var celsius = (double)query.WarmCelsius;
            var gap = new AnnularGap(Band.Exactly((double)bore.Size!.Size.ToMillimetres()),
                Band.Between(Math.Max((double)warm.ToMicrometres() - (uncertainty / 1000), 0.001), (double)warm.ToMicrometres() + (uncertainty / 1000), (double)warm.ToMicrometres()),
                Band.Percent((double)length.ToMillimetres(), 2), Eccentricity);
            var leak = AnnularLeak.Of(gap, Band.Percent(pressure.Pascals / 1e6, 5), oil.Result.DynamicViscosity(Band.Exactly(celsius), GradePercent), oil.Result.Density(celsius));
            if (!leak.Succeeded)
            {
                doubts.Add(leak.Refusal.ToString());
                return (null, null);
            }
            doubts.AddRange(leak.Result.Doubts);
            if (displacement is not { } perTurn) return (leak.Result.MillilitresPerMinute, null);
            return (leak.Result.MillilitresPerMinute, leak.Result.ShareOf(PumpFlow.LitresPerMinute(perTurn, Band.Exactly(query.IdleRpm), Band.Between(0.85, 0.98, 0.92))));
        }
    }
}
