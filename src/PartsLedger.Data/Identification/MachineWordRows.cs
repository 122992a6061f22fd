using PartsLedger.Data.Catalog;

namespace PartsLedger.Data.Identification;

/// <summary>A word under which machines are found, once for all of them.</summary>
public sealed class MachineWordRow
{
    private readonly string _word = "";

    /// <summary>Longest word kept: two neighbours of the longest names written together.</summary>
    public const int MaxLength = 200;

    /// <summary>So many first characters are an index of their own: words that begin alike are found by equality, which no collation changes.</summary>
    public const int BeginningLength = 2;

    public int Id { get; private set; }
    public required string Word
    {
        get => _word;
        init => (_word, Beginning) = (value, BeginningOf(value));
    }

    public string Beginning { get; private init; } = "";

    public static string BeginningOf(string word) => word.Length <= BeginningLength ? word : word[..BeginningLength];
}

/// <summary>An application is found under a word.</summary>
public sealed class ApplicationWordRow
{
    public int WordId { get; init; }
    public MachineWordRow Word { get; init; } = null!;
    public int ApplicationId { get; init; }
    public ApplicationRow Application { get; init; } = null!;
}
