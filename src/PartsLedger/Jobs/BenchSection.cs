using System.Globalization;
using Microsoft.AspNetCore.Components;
using PartsLedger.Domain.Jobs;
using PartsLedger.Domain.Measures;
using PartsLedger.Hosting;
using PartsLedger.Hosting.Pages;

namespace PartsLedger.Jobs;

/// <summary>A part of a job's page: the job as it is, and what was typed into a form that came back.</summary>
public abstract class BenchSection : ComponentBase
{
    [Inject] protected Asking Asking { get; set; } = null!;

    [Inject] protected ShopFormat Shop { get; set; } = null!;

    [Inject] protected FormState Form { get; set; } = null!;

    [Parameter, EditorRequired] public required JobByNumber.Answer Job { get; set; }

    protected string Number => Job.Summary.Number;

    /// <summary>What is missing before a step; nothing where it can be taken now.</summary>
    protected IReadOnlyList<string> Missing(JobStep step) =>
        Job.Next.FirstOrDefault(next => next.Step == step)?.Missing ?? [$"it is {JobCourse.Say(Job.Summary.State)}"];

    /// <summary>What was typed into this very form; else what it starts with.</summary>
    protected string? Typed(string action, string field, string? start = null) => CameBack(action) ? Form.Typed(field) : start;

    /// <summary>The form was refused: it stays open.</summary>
    protected bool CameBack(string action) => Form.RefusalOf(action) is not null;

    protected static string Day(DateOnly? day) => day?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) ?? "";

    protected static string At(DateTimeOffset at) => at.UtcDateTime.ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture) + " UTC";
}
