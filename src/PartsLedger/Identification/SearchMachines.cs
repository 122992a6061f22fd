using System.ComponentModel;
using GraphQL;
using GraphQL.DataLoader;
using PartsLedger.Catalog;
using PartsLedger.Domain.Identification;
using PartsLedger.Domain.Outcomes;
using PartsLedger.Hosting;
using PartsLedger.Hosting.GraphQl;

namespace PartsLedger.Identification;

/// <summary>Machines by words in any order, with slips, and perhaps a year; while somebody is still typing, also what the word may become.</summary>
public static class SearchMachines
{
    /// <param name="IsTyping">The last word may be unfinished.</param>
    [AllowedToEveryone]
    public sealed record Query(string Text, bool IsTyping) : IQuery<Answer>;

    [Name("MachineHit")]
    [Description("A machine that answers what was typed, and the variant it carries.")]
    public sealed record Hit(
        [property: Ignore] int VariantId,
        [property: Description("The machine's maker.")] string Make,
        [property: Description("The machine's model.")] string Model,
        [property: Description("The option or equipment it holds for; empty for all.")] string Option,
        [property: Description("The model years: `1999 to 2009`, `since 2004`.")] string Years,
        [property: Description("Every word was found as written, and the year, if any, lies within.")] bool Exact,
        [property: Description("How what was typed was read to match, in words.")] string Why)
    {
        [Description("The variant the machine carries.")]
        public IDataLoaderResult<VariantView> Variant([FromServices] CatalogLoaders loaders) => loaders.Variants.Load(VariantId);
    }

    [Name("MachineSearch")]
    [Description("The machines that answer what was typed.")]
    public sealed record Answer(
        [property: Ignore] IReadOnlyList<Hit> Hits,
        [property: Description("More machines answer than are looked at: another word narrows them down.")] bool More,
        [property: Description("Known words that the unfinished last word may become, in order.")] IReadOnlyList<string> Completions,
        [property: Description("Sentences for the person who types.")] IReadOnlyList<string> Notes)
    {
        [Description("The machines, best first.")]
        public Connection<Hit> Machines([Description(PageArguments.First)] int first = PageRequest.DefaultFirst, [Description(PageArguments.After)] string? after = null)
        {
            var page = PageRequest.Read("machine-hits", first, after).OrRefuse();
            return Connection.Of("machine-hits", Page.Of(page, Hits).OrRefuse());
        }
    }

    public sealed class Handler(MachineHits machines, TimeProvider clock) : IQueryHandler<Query, Answer>
    {
        public async Task<Outcome<Answer>> Handle(Query query, CancellationToken cancellation)
        {
            var text = MachineText.Read(query.Text, clock.GetUtcNow().Year, query.IsTyping);
            if (!text.Succeeded) return text.Refusal;
            var found = await machines.Find(text.Result, cancellation);
            List<string> notes = found.Hits.Any(hit => hit.Match.IsExact) ? [] : [.. text.Result.Doubts];
            if (text.Result.Words.Count == text.Result.Years.Count) notes.Add("A year alone is not searched for: add a word of the machine's name.");
            if (found.More) notes.Add($"More than {found.Hits.Count} machines answer; another word narrows them down.");
            return new Answer([.. found.Hits.Select(Shown)], found.More, found.Completions, notes);
        }

        private static Hit Shown(MachineHit hit)
        {
            var machine = hit.Match.Application;
            return new(hit.VariantId, machine.Make, machine.Model, machine.Option ?? "", machine.Years, hit.Match.IsExact, hit.Match.Why);
        }
    }
}
