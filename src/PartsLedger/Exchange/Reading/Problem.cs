namespace PartsLedger.Exchange.Reading;

/// <summary>What is wrong with one cell, or with the row as a whole where no column is named.</summary>
/// <param name="Column">The column as the file's header writes it; empty for the row as a whole.</param>
public sealed record Problem(string Column, string Sentence);

/// <summary>A row that was not taken, with everything that is wrong with it.</summary>
public sealed record Reject(int Line, IReadOnlyList<Problem> Problems)
{
    public string Columns => string.Join(", ", Problems.Select(problem => problem.Column).Where(column => column.Length > 0).Distinct());

    /// <summary>One sentence per problem; where there are several, each with its column in front.</summary>
    public string Reason => Problems.Count == 1 ? Problems[0].Sentence
        : string.Join(' ', Problems.Select(problem => problem.Column.Length == 0 ? problem.Sentence : $"{problem.Column}: {problem.Sentence}"));
}
