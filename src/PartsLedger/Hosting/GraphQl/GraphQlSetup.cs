using System.Text.Encodings.Web;
using GraphQL;
using GraphQL.DI;
using GraphQL.Execution;
using GraphQL.Utilities;
using GraphQL.Validation.Complexity;
using GraphQL.Validation.Rules.Custom;
using GraphQLParser.AST;
using PartsLedger.Access;
using PartsLedger.Catalog;
using PartsLedger.Cores;
using PartsLedger.Domain.Access;
using PartsLedger.Domain.Cores;
using PartsLedger.Domain.Fit.Conformity;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Kits;
using PartsLedger.Domain.Stock;
using PartsLedger.Fit;
using PartsLedger.Identification;
using PartsLedger.Jobs;
using PartsLedger.Kits;
using PartsLedger.Planning;
using PartsLedger.Stock;
using PartsLedger.Testing;

namespace PartsLedger.Hosting.GraphQl;

/// <summary>Registers the GraphQL schema and everything that stands between it and the wire.</summary>
public static class GraphQlSetup
{
    public static IServiceCollection AddShopGraphQl(this IServiceCollection services, GraphQlLimits limits)
    {
        services.AddSingleton(limits);
        services.AddSingleton(RootFields.Of<KitFields>());
        services.AddSingleton(RootFields.Of<RecipeFields>());
        services.AddSingleton(RootActs.Of<RecipeActs>());
        services.AddSingleton(RootActs.Of<KitBuildActs>());
        services.AddSingleton(RootFields.Of<CatalogFields>());
        services.AddSingleton(RootActs.Of<PriceActs>());
        services.AddSingleton(RootFields.Of<IdentificationFields>());
        services.AddSingleton(RootFields.Of<JobStockFields>());
        services.AddSingleton(RootActs.Of<JobStockActs>());
        services.AddSingleton(RootFields.Of<ShelfFields>());
        services.AddSingleton(RootFields.Of<PlanningFields>());
        services.AddSingleton(RootActs.Of<ShelfActs>());
        services.AddSingleton(RootFields.Of<LookupFields>());
        services.AddSingleton(RootFields.Of<FitFields>());
        services.AddSingleton(RootActs.Of<FitActs>());
        services.AddSingleton(RootFields.Of<PairingFields>());
        services.AddSingleton(RootFields.Of<ValveFigureFields>());
        services.AddSingleton(RootActs.Of<PairingActs>());
        services.AddSingleton(RootFields.Of<CoreFields>());
        services.AddSingleton(RootActs.Of<CoreActs>());
        services.AddSingleton(RootFields.Of<JobFields>());
        services.AddSingleton(RootFields.Of<QuoteFields>());
        services.AddSingleton(RootActs.Of<JobActs>());
        services.AddSingleton(RootFields.Of<PullFields>());
        services.AddSingleton(RootActs.Of<PullActs>());
        services.AddSingleton(RootFields.Of<TestingFields>());
        services.AddSingleton(RootActs.Of<TestingActs>());
        services.AddSingleton(RootActs.Of<ReleaseActs>());
        services.AddSingleton(RootFields.Of<HistoryFields>());
        services.AddSingleton(RootFields.Of<AccessFields>());
        services.AddSingleton(RootActs.Of<AccessActs>());
        services.AddScoped<CatalogLoaders>();
        services.AddScoped<Acting>();
        services.AddSingleton<GraphQlRequestReader>();
        services.AddSingleton<GraphQlEndpoint>();
        services.AddSingleton<IDocumentBuilder, DocumentGuard>();
        services.AddSingleton<IConfigureExecution, DocumentCache>();
        services.AddGraphQL(graph => graph
            .AddSchema<ShopSchema>()
            .AddAutoClrMappings()
            .AddGraphTypes(typeof(ShopSchema).Assembly)
            .ConfigureSchema(schema =>
            {
                schema.RegisterTypeMapping<Role, RoleGraphType>();
                schema.RegisterTypeMapping<AuditKind, AuditKindGraphType>();
                schema.RegisterTypeMapping<Way, WayGraphType>();
                schema.RegisterTypeMapping<JobScope, JobScopeGraphType>();
                schema.RegisterTypeMapping<KitPreference, PreferenceGraphType>();
                schema.RegisterTypeMapping<BuildRule, BuildRuleGraphType>();
                schema.RegisterTypeMapping<StockCondition, StockConditionGraphType>();
                schema.RegisterTypeMapping<ReserveRule, ReserveRuleGraphType>();
                schema.RegisterTypeMapping<PullFrom, PullFromGraphType>();
                schema.RegisterTypeMapping<CountVerdict, CountVerdictGraphType>();
                schema.RegisterTypeMapping<LocationKind, LocationKindGraphType>();
                schema.RegisterTypeMapping<OutsideWorld, OutsideWorldGraphType>();
                schema.RegisterTypeMapping<CoreGrade, CoreGradeGraphType>();
                schema.RegisterTypeMapping<FitOutcome, FitOutcomeGraphType>();
                schema.RegisterTypeMapping<Finding, FindingGraphType>();
                schema.RegisterTypeMapping<JobWay, JobWayGraphType>();
                schema.RegisterTypeMapping<JobState, JobStateGraphType>();
                schema.RegisterTypeMapping<JobPriority, JobPriorityGraphType>();
                schema.RegisterTypeMapping<JobStep, JobStepGraphType>();
                schema.RegisterTypeMapping<RecallFrom, RecallFromGraphType>();
                schema.RegisterTypeMapping<CheckResult, CheckResultGraphType>();
                schema.RegisterTypeMapping<BenchVerdict, BenchVerdictGraphType>();
            })
            // The default escapes apostrophes and accented letters.
            .AddSystemTextJson(options => options.Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping)
            .AddErrorInfoProvider<ErrorMasking>()
            // Serially: all fields of a request share one database context.
            .AddExecutionStrategy<SerialExecutionStrategy>(OperationType.Query)
            .AddValidationRule<ReadOnlyByGet>(useForCachedDocuments: true)
            .AddValidationRule<SchemaToSome>(useForCachedDocuments: true)
            // Not AddComplexityAnalyzer: that one is skipped for cached documents, whose variables may ask for more than last time.
            .AddValidationRule<ComplexityValidationRule>(useForCachedDocuments: true)
            .Services.Configure<ComplexityOptions>((options, services) =>
            {
                var rates = services.GetRequiredService<Rates>();
                options.MaxDepth = limits.Depth;
                options.MaxComplexity = limits.Complexity;
                options.DefaultListImpactMultiplier = limits.ListEstimate;
                options.ValidateComplexityDelegate = weighed =>
                {
                    var caller = weighed.ValidationContext.RequestServices!.GetRequiredService<CurrentCaller>().Caller;
                    if (weighed.Error is null && rates.WhyNotNow((int)weighed.TotalImpact / limits.ComplexityOfHeavy, caller) is { } tooMany)
                        weighed.Error = new GraphQL.Validation.ValidationError(tooMany.ToString()) { Code = tooMany.Code };
                    return Task.CompletedTask;
                };
            }));
        return services;
    }

    /// <summary>Builds the schema now rather than at the first question, and finds its mistakes at start-up.</summary>
    public static ShopSchema PrepareGraphQl(this IServiceProvider services)
    {
        var schema = services.GetRequiredService<ShopSchema>();
        schema.Initialize();
        schema.WithIntrospectionComplexityImpact(0);
        schema.AllTypes["Decimal"]!.Description = "A number written with a decimal point, exact; money has at most four decimals, a quantity three.";
        schema.AllTypes["Long"]!.Description = "A whole number that may be larger than an Int.";
        return schema;
    }

    /// <summary>The schema in the schema language, types and fields in alphabetical order.</summary>
    public static string Text(this ShopSchema schema) => schema.Print(new PrintOptions { StringComparison = StringComparison.Ordinal })
        .ReplaceLineEndings("\n").TrimEnd() + "\n";
}
