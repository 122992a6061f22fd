using System.Globalization;
using System.Text;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;

namespace PartsLedger.Hosting;

/// <summary>Statements that change rows and go to the server together, in their order: one way there and back, not one for each.</summary>
public sealed class SqlBatch
{
    // SQL Server takes 2,100 parameters in one go, the others more.
    private const int MaxParameters = 2000;

    private readonly List<FormattableString> _statements = [];

    public int Count => _statements.Count;

    /// <param name="statement">Text with holes: whole numbers and words, which travel beside the text. A null is written into it.</param>
    public void Add(FormattableString statement) => _statements.Add(statement);

    /// <returns>How many rows were changed by all of them.</returns>
    public async Task<int> Execute(LedgerContext db, CancellationToken cancellation)
    {
        var changed = 0;
        var text = new StringBuilder();
        var values = new List<object>();
        foreach (var statement in _statements)
        {
            if (values.Count + statement.ArgumentCount > MaxParameters) changed += await Send();
            var holes = statement.GetArguments().Select(value =>
            {
                if (value is null) return "null";
                values.Add(value);
                return string.Create(CultureInfo.InvariantCulture, $"{{{values.Count - 1}}}");
            }).ToArray<object>();
            text.AppendFormat(CultureInfo.InvariantCulture, statement.Format, holes).Append(";\n");
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
}
