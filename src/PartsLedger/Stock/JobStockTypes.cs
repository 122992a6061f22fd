using System.ComponentModel;
using GraphQL;
using GraphQL.Types;
using PartsLedger.Domain.Stock;

namespace PartsLedger.Stock;

// What jobs reserve and pull, as the API is asked and answers.

[Name("ReserveLine")]
[Description("One line of the list that a job needs.")]
public sealed record ReserveLineInput
{
    [Description("The part's number; case, spaces, dashes, dots and slashes do not matter.")]
    public required string Part { get; init; }

    [Description("How many, in the part's unit.")]
    public required decimal Quantity { get; init; }

    [Description("Pieces of this lot only; the first to expire when left out.")]
    public string? Lot { get; init; }
}

[Name("ReservedList")]
[Description("What was reserved of a list, and what is missing.")]
public sealed class ReservedListView(ReserveForJob.Answer answer)
{
    [Id]
    [Description("The reservation's number; null when nothing at all was free.")]
    public long? Reservation => answer.Reservation;

    [Description("The job's own number.")]
    public string Job => answer.Job;

    [Description("When the pieces free up again, in UTC.")]
    public DateTimeOffset ExpiresAt => answer.ExpiresAt;

    [Description("What was reserved, in the order of the list.")]
    public IEnumerable<PiecesAtView> Reserved => answer.Reserved.Select(pieces => new PiecesAtView(pieces));

    [Description("What was not free, in the order of the list; empty when everything is reserved.")]
    public IEnumerable<MissingPiecesView> Missing => answer.Missing.Select(missing => new MissingPiecesView(missing));
}

[Name("MissingPieces")]
[Description("What could not be reserved of one line of a list.")]
public sealed class MissingPiecesView(ReserveForJob.MissingPieces missing)
{
    [Description("The part's number, as written.")]
    public string Part => missing.Part;

    [Description("The lot that was asked for; null for any.")]
    public string? Lot => missing.Lot;

    [Description("How many are missing, in the part's unit.")]
    public decimal Quantity => missing.Quantity.ToDecimal();

    [Description("Who has reserved pieces that would do, first to free up first.")]
    public IEnumerable<HeldPiecesView> HeldBy => missing.HeldBy.Select(held => new HeldPiecesView(held));
}

[Name("HeldPieces")]
[Description("Pieces that a job has reserved.")]
public sealed class HeldPiecesView(HeldPieces held)
{
    [Description("The job's own number.")]
    public string Job => held.Job;

    [Description("Who reserved them.")]
    public string By => held.By;

    [Description("When they free up if the job does not pull them, in UTC.")]
    public DateTimeOffset Until => held.Until;

    [Description("How many, in the part's unit.")]
    public decimal Quantity => held.Quantity.ToDecimal();
}

[Name("ReleasedPieces")]
[Description("What a job has given up and is free again.")]
public sealed class ReleasedPiecesView(ReleaseReservation.Answer answer)
{
    [Description("The job's own number.")]
    public string Job => answer.Job;

    [Description("What is free again.")]
    public IEnumerable<PiecesAtView> Released => answer.Released.Select(pieces => new PiecesAtView(pieces));
}

[Name("PulledPieces")]
[Description("What a job has taken off the shelf.")]
public sealed class PulledPiecesView(PullStock.Answer answer)
{
    [Id]
    [Description("The ledger transaction's number.")]
    public long Transaction => answer.Transaction;

    [Description("When, in UTC.")]
    public DateTimeOffset At => answer.At;

    [Description("The job's own number.")]
    public string Job => answer.Job;

    [Description("Where to take how many.")]
    public IEnumerable<PiecesAtView> Pulled => answer.Pulled.Select(pieces => new PiecesAtView(pieces));

    [Description("How many of them the job had reserved.")]
    public decimal OfReserved => answer.OfReserved.ToDecimal();
}

[Name("Reservation")]
[Description("What one list of a job still keeps for it.")]
public sealed class ReservationView(FindReservations.Reservation reservation)
{
    [Id]
    [Description("The reservation's number.")]
    public long Id => reservation.Id;

    [Description("The job's own number.")]
    public string Job => reservation.Job;

    [Description("Who reserved.")]
    public string By => reservation.By;

    [Description("When it was made, in UTC.")]
    public DateTimeOffset MadeAt => reservation.MadeAt;

    [Description("When the pieces free up if the job does not pull them, in UTC.")]
    public DateTimeOffset ExpiresAt => reservation.ExpiresAt;

    [Description("What is neither pulled nor released yet, of the part asked for where one was; in the order it was reserved.")]
    public IEnumerable<PiecesAtView> Open => reservation.Open.Select(pieces => new PiecesAtView(pieces));
}

/// <summary>Whole or as far as possible, described for the API.</summary>
public sealed class ReserveRuleGraphType : EnumerationGraphType<ReserveRule>
{
    public ReserveRuleGraphType()
    {
        Name = "ReserveRule";
        Description = "What happens to a list of which not everything is free.";
        Values["ALL_OR_NOTHING"]!.Description = "It is refused, and nothing is reserved.";
        Values["AS_FAR_AS_POSSIBLE"]!.Description = "What is free is reserved, and the answer says what is missing.";
    }
}

/// <summary>Which pieces a job pulls, described for the API.</summary>
public sealed class PullFromGraphType : EnumerationGraphType<PullFrom>
{
    public PullFromGraphType()
    {
        Name = "PullFrom";
        Description = "Which pieces a job takes.";
        Values["EITHER"]!.Description = "Its reserved ones first, then free ones.";
        Values["RESERVED"]!.Description = "Only those it has reserved.";
        Values["FREE"]!.Description = "Only free ones; its reservation stays.";
    }
}
