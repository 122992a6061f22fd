using System.ComponentModel;
using GraphQL;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;

namespace PartsLedger.Stock;

/// <summary>What the API can be asked about stock that jobs have spoken for.</summary>
public sealed class JobStockFields
{
    private JobStockFields() { }

    [Description("What is reserved at this moment, by the list it was reserved with, oldest first. What has run out is left out.")]
    public static async Task<Connection<ReservationView>> Reservations([FromServices] Asking asking,
        [Description("Only this job's, by its own number; case and spare spaces do not matter.")] string? job = null,
        [Description("Only of this part, by its number. An unknown number is an error.")] string? part = null,
        [Description(PageArguments.First)] int first = PageRequest.DefaultFirst, [Description(PageArguments.After)] string? after = null,
        CancellationToken cancellation = default) =>
        Connection.Of("reservations", (await asking.Answer<FindReservations.Query, Page<FindReservations.Reservation>>(
            new(job, part, PageRequest.Read("reservations", first, after).OrRefuse()), cancellation))
            .Select(reservation => new ReservationView(reservation)));
}
