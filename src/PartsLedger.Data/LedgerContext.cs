using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Storage.ValueConversion;
using PartsLedger.Data.Access;
using PartsLedger.Data.Catalog;
using PartsLedger.Data.Cores;
using PartsLedger.Data.Fit;
using PartsLedger.Data.Hosting;
using PartsLedger.Data.Identification;
using PartsLedger.Data.Jobs;
using PartsLedger.Data.Kits;
using PartsLedger.Data.Stock;
using PartsLedger.Data.Testing;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Catalog;
using PartsLedger.Domain.Cores;
using PartsLedger.Domain.Fit;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Stock;

namespace PartsLedger.Data;

/// <summary>
/// The shop's relational model, the same on every database. Integers in the unit's grain and words for enumerations, so that sums,
/// comparisons and ordering agree everywhere; what differs by database stands in that database's migrations project.
/// </summary>
public sealed class LedgerContext(DbContextOptions<LedgerContext> options) : DbContext(options)
{
    public DbSet<PressureClassRow> PressureClasses => Set<PressureClassRow>();
    public DbSet<FamilyRow> Families => Set<FamilyRow>();
    public DbSet<PartRow> Parts => Set<PartRow>();
    public DbSet<AliasRow> Aliases => Set<AliasRow>();
    public DbSet<PackContentRow> PackContents => Set<PackContentRow>();
    public DbSet<SupersessionRow> Supersessions => Set<SupersessionRow>();
    public DbSet<VariantRow> Variants => Set<VariantRow>();
    public DbSet<PositionRow> Positions => Set<PositionRow>();
    public DbSet<ApplicationRow> Applications => Set<ApplicationRow>();
    public DbSet<FeatureRow> Features => Set<FeatureRow>();
    public DbSet<VariantFeatureRow> VariantFeatures => Set<VariantFeatureRow>();
    public DbSet<MachineWordRow> MachineWords => Set<MachineWordRow>();
    public DbSet<ApplicationWordRow> ApplicationWords => Set<ApplicationWordRow>();
    public DbSet<CautionRow> Cautions => Set<CautionRow>();
    public DbSet<CheckRow> Checks => Set<CheckRow>();
    public DbSet<ToolRow> Tools => Set<ToolRow>();
    public DbSet<KitRecipeRow> KitRecipes => Set<KitRecipeRow>();
    public DbSet<KitRecipeLineRow> KitRecipeLines => Set<KitRecipeLineRow>();
    public DbSet<KitRecipeVariantRow> KitRecipeVariants => Set<KitRecipeVariantRow>();
    public DbSet<KitBuildRow> KitBuilds => Set<KitBuildRow>();
    public DbSet<LocationRow> Locations => Set<LocationRow>();
    public DbSet<LotRow> Lots => Set<LotRow>();
    public DbSet<StockTransactionRow> StockTransactions => Set<StockTransactionRow>();
    public DbSet<StockLineRow> StockLines => Set<StockLineRow>();
    public DbSet<StockBalanceRow> StockBalances => Set<StockBalanceRow>();
    public DbSet<StockPartRow> StockParts => Set<StockPartRow>();
    public DbSet<CostLayerRow> CostLayers => Set<CostLayerRow>();
    public DbSet<ReservationRow> Reservations => Set<ReservationRow>();
    public DbSet<ReservationLineRow> ReservationLines => Set<ReservationLineRow>();
    public DbSet<StockCountRow> StockCounts => Set<StockCountRow>();
    public DbSet<StockFeedRow> StockFeed => Set<StockFeedRow>();
    public DbSet<StockUnfedRow> StockUnfed => Set<StockUnfedRow>();
    public DbSet<CoreRow> Cores => Set<CoreRow>();
    public DbSet<CoreFindingRow> CoreFindings => Set<CoreFindingRow>();
    public DbSet<DepositEntryRow> DepositEntries => Set<DepositEntryRow>();
    public DbSet<UnitRow> Units => Set<UnitRow>();
    public DbSet<PairRow> Pairs => Set<PairRow>();
    public DbSet<UnitEventRow> UnitEvents => Set<UnitEventRow>();
    public DbSet<GaugeRow> Gauges => Set<GaugeRow>();
    public DbSet<MeasurementRow> Measurements => Set<MeasurementRow>();
    public DbSet<ReadingRow> Readings => Set<ReadingRow>();
    public DbSet<ProposalRow> Proposals => Set<ProposalRow>();
    public DbSet<ProposalLineRow> ProposalLines => Set<ProposalLineRow>();
    public DbSet<JobRow> Jobs => Set<JobRow>();
    public DbSet<JobFindingRow> JobFindings => Set<JobFindingRow>();
    public DbSet<JobListRow> JobLists => Set<JobListRow>();
    public DbSet<JobListLineRow> JobListLines => Set<JobListLineRow>();
    public DbSet<JobShortRow> JobShorts => Set<JobShortRow>();
    public DbSet<JobSurplusRow> JobSurplus => Set<JobSurplusRow>();
    public DbSet<JobEventRow> JobEvents => Set<JobEventRow>();
    public DbSet<JobCheckRow> JobChecks => Set<JobCheckRow>();
    public DbSet<JobCheckSignatureRow> JobCheckSignatures => Set<JobCheckSignatureRow>();
    public DbSet<BenchRunRow> BenchRuns => Set<BenchRunRow>();
    public DbSet<SettingRow> Settings => Set<SettingRow>();
    public DbSet<RequestRow> Requests => Set<RequestRow>();
    public DbSet<PersonRow> People => Set<PersonRow>();
    public DbSet<SignInTriesRow> SignInTries => Set<SignInTriesRow>();
    public DbSet<OneTimeLinkRow> OneTimeLinks => Set<OneTimeLinkRow>();
    public DbSet<AccessTokenRow> AccessTokens => Set<AccessTokenRow>();
    public DbSet<ProtectionKeyRow> ProtectionKeys => Set<ProtectionKeyRow>();
    public DbSet<AuditEntryRow> AuditEntries => Set<AuditEntryRow>();
    public DbSet<AuditSealRow> AuditSeals => Set<AuditSealRow>();
    public DbSet<AuditWaitingRow> AuditWaiting => Set<AuditWaitingRow>();

