using System.ComponentModel;
using GraphQL;
using GraphQL.Types;
using PartsLedger.Domain.Kits;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;

namespace PartsLedger.Jobs;

/// <summary>The ways of helping a customer, described for the API.</summary>
public sealed class JobWayGraphType : EnumerationGraphType<JobWay>
{
    public JobWayGraphType()
    {
        Name = "JobWay";
        Description = "A way of helping a customer.";
        Values["KIT"]!.Description = "The pump repaired with kits and loose parts, no assembly.";
        Values["ASSEMBLY"]!.Description = "The pump repaired with the assembly that does best.";
        Values["EXCHANGE"]!.Description = "Another unit, built of the shop's own parts.";
    }
}

/// <summary>What the API can be asked about prices of jobs.</summary>
public sealed class QuoteFields
{
    private QuoteFields() { }

    [Description("What the parts of a job cost the customer and when they are there, each way of helping side by side; for a job, or for a variant and a scope.")]
    public static async Task<QuoteView> Quote([FromServices] Asking asking,
        [Description("The job's own number; its findings and what it has already count.")] string? job = null,
        [Description("The variant's code, where there is no job yet.")] string? variant = null,
        [Description("How far the job goes, where there is no job yet.")] JobScope? scope = null,
        [Description("Position numbers found worn, where there is no job yet.")] IReadOnlyList<int>? worn = null,
        [Description("Which comes first when a complete list can be had in several ways; COST when left out, a job's own where there is one.")] KitPreference? prefer = null,
        CancellationToken cancellation = default) =>
        new(await asking.Answer<Quote.Query, Quote.Answer>(new(job, variant, scope, worn, prefer ?? KitPreference.Cost), cancellation));
}

[Name("Quote")]
[Description("The ways of helping a customer side by side. Parts only: work is priced by whoever promises.")]
public sealed class QuoteView(Quote.Answer answer)
{
    [Description("The job's own number; null where there is none yet.")]
    public string? Job => answer.Job;

    [Description("The variant's code.")]
    public string Variant => answer.Variant;

    [Description("The code of the variant's pressure class.")]
    public string PressureClass => answer.PressureClass;

    [Description("How far the job goes.")]
    public JobScope Scope => answer.Scope;

    [Description("One for each way, whether it can be done or not.")]
    public IEnumerable<QuoteAlternativeView> Alternatives => answer.Alternatives.Select(one => new QuoteAlternativeView(one));

    [Description("The tag of the job's core; null where none is known.")]
    public string? Core => answer.Core;

    [Description("What was left for the core, in the shop's currency: in no price; null where no core is known.")]
    public decimal? Deposit => answer.Deposit?.ToDecimal();
}

[Name("QuoteAlternative")]
[Description("One way of helping.")]
public sealed class QuoteAlternativeView(Quote.Alternative alternative)
{
    [Description("Which way.")]
    public JobWay Way => alternative.Way;

    [Description("It can be done.")]
    public bool Possible => alternative.Possible;

    [Description("Why it cannot be done; empty where it can.")]
    public IEnumerable<string> WhyNot => alternative.WhyNot;

    [Description("The parts.")]
    public IEnumerable<QuoteLineView> Lines => alternative.Lines.Select(line => new QuoteLineView(line));

    [Description("What all of them are sold for, exact; null where it cannot be done or a line has no price.")]
    public decimal? Price => alternative.Price?.ToDecimal();

    [Description("The first day on which everything is there; null where it cannot be done or nobody knows.")]
    public DateOnly? AvailableOn => alternative.AvailableOn;

    [Description("Why then, or why nobody knows.")]
    public string WhyThen => alternative.WhyThen;
}

[Name("QuoteLine")]
[Description("One line of a quote.")]
public sealed class QuoteLineView(Quote.Line line)
{
    [Description("The part number, or a matched pair's code.")]
    public string Part => line.Part;

    [Description("What it is called.")]
    public string Name => line.Name;

    [Description("Whole pieces.")]
    public int Quantity => checked((int)line.Quantity);

    [Description("What one is sold for; null where the catalogue has no price.")]
    public decimal? UnitPrice => line.UnitPrice?.ToDecimal();

    [Description("What the line is sold for.")]
    public decimal? Price => line.Price?.ToDecimal();

    [Description("Pieces beyond what is available.")]
    public int Short => checked((int)line.Short);

    [Description("The day on which it is there; null where it is short and has no lead days.")]
    public DateOnly? AvailableOn => line.AvailableOn;
}
