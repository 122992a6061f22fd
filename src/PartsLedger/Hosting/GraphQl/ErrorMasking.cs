using GraphQL;
using GraphQL.Execution;

namespace PartsLedger.Hosting.GraphQl;

/// <summary>
/// What an error shows to the outside: its code and message when it is the caller's to mend, and neither type nor text of an exception
/// when it is a bug of ours; that is in the log.
/// </summary>
public sealed class ErrorMasking(GraphQlLimits limits) : IErrorInfoProvider
{
    public const string InternalCode = "INTERNAL_ERROR";
    public const string InternalMessage = "The program failed at this question; its log says why. Tell whoever looks after it.";

    public ErrorInfo GetInfo(ExecutionError executionError) => executionError is UnhandledError
        ? Info(executionError.Message.StartsWith(InternalMessage, StringComparison.Ordinal) ? executionError.Message : InternalMessage, InternalCode)
        : Info(executionError.Message, executionError.Code ?? "BAD_REQUEST");

    private ErrorInfo Info(string message, string code) => new()
    {
        Message = message.Length <= limits.MessageLength ? message : message[..limits.MessageLength] + "…",
        Extensions = new Dictionary<string, object?> { ["code"] = code },
    };
}