    protected override void ConfigureConventions(ModelConfigurationBuilder configurationBuilder)
    {
        configurationBuilder.Properties<Quantity>().HaveConversion<QuantityConverter>();
        configurationBuilder.Properties<Money>().HaveConversion<MoneyConverter>();
        configurationBuilder.Properties<Length>().HaveConversion<LengthConverter>();
        configurationBuilder.Properties<Pressure>().HaveConversion<PressureConverter>();
        configurationBuilder.Properties<Volume>().HaveConversion<VolumeConverter>();
        configurationBuilder.Properties<DateTimeOffset>().HaveConversion<InstantConverter>();
        Word<PartKind>(configurationBuilder);
        Word<PartService>(configurationBuilder);
        Word<PartGroup>(configurationBuilder);
        Word<RenewRule>(configurationBuilder);
        Word<SupersessionRule>(configurationBuilder);
        Word<ValveFit>(configurationBuilder);
        Word<Tracking>(configurationBuilder);
        Word<Severity>(configurationBuilder);
        Word<LocationKind>(configurationBuilder);
        Word<StockCondition>(configurationBuilder);
        Word<OutsideWorld>(configurationBuilder);
        Word<CoreState>(configurationBuilder);
        Word<CoreGrade>(configurationBuilder);
        Word<Finding>(configurationBuilder);
        Word<DepositEntry>(configurationBuilder);
        Word<UnitRole>(configurationBuilder);
        Word<UnitState>(configurationBuilder);
        Word<PairOrigin>(configurationBuilder);
        Word<PairState>(configurationBuilder);
        Word<Characteristic>(configurationBuilder);
        Word<ProposalState>(configurationBuilder);
        Word<JobState>(configurationBuilder);
        Word<JobPriority>(configurationBuilder);
        Word<Role>(configurationBuilder);
        Word<SignInMeans>(configurationBuilder);
        Word<AuditKind>(configurationBuilder);
        Word<Way>(configurationBuilder);
        Word<CheckResult>(configurationBuilder);
        Word<BenchVerdict>(configurationBuilder);
        Word<JobScope>(configurationBuilder);
        Word<KitPreference>(configurationBuilder);
    }

    protected override void OnModelCreating(ModelBuilder modelBuilder)
    {
        modelBuilder.ApplyConfigurationsFromAssembly(typeof(LedgerContext).Assembly);
        modelBuilder.UseSnakeCase();
    }

    private static void Word<T>(ModelConfigurationBuilder configurationBuilder) where T : struct, Enum =>
        configurationBuilder.Properties<T>().HaveConversion<WordConverter<T>>().HaveMaxLength(Mapping.WordLength);

    private sealed class QuantityConverter() : ValueConverter<Quantity, long>(q => q.Thousandths, n => Quantity.FromThousandths(n));
    private sealed class MoneyConverter() : ValueConverter<Money, long>(m => m.TenThousandths, n => Money.FromTenThousandths(n));
    private sealed class LengthConverter() : ValueConverter<Length, long>(l => l.Nanometres, n => Length.FromNanometres(n));
    private sealed class PressureConverter() : ValueConverter<Pressure, long>(p => p.Pascals, n => Pressure.FromPascals(n));
    private sealed class VolumeConverter() : ValueConverter<Volume, long>(v => v.Microlitres, n => Volume.FromMicrolitres(n));
    private sealed class InstantConverter() : ValueConverter<DateTimeOffset, long>(
        at => Instant.ToMicroseconds(at), us => Instant.FromMicroseconds(us));
}
