using PartsLedger.Exchange.Reading;

namespace PartsLedger.Exchange;

/// <summary>
/// One kind of file of the contract: its name, its columns, and how its rows are taken. An instance serves one run, so it may keep what
/// it loads.
/// </summary>
public abstract class FileKind
{
    /// <summary>Rows sent to the database at once.</summary>
    protected const int ChunkSize = 1000;

    /// <summary>The file's name without its ending.</summary>
    public abstract string Name { get; }

    public abstract IReadOnlyList<Column> Columns { get; }

    /// <summary>Columns of which a file must have at least one.</summary>
    public virtual IReadOnlyList<string> OneOf => [];

    /// <summary>Reads, judges and applies the file within the caller's database transaction; what is not taken is noted in the run.</summary>
    public abstract Task Take(KindRun run, CancellationToken cancellation);
}

/// <summary>A row that could be read, with its natural key.</summary>
public sealed record Judged<TRecord, TKey>(int Line, TRecord Row, TKey Key);

/// <summary>The order of things for every kind: read each row by itself, judge the rows together, apply those that are left.</summary>
public abstract class FileKind<TRecord, TKey> : FileKind where TRecord : class where TKey : notnull
{
    public sealed override async Task Take(KindRun run, CancellationToken cancellation)
    {
        await Prepare(run, cancellation);
        var rows = ReadRows(run, cancellation);
        await Apply(run, rows, cancellation);
    }

    /// <summary>Loads what the rows refer to.</summary>
    protected virtual Task Prepare(KindRun run, CancellationToken cancellation) => Task.CompletedTask;

    /// <summary>Reads one row; what is wrong with it is noted in the cells.</summary>
    protected abstract TRecord Read(RowCells cells);

    /// <summary>The natural key; asked for only when the key's own cells are sound.</summary>
    protected abstract TKey KeyOf(TRecord row);

    protected abstract Task Apply(KindRun run, IReadOnlyList<Judged<TRecord, TKey>> rows, CancellationToken cancellation);

    private List<Judged<TRecord, TKey>> ReadRows(KindRun run, CancellationToken cancellation)
    {
        var keyColumns = Columns.Where(column => column.IsKey).Select(column => column.Name).ToList();
        var firstLines = new Dictionary<TKey, int>();
        var rows = new List<Judged<TRecord, TKey>>();
        var cells = new RowCells(run.Layout);
        foreach (var row in run.File.Rows())
        {
            cancellation.ThrowIfCancellationRequested();
            cells.Start(row);
            var record = row.Damage is null ? Read(cells) : null;
            if (record is not null && cells.IsClean(keyColumns))
            {
                // A row that is rejected for something else still holds its key: which of two rows is meant is not ours to choose.
                var key = KeyOf(record);
                if (!firstLines.TryAdd(key, row.Line))
                    cells.Reject(keyColumns.Find(column => run.Layout.IndexOf(column) is not null)!, $"The same {string.Join(" and ", keyColumns.Where(
                        column => !cells.IsEmpty(column)))} already stands in line {firstLines[key]}; leave one of the two rows.");
                if (cells.Problems.Count == 0) rows.Add(new Judged<TRecord, TKey>(row.Line, record, key));
                else if (key is string name) run.NameRejected(Name, name, row.Line);
            }
            if (cells.Problems.Count > 0) run.Reject(row.Line, cells.Problems);
        }
        return rows;
    }
}
