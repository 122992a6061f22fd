using Microsoft.AspNetCore.Http.Timeouts;

namespace PartsLedger.Hosting;

/// <summary>How long an answer may take: pages, forms and downloads are given up then, with a sentence. The API has its own, shorter time.</summary>
public static class AnswerTimes
{
    /// <summary>What goes through whole files or the whole ledger.</summary>
    public static readonly TimeSpan Long = TimeSpan.FromMinutes(10);

    public static void AddAnswerTimes(this IServiceCollection services, ServeSettings settings) => services.AddRequestTimeouts(options =>
        options.DefaultPolicy = new RequestTimeoutPolicy
        {
            Timeout = TimeSpan.FromSeconds(settings.AnswerSeconds),
            WriteTimeoutResponse = http => Shield.Answer(http, StatusCodes.Status503ServiceUnavailable, new("TIMED_OUT",
                "The answer was not found in time.", "Ask for less at a time, or try again in a moment; what was not answered as done may be sent again as it is.")),
        });
}
