using System.Linq.Expressions;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Microsoft.EntityFrameworkCore.Storage.ValueConversion;
using PartsLedger.Domain.Catalog;

namespace PartsLedger.Data;

/// <summary>What every mapping file says in the same words: lengths of text, check constraints, snake_case names.</summary>
internal static class Mapping
{
    public const int CodeLength = Code.MaxLength;
    public const int NameLength = 200;
    public const int WordLength = 20;
    public const int TextLength = 2000;

    public static PropertyBuilder<TProperty> Text<TRow, TProperty>(
        this EntityTypeBuilder<TRow> entity, Expression<Func<TRow, TProperty>> property, int length) where TRow : class =>
        entity.Property(property).HasMaxLength(length);

    /// <summary>A check constraint in SQL that every database reads alike: bare snake_case column names, no functions of one provider.</summary>
    public static void Check<TRow>(this EntityTypeBuilder<TRow> entity, string name, string sql) where TRow : class =>
        entity.ToTable(table => table.HasCheckConstraint($"ck_{name}", sql));

    /// <summary>The column holds one of the enumeration's words, and nothing else.</summary>
    public static void KnownWord<TRow, T>(this EntityTypeBuilder<TRow> entity, Expression<Func<TRow, T>> property, string name)
        where TRow : class where T : struct, Enum =>
        entity.Check(name, $"{SnakeCase(Member(property))} in ({WordList<T>()})");

    public static void KnownWord<TRow, T>(this EntityTypeBuilder<TRow> entity, Expression<Func<TRow, T?>> property, string name)
        where TRow : class where T : struct, Enum =>
        entity.Check(name, $"{SnakeCase(Member(property))} in ({WordList<T>()})");

    private static string WordList<T>() where T : struct, Enum => string.Join(", ", Words.All<T>().Select(word => $"'{word}'"));

    private static string Member(LambdaExpression property) => ((MemberExpression)property.Body).Member.Name;

    public static string SnakeCase(string name) => string.Concat(name.Select((character, at) =>
        char.IsUpper(character) ? (at > 0 && !char.IsUpper(name[at - 1]) && name[at - 1] != '_' ? "_" : "") + char.ToLowerInvariant(character)
            : character.ToString()));

    /// <summary>Every table, column, key and index in lower_snake_case, so that one text of a constraint serves every database.</summary>
    public static void UseSnakeCase(this ModelBuilder model)
    {
        foreach (var entity in model.Model.GetEntityTypes())
        {
            foreach (var property in entity.GetProperties()) if (property.GetColumnName() == property.Name) property.SetColumnName(SnakeCase(property.Name));
            foreach (var key in entity.GetKeys()) key.SetName(SnakeCase(key.GetName()!));
            foreach (var key in entity.GetForeignKeys()) key.SetConstraintName(SnakeCase(key.GetConstraintName()!));
            foreach (var index in entity.GetIndexes()) index.SetDatabaseName(SnakeCase(index.GetDatabaseName()!));
        }
    }
}

/// <summary>An enumeration stored as its word.</summary>
internal sealed class WordConverter<T>() : ValueConverter<T, string>(value => Words.Of(value), word => Words.Parse<T>(word))
    where T : struct, Enum;
