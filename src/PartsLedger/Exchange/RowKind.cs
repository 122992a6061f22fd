using System.Globalization;
using System.Reflection;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;

namespace PartsLedger.Exchange;

/// <summary>
/// A kind whose rows are rows of one table, matched by natural key: new ones are added, changed ones updated, equal ones left alone.
/// The table's rows are read in one query and written in chunks, so the number of statements does not grow with the questions asked.
/// </summary>
public abstract class RowKind<TRow, TKey> : FileKind<TRow, TKey> where TRow : class where TKey : notnull
{
    /// <summary>Rules over the rows of the file and the table together; refuses rows through the run.</summary>
    protected virtual void Judge(KindRun run, IReadOnlyList<Judged<TRow, TKey>> rows, IReadOnlyDictionary<TKey, TRow> kept) { }

    /// <summary>What follows from the rows once they are saved; nothing for most kinds.</summary>
    protected virtual Task Finish(KindRun run, CancellationToken cancellation) => Task.CompletedTask;

    protected sealed override async Task Apply(KindRun run, IReadOnlyList<Judged<TRow, TKey>> rows, CancellationToken cancellation)
    {
        var kept = new Dictionary<TKey, TRow>();
        await foreach (var row in run.Db.Set<TRow>().AsNoTracking().AsAsyncEnumerable().WithCancellation(cancellation)) kept.Add(KeyOf(row), row);
        Judge(run, rows, kept);

        var comparison = new Comparison(run.Db);
        var waiting = 0;
        foreach (var (line, row, key) in rows)
        {
            if (run.IsRejected(line))
            {
                if (key is string name) run.NameRejected(Name, name, line);
                continue;
            }
            if (!kept.TryGetValue(key, out var before))
            {
                run.Db.Add(row);
                run.New++;
            }
            else if (comparison.Differences(before, row) is { Count: > 0 } differences)
            {
                run.NoteChange(line, Comparison.NameOf(row), differences);
                comparison.TakeIdentity(before, row);
                run.Db.Update(row);
                run.Changed++;
            }
            else
            {
                run.Unchanged++;
                continue;
            }
            if (++waiting % ChunkSize == 0) await Save(run, cancellation);
        }
        await Save(run, cancellation);
        await Finish(run, cancellation);
    }

    private static async Task Save(KindRun run, CancellationToken cancellation)
    {
        await run.Db.SaveChangesAsync(cancellation);
        run.Db.ChangeTracker.Clear();
    }

    /// <summary>Compares rows column by column, as the model knows them; the row's own id is not part of it.</summary>
    private sealed class Comparison
    {
        private static readonly string[] Names = ["Number", "Code", "Tag", "Name"];

        private readonly List<PropertyInfo> _values;
        private readonly PropertyInfo _id;

        public Comparison(LedgerContext db)
        {
            var properties = db.Model.FindEntityType(typeof(TRow))!.GetProperties().ToList();
            _values = [.. properties.Where(property => !property.IsPrimaryKey()).Select(property => property.PropertyInfo!)];
            _id = properties.Single(property => property.IsPrimaryKey()).PropertyInfo!;
        }

        /// <summary>The columns in which the two differ, each as <c>lead days: 3, now 5</c>; where one points to another row, its column alone.</summary>
        public IReadOnlyList<string> Differences(TRow before, TRow after) =>
            [.. _values.Select(value => (value, Was: value.GetValue(before), Is: value.GetValue(after))).Where(one => !Equals(one.Was, one.Is))
                .Select(one => IsReference(one.value) ? Words(one.value.Name[..^2]) : $"{Words(one.value.Name)}: {Say(one.Was)}, now {Say(one.Is)}")];

        /// <summary>What a row is called by people; empty for one that only joins others.</summary>
        public static string NameOf(TRow row) =>
            Names.Select(name => typeof(TRow).GetProperty(name)?.GetValue(row) as string).FirstOrDefault(name => name is not null) ?? "";

        private static bool IsReference(PropertyInfo value) => value.Name.EndsWith("Id", StringComparison.Ordinal) && (Nullable.GetUnderlyingType(value.PropertyType) ?? value.PropertyType) == typeof(int);

        private static string Words(string name) => string.Concat(name.Select((letter, at) => at > 0 && char.IsUpper(letter) ? $" {letter}" : $"{letter}")).ToLowerInvariant();

        private static string Say(object? value) => value switch
        {
            null => "nothing",
            bool yes => yes ? "yes" : "no",
            Enum word => Words(word.ToString()),
            _ => Convert.ToString(value, CultureInfo.InvariantCulture) ?? "",
        };

        public void TakeIdentity(TRow before, TRow after) => _id.SetValue(after, _id.GetValue(before));
    }
}
