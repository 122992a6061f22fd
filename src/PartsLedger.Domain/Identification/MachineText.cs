using System.Globalization;
using PartsLedger.Domain.Outcomes;

namespace PartsLedger.Domain.Identification;

/// <summary>
/// A machine as somebody says it: words of make, model and option in any order, with slips, and perhaps a year. A number of four digits
/// that can be a year is one unless the application has it as a word (a model may be called 2000).
/// </summary>
public sealed class MachineText
{
    /// <summary>Longest text taken, in characters.</summary>
    public const int MaxLength = 200;

    // A word that answers nothing outweighs every other shortcoming; a year beside the range outweighs two slips.
    private const int UnmatchedPenalty = 100, YearBesidePenalty = 10, NoYearsPenalty = 1;

    private readonly int _currentYear;

    private MachineText(IReadOnlyList<string> words, bool isTyping, int currentYear) => (Words, IsTyping, _currentYear) = (words, isTyping, currentYear);

    /// <summary>Upper case, in the order typed, years included.</summary>
    public IReadOnlyList<string> Words { get; }

    /// <summary>The last word may be unfinished.</summary>
    public bool IsTyping { get; }

    /// <summary>The words that can be years.</summary>
    public IReadOnlyList<int> Years => [.. Words.Where(CanBeYear).Select(word => int.Parse(word, CultureInfo.InvariantCulture)).Distinct().Order()];

    /// <summary>A sentence for each number that somebody may have meant as a year but that is none, to be shown where nothing fits well.</summary>
    public IReadOnlyList<string> Doubts =>
        [.. Words.Where(word => word.Length != 3 && word.Length <= 8 && word.All(char.IsAsciiDigit) && !CanBeYear(word)).Distinct(StringComparer.Ordinal)
            .Select(word => $"{word} is taken as part of a name. {MachineYear.Advice(_currentYear)}")];

    /// <param name="isTyping">The person is still typing: unless the text ends with a space, the last word may be a beginning.</param>
    /// <param name="currentYear">Decides what can be a year: see <see cref="MachineYear"/>.</param>
    /// <returns>The text in words, or <c>MACHINE_EMPTY</c> (no letter and no digit) or <c>MACHINE_TOO_LONG</c>.</returns>
    public static Outcome<MachineText> Read(string? text, int currentYear, bool isTyping = false)
    {
        text ??= "";
        if (text.Length > MaxLength)
            return new Refusal("MACHINE_TOO_LONG", $"A machine is described in at most {MaxLength} characters.", "Type its make, model and year.");
        var words = MachineWord.Split(text);
        if (words.Count == 0) return new Refusal("MACHINE_EMPTY", "There is no word and no year to search for.", "Type a make, a model or a year.");
        return new MachineText(words, isTyping && char.IsLetterOrDigit(text[^1]), currentYear);
    }

    /// <summary>Judges one application; null when no word of the text answers it or the year rules it out.</summary>
    /// <remarks>
    /// One year beside the range still answers, at a lower rank: machines are sold and remembered by the year after they were built.
    /// Where the text has several years, the span from the first to the last must meet the range.
    /// </remarks>
    public MachineMatch? Match(MachineApplication application)
    {
        ArgumentNullException.ThrowIfNull(application);
        var known = new KnownWords(application);
        var why = new List<string>();
        var years = new List<int>();
        var (penalty, named, unmatched) = (0, 0, 0);
        for (var at = 0; at < Words.Count; at++)
        {
            var isLast = at == Words.Count - 1;
            var canBeYear = CanBeYear(Words[at]);
            var (fit, word) = known.Best(Words[at], IsTyping && isLast && !canBeYear);
            if (fit == MachineWordFit.None && canBeYear)
            {
                years.Add(int.Parse(Words[at], CultureInfo.InvariantCulture));
                continue;
            }
            if (fit == MachineWordFit.None && !isLast)
            {
                // Two words typed apart may be one on the list.
                var joined = known.Best(Words[at] + Words[at + 1], IsTyping && at + 2 == Words.Count);
                if (joined.Fit != MachineWordFit.None)
                {
                    at++;
                    (fit, word) = joined;
                }
            }
            if (fit == MachineWordFit.None)
            {
                unmatched++;
                penalty += UnmatchedPenalty;
                why.Add($"nothing for {Words[at]}");
                continue;
            }
            named++;
            penalty += (int)fit;
            if (Reading(fit, Words[at], word) is { } reading) why.Add(reading);
        }
        if (named == 0 && (unmatched > 0 || years.Count == 0)) return null;
        if (years.Count > 0 && !Judge(application, years, why, ref penalty)) return null;
        return new(application, penalty, known.Unsaid, why.Count == 0 ? "as written" : string.Join(", ", why));
    }

    private static bool Judge(MachineApplication application, List<int> years, List<string> why, ref int penalty)
    {
        switch (application.YearsOff(years.Min(), years.Max()))
        {
            case 0 when application.Years.Length == 0:
                penalty += NoYearsPenalty;
                why.Add("its years are not stated");
                return true;
            case 0:
                why.Add($"built {application.Years}");
                return true;
            case 1:
                penalty += YearBesidePenalty;
                why.Add($"built {application.Years}, one year beside");
                return true;
            default: return false;
        }
    }

    private static string? Reading(MachineWordFit fit, string typed, string word) => fit switch
    {
        MachineWordFit.Beginning => $"{typed} begins {word}",
        MachineWordFit.Slip => $"{typed} read as {word}",
        MachineWordFit.BeginningWithSlip => $"{typed} read as the beginning of {word}",
        _ => null,
    };

    /// <summary>A number that can be a year, unless the application has it as a word.</summary>
    public bool CanBeYear(string word) => MachineYear.TryRead(word, _currentYear, out _);

    /// <summary>An application's words, singly and as neighbours written together, and which of the model's were said.</summary>
    private sealed class KnownWords
    {
        private readonly List<(string Text, int First, int Last)> _words = [];
        private readonly bool[] _said;
        private readonly (int First, int End) _model;

        public KnownWords(MachineApplication application)
        {
            var all = new List<string>(MachineWord.Split(application.Make));
            var first = all.Count;
            all.AddRange(MachineWord.Split(application.Model));
            _model = (first, all.Count);
            all.AddRange(MachineWord.Split(application.Option));
            _said = new bool[all.Count];
            for (var at = 0; at < all.Count; at++) _words.Add((all[at], at, at));
            for (var at = 0; at + 1 < all.Count; at++) _words.Add((all[at] + all[at + 1], at, at + 1));
        }

        public int Unsaid => Enumerable.Range(_model.First, _model.End - _model.First).Count(at => !_said[at]);

        /// <summary>The word that answers best, the first of equals; it counts as said.</summary>
        public (MachineWordFit Fit, string Word) Best(string typed, bool isUnfinished)
        {
            var best = (Fit: MachineWordFit.None, Word: (Text: "", First: 0, Last: -1));
            foreach (var word in _words)
            {
                var fit = MachineWord.Compare(typed, word.Text, isUnfinished);
                if (fit < best.Fit) best = (fit, word);
            }
            for (var at = best.Word.First; at <= best.Word.Last; at++) _said[at] = true;
            return (best.Fit, best.Word.Text);
        }
    }
}
