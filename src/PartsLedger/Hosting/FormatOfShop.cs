using PartsLedger.Data;
using PartsLedger.Domain.Measures;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Hosting;

/// <summary>How the shop writes sizes, numbers and money.</summary>
public static class FormatOfShop
{
    [AllowedToEveryone]
    public sealed record Query : IQuery<ShopFormat>;

    public sealed class Handler(LedgerContext db, ShopSettings settings) : IQueryHandler<Query, ShopFormat>
    {
        public async Task<Outcome<ShopFormat>> Handle(Query query, CancellationToken cancellation) => await settings.Format(db, cancellation);
    }
}
