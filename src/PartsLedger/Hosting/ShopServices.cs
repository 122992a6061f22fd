using FluentValidation;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.DependencyInjection.Extensions;
using PartsLedger.Access;
using PartsLedger.Data;
using PartsLedger.Data.Access;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Exchange;
using PartsLedger.Kits;
using PartsLedger.Stock;

namespace PartsLedger.Hosting;

/// <summary>Registers the program's parts: the same for the web host, the commands and the tests.</summary>
public static class ShopServices
{
    public static IServiceCollection AddPartsLedger(this IServiceCollection services, DatabaseAddress address)
    {
        services.AddSingleton(address);
        services.AddSingleton(address.Database);
        services.AddDbContextPool<LedgerContext>(options => address.Database.Configure(options, address.Connection));
        services.AddSingleton<Dispatcher>();
        services.AddSingleton<AuditDesk>();
        services.TryAddSingleton(new ServeSettings());
        services.AddSingleton<Rates>();
        services.AddScoped<AuditSealer>();
        services.AddScoped<CurrentCaller>();
        services.AddScoped<Asking>();
        services.AddScoped<Pages.CurrentFormat>();
        services.AddScoped(scope => scope.GetRequiredService<Pages.CurrentFormat>().Format);
        services.AddSingleton(TimeProvider.System);
        services.AddSingleton<ShopSettings>();
        services.AddSingleton<StockReader>();
        services.AddScoped<Ledger>();
        services.AddScoped<StockDesk>();
        services.AddScoped<FeedPublisher>();
        services.AddSingleton<LedgerHealth>();
        services.AddScoped<Fit.UnitDesk>();
        services.AddScoped<Fit.SizedUnits>();
        services.AddScoped<Fit.MeasurementReckoning>();
        services.AddScoped<Fit.PairingDesk>();
        services.AddScoped<Cores.CoreDesk>();
        services.AddScoped<KitCatalogueReader>();
        services.AddScoped<RecipeDesk>();
        services.AddScoped<Identification.NumberHits>();
        services.AddScoped<Identification.MachineHits>();
        services.AddScoped<Identification.NumberClue>();
        services.AddScoped<Identification.MachineClue>();
        services.AddScoped<Identification.ClueReader>();
        services.AddScoped<Identification.Pumps>();
        services.AddScoped<Identification.KitClasses>();
        services.AddScoped<Jobs.JobDesk>();
        services.AddScoped<Jobs.JobShelf>();
        services.AddScoped<Jobs.JobSurplus>();
        services.AddScoped<Jobs.OtherClasses>();
        services.AddScoped<Testing.CheckDesk>();
        services.AddScoped<Testing.FlowReckoning>();
        services.AddScoped<Jobs.JobStandings>();
        services.AddSingleton<IPasswordHasher<PersonRow>, PasswordHasher<PersonRow>>();
        services.AddScoped<PeopleDesk>();
        services.AddScoped<SignIn>();
        services.AddScoped<TokenDesk>();
        services.AddSingleton<FolderImporter>();
        services.AddSingleton<ImportTray>();
        services.AddValidatorsFromThisAssembly();
        services.AddHandlers();
        return services;
    }

    /// <summary>A provider for one command on one database, opened and migrated; or why it could not be.</summary>
    /// <param name="address">Which database.</param>
    /// <param name="cancellation">Ends the opening.</param>
    /// <param name="also">What the command needs besides.</param>
    public static async Task<Outcome<ServiceProvider>> Open(
        DatabaseAddress address, CancellationToken cancellation, Action<IServiceCollection>? also = null)
    {
        var services = new ServiceCollection().AddLogging(logging => logging.AddConsole().SetMinimumLevel(LogLevel.Warning)
            .AddFilter("Microsoft.EntityFrameworkCore", LogLevel.Critical)).AddPartsLedger(address)
            .AddScoped(_ => new CurrentCaller { Caller = Caller.CommandLine });
        also?.Invoke(services);
        var provider = services.BuildServiceProvider();
        await using var scope = provider.CreateAsyncScope();
        var opened = await DatabaseOpening.Open(scope.ServiceProvider.GetRequiredService<LedgerContext>(), cancellation);
        if (opened.Succeeded) return provider;
        await provider.DisposeAsync();
        return opened.Refusal;
    }

    private static void AddHandlers(this IServiceCollection services)
    {
        foreach (var type in typeof(ShopServices).Assembly.GetTypes().Where(type => type is { IsAbstract: false, IsClass: true }))
            foreach (var face in type.GetInterfaces().Where(IsHandler))
                services.AddScoped(face, type);
    }

    private static void AddValidatorsFromThisAssembly(this IServiceCollection services)
    {
        foreach (var type in typeof(ShopServices).Assembly.GetTypes().Where(type => type is { IsAbstract: false, IsClass: true }))
            foreach (var face in type.GetInterfaces().Where(face => face.IsGenericType && face.GetGenericTypeDefinition() == typeof(IValidator<>)))
                services.AddSingleton(face, type);
    }

    private static bool IsHandler(Type face) => face.IsGenericType
        && (face.GetGenericTypeDefinition() == typeof(IQueryHandler<,>) || face.GetGenericTypeDefinition() == typeof(IActHandler<,>));
}
