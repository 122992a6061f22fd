using System.Globalization;
using System.Runtime.CompilerServices;
using System.Text;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Diagnostics;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Storage;
using IDatabase = PartsLedger.Data.IDatabase;
using LedgerContext = PartsLedger.Data.LedgerContext;

namespace PartsLedger.Hosting;

/// <summary>Statements that change rows and go to the server together, in their order: one way there and back, not one for each.</summary>
public sealed class SqlBatch
{
    // SQL Server takes 2,100 parameters in one go, the others more.
    private const int MaxParameters = 2000;

    private readonly List<FormattableString> _statements = [];

    /// <summary>How many rows are changed when each statement changes one, or as many as it has rows.</summary>
    public int Rows { get; private set; }

    /// <param name="statement">Text with holes: whole numbers and words, which travel beside the text. A null is written into it.</param>
    public void Add(FormattableString statement)
    {
        _statements.Add(statement);
        Rows++;
    }

    /// <summary>One insert of several rows.</summary>
    /// <param name="insert">Up to the word <c>values</c>.</param>
    /// <param name="rows">At least one; together at most 2,000 holes.</param>
    /// <param name="values">The values of one, in brackets.</param>
    public void AddRows<T>(string insert, IReadOnlyCollection<T> rows, Func<T, FormattableString> values)
    {
        var (text, arguments) = (new StringBuilder(insert), new List<object?>());
        foreach (var row in rows)
        {
            var one = values(row);
            var from = arguments.Count;
            text.Append(from == 0 ? " " : ", ").AppendFormat(CultureInfo.InvariantCulture, one.Format,
                [.. Enumerable.Range(from, one.ArgumentCount).Select(at => string.Create(CultureInfo.InvariantCulture, $"{{{at}}}"))]);
            arguments.AddRange(one.GetArguments());
        }
        _statements.Add(FormattableStringFactory.Create(text.ToString(), [.. arguments]));
        Rows += rows.Count;
    }

    /// <returns>How many rows were changed by all of them.</returns>
    public async Task<int> Execute(LedgerContext db, CancellationToken cancellation)
    {
        var changed = 0;
        var text = new StringBuilder();
        var values = new List<object>();
        foreach (var statement in _statements)
        {
            if (values.Count + statement.ArgumentCount > MaxParameters) changed += await Send();
            text.Append(Numbered(statement, values)).Append(";\n");
        }
        return values.Count == 0 ? changed : changed + await Send();

        async Task<int> Send()
        {
            var sent = await db.Database.ExecuteSqlRawAsync(text.ToString(), values, cancellation);
            text.Clear();
            values.Clear();
            return sent;
        }
    }

    /// <summary>Inserts one row, past the context: what it appends nobody looks at again in the same act.</summary>
    /// <param name="insert">As for <see cref="Add"/>.</param>
    /// <returns>The row's <c>id</c>.</returns>
    public static async Task<long> Insert(LedgerContext db, IDatabase database, FormattableString insert, CancellationToken cancellation)
    {
        var values = new List<object>();
        var text = database.TellingId(Numbered(insert, values));
        var command = db.GetService<IRawSqlCommandBuilder>().Build(text, values, db.Model);
        var id = await command.RelationalCommand.ExecuteScalarAsync(new RelationalCommandParameterObject(
            db.GetService<IRelationalConnection>(), command.ParameterValues, readerColumns: null, db, db.GetService<IRelationalCommandDiagnosticsLogger>()), cancellation);
        return Convert.ToInt64(id, CultureInfo.InvariantCulture);
    }

    /// <summary>The statement's text with its holes numbered on from the values that are there already, to which its own are added.</summary>
    private static string Numbered(FormattableString statement, List<object> values) =>
        string.Format(CultureInfo.InvariantCulture, statement.Format, statement.GetArguments().Select(value =>
        {
            if (value is null) return "null";
            values.Add(value);
            return string.Create(CultureInfo.InvariantCulture, $"{{{values.Count - 1}}}");
        }).ToArray<object>());
}
