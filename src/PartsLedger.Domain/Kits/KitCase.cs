namespace PartsLedger.Domain.Kits;

/// <summary>A question laid out against its catalogue: what is needed today, and what may be offered for it. Serves as many answers as are wanted.</summary>
internal sealed record KitCase(KitCatalogue Catalogue, KitQuestion Question, KitSuccession Succession, KitDemand Demand, KitOffers Offers);
