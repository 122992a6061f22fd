using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Migrations;
using Microsoft.SqlServer.TransactSql.ScriptDom;
using PartsLedger.Data;
using PartsLedger.Migrations.PostgreSql;
using PartsLedger.Migrations.Sqlite;
using PartsLedger.Migrations.SqlServer;
using Microsoft.EntityFrameworkCore.Infrastructure;

namespace PartsLedger.Integration.Tests.Databases;

/// <summary>No server is needed here: the model is compared with each database's migrations, and the scripts are read.</summary>
public sealed class MigrationTests
{
    public static TheoryData<string> Databases => [.. All.Select(database => database.Scheme)];

    private static readonly IDatabase[] All = [new SqliteDatabase(), new SqlServerDatabase(), new PostgreSqlDatabase()];

    [Theory]
    [MemberData(nameof(Databases))]
    public void The_model_has_no_change_without_a_migration(string scheme)
    {
        using var db = Context(scheme);
        Assert.NotEmpty(db.Database.GetMigrations());
        Assert.False(db.Database.HasPendingModelChanges(), $"Add a migration for {scheme}: see DEVELOPERS.md.");
    }

    [Fact]
    public void Every_database_has_the_same_steps()
    {
        var steps = All.Select(database =>
        {
            using var db = Context(database.Scheme);
            return string.Join(' ', db.Database.GetMigrations().Select(name => name[(name.IndexOf('_', StringComparison.Ordinal) + 1)..]));
        }).ToList();
        Assert.All(steps, step => Assert.Equal(steps[0], step));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void The_scripted_SQL_Server_migrations_are_T_SQL(bool idempotent)
    {
        using var db = Context("sqlserver");
        var script = db.GetService<IMigrator>().GenerateScript(options: idempotent
            ? MigrationsSqlGenerationOptions.Idempotent : MigrationsSqlGenerationOptions.Default);

        var parser = new TSql160Parser(initialQuotedIdentifiers: true);
        var parsed = parser.Parse(new StringReader(script), out var errors);

        Assert.Empty(errors.Select(error => $"line {error.Line}, column {error.Column}: {error.Message}"));
        var tables = new Tables();
        parsed.Accept(tables);
        Assert.Contains("stock_lines", tables.Created);
        Assert.Contains("variants", tables.Created);
        Assert.Contains("stock_lines", tables.Triggered);
        Assert.Empty(tables.NotPortable);
    }

    [Fact]
    public void A_script_that_is_not_T_SQL_is_noticed()
    {
        new TSql160Parser(initialQuotedIdentifiers: true).Parse(new StringReader("create tabel parts (id int)"), out var errors);
        Assert.NotEmpty(errors);
    }

    private static LedgerContext Context(string scheme)
    {
        var options = new DbContextOptionsBuilder<LedgerContext>();
        All.Single(database => database.Scheme == scheme).Configure(options, scheme == "sqlite" ? ":memory:" : "Server=nowhere;Database=nothing");
        return new LedgerContext(options.Options);
    }

    /// <summary>What is made, and what engines that merely speak T-SQL may not have: sequences, changed columns, renamed indexes.</summary>
    private sealed class Tables : TSqlFragmentVisitor
    {
        public List<string> Created { get; } = [];
        public List<string> Triggered { get; } = [];
        public List<string> NotPortable { get; } = [];

        public override void Visit(CreateTableStatement node) => Created.Add(node.SchemaObjectName.BaseIdentifier.Value);
        /// <summary>Text run as a batch of its own is T-SQL too.</summary>
        public override void Visit(ExecutableStringList node)
        {
            var inner = string.Concat(node.Strings.OfType<StringLiteral>().Select(literal => literal.Value));
            var parsed = new TSql160Parser(initialQuotedIdentifiers: true).Parse(new StringReader(inner), out var errors);
            NotPortable.AddRange(errors.Select(error => $"in exec: {error.Message}"));
            if (errors.Count == 0) parsed.Accept(this);
        }

        public override void Visit(CreateTriggerStatement node) => Triggered.Add(node.TriggerObject.Name.BaseIdentifier.Value);
        public override void Visit(CreateSequenceStatement node) => NotPortable.Add("sequence");
        public override void Visit(AlterTableAlterColumnStatement node) => NotPortable.Add($"alter column {node.ColumnIdentifier.Value}");
        public override void Visit(MergeStatement node) => NotPortable.Add("merge");

        public override void Visit(ExecutableProcedureReference node)
        {
            if (node.ProcedureReference?.ProcedureReference?.Name.BaseIdentifier.Value.Equals("sp_rename", StringComparison.OrdinalIgnoreCase) is true)
                NotPortable.Add("sp_rename");
        }
    }
}
