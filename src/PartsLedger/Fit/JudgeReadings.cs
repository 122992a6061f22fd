using FluentValidation;
using PartsLedger.Data;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Fit.Conformity;
using PartsLedger.Domain.Fit.Measuring;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Stock;

namespace PartsLedger.Fit;

/// <summary>
/// What readings say before they are written down: the size at 20 °C, the form, and whether the unit would go with the half it is meant for.
/// For the bench, where the next reading is decided by it. Nothing is kept.
/// </summary>
public static class JudgeReadings
{
    /// <param name="Readings">As in <see cref="RecordMeasurements.Line"/>.</param>
    /// <param name="With">The half it is to go with, which was measured before; null judges the size alone.</param>
    [AllowedToEveryone]
    public sealed record Query(string Unit, string Gauge, int MilliCelsius, string Readings, string? With = null) : IQuery<Answer>;

    /// <param name="Outcome">Null where no other half was named or the form is beyond what may be paired.</param>
    public sealed record Answer(
        string Tag, decimal SizeMm, decimal FormUm, FitOutcome? Outcome, decimal? ClearanceUm, string? Sentence, IReadOnlyList<string> Warnings);

    public sealed class Validator : AbstractValidator<Query>
    {
        public Validator()
        {
            RuleFor(q => q.Unit).Named("unit's tag");
            RuleFor(q => q.Gauge).Named("gauge");
        }
    }

    public sealed class Handler(
        LedgerContext db, UnitDesk desk, MeasurementReckoning reckoning, SizedUnits sizes, ShopSettings settings, TimeProvider clock) : IQueryHandler<Query, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            var today = DateOnly.FromDateTime(clock.GetUtcNow().UtcDateTime);
            var reckoned = await reckoning.Of(new(query.Unit, query.Gauge, query.MilliCelsius, query.Readings), today, cancellation);
            if (!reckoned.Succeeded) return reckoned.Refusal;
            var one = reckoned.Result;
            var answer = new Answer(one.Unit.Tag, one.Size.Size.ToMillimetres(), one.Size.Form.ToMicrometres(), null, null, null, [.. one.Warnings]);
            if (string.IsNullOrWhiteSpace(query.With) || one.Size.Beyond(one.Family.FormLimit) is not null) return answer;

            var other = await desk.Unit(query.With, cancellation);
            if (!other.Succeeded) return other.Refusal;
            if (other.Result.Role == one.Unit.Role) return UnitRefusals.WrongRole(other.Result, one.Unit.Role == UnitRole.Housing ? UnitRole.Valve : UnitRole.Housing);
            if (other.Result.FamilyId != one.Unit.FamilyId) return UnitRefusals.OtherFamily(one.Unit, other.Result);
            if (!one.Family.Limits.Succeeded) return one.Family.Limits.Refusal;
            var id = other.Result.Id;
            var measured = (await sizes.Read(db.Units.Where(row => row.Id == id), one.Family, GaugeUse.Sorting, today, cancellation))[0];
            if (measured.RefusedByTag is { } refused) return refused;
            var rule = new FitRule(one.Family.Limits.Result, await settings.GuardFactor(db, cancellation));
            var judged = one.Unit.Role == UnitRole.Housing ? rule.Judge(one.Half, measured.Half) : rule.Judge(measured.Half, one.Half);
            return answer with { Outcome = judged.Outcome, ClearanceUm = judged.Clearance.ToMicrometres(), Sentence = judged.Sentence };
        }
    }
}
