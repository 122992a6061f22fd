using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace PartsLedger.Data.Access;

internal sealed class PersonMapping : IEntityTypeConfiguration<PersonRow>
{
    public void Configure(EntityTypeBuilder<PersonRow> entity)
    {
        entity.ToTable("people");
        entity.Text(row => row.Name, Mapping.CodeLength);
        entity.Text(row => row.NameKey, Mapping.CodeLength);
        entity.Text(row => row.PasswordHash, 500);
        entity.Text(row => row.Stamp, 64);
        entity.Text(row => row.SecondFactorKey, 64);
        entity.Text(row => row.BadgeHash, 64);
        entity.Text(row => row.PinHash, 500);
        entity.Text(row => row.Subject, Mapping.NameLength);
        entity.Text(row => row.MadeBy, Mapping.CodeLength);
        entity.Property(row => row.Version).IsConcurrencyToken();
        entity.HasIndex(row => row.NameKey).IsUnique();
        entity.HasIndex(row => row.BadgeHash).IsUnique().HasFilter("badge_hash is not null");
        entity.HasIndex(row => row.Subject).IsUnique().HasFilter("subject is not null");
        entity.Check("people_badge_has_pin", "badge_hash is null or pin_hash is not null");
    }
}

internal sealed class PersonRoleMapping : IEntityTypeConfiguration<PersonRoleRow>
{
    public void Configure(EntityTypeBuilder<PersonRoleRow> entity)
    {
        entity.ToTable("person_roles");
        entity.HasKey(row => new { row.PersonId, row.Role });
        entity.HasOne<PersonRow>().WithMany(row => row.Roles).HasForeignKey(row => row.PersonId).OnDelete(DeleteBehavior.Restrict);
        entity.KnownWord(row => row.Role, "person_roles_role");
    }
}

internal sealed class SignInTriesMapping : IEntityTypeConfiguration<SignInTriesRow>
{
    public void Configure(EntityTypeBuilder<SignInTriesRow> entity)
    {
        entity.ToTable("sign_in_tries");
        entity.HasKey(row => new { row.PersonId, row.Means });
        entity.HasOne<PersonRow>().WithMany(row => row.Tries).HasForeignKey(row => row.PersonId).OnDelete(DeleteBehavior.Restrict);
        entity.KnownWord(row => row.Means, "sign_in_tries_means");
        entity.Check("sign_in_tries_counts", "wrong >= 0 and locks >= 0");
    }
}

internal sealed class OneTimeLinkMapping : IEntityTypeConfiguration<OneTimeLinkRow>
{
    public void Configure(EntityTypeBuilder<OneTimeLinkRow> entity)
    {
        entity.ToTable("one_time_links");
        entity.Text(row => row.CodeHash, 64);
        entity.Text(row => row.MadeBy, Mapping.CodeLength);
        entity.HasIndex(row => row.CodeHash).IsUnique();
        entity.HasIndex(row => row.PersonId);
        entity.HasOne(row => row.Person).WithMany().HasForeignKey(row => row.PersonId).OnDelete(DeleteBehavior.Restrict);
        entity.Check("one_time_links_times", "expires_at > made_at");
    }
}

internal sealed class AccessTokenMapping : IEntityTypeConfiguration<AccessTokenRow>
{
    public void Configure(EntityTypeBuilder<AccessTokenRow> entity)
    {
        entity.ToTable("access_tokens");
        entity.Text(row => row.Name, Mapping.CodeLength);
        entity.Text(row => row.NameKey, Mapping.CodeLength);
        entity.Text(row => row.Hash, 64);
        entity.Text(row => row.MadeBy, Mapping.CodeLength);
        entity.Text(row => row.RevokedBy, Mapping.CodeLength);
        entity.HasIndex(row => row.NameKey).IsUnique();
        entity.HasIndex(row => row.Hash).IsUnique();
        entity.Check("access_tokens_times", "expires_at > made_at");
        entity.Check("access_tokens_revoked", "(revoked_at is null and revoked_by is null) or (revoked_at is not null and revoked_by is not null)");
    }
}

internal sealed class TokenRoleMapping : IEntityTypeConfiguration<TokenRoleRow>
{
    public void Configure(EntityTypeBuilder<TokenRoleRow> entity)
    {
        entity.ToTable("token_roles");
        entity.HasKey(row => new { row.TokenId, row.Role });
        entity.HasOne<AccessTokenRow>().WithMany(row => row.Roles).HasForeignKey(row => row.TokenId).OnDelete(DeleteBehavior.Restrict);
        entity.KnownWord(row => row.Role, "token_roles_role");
    }
}

internal sealed class ProtectionKeyMapping : IEntityTypeConfiguration<ProtectionKeyRow>
{
    public void Configure(EntityTypeBuilder<ProtectionKeyRow> entity)
    {
        entity.ToTable("protection_keys");
        entity.Text(row => row.Name, Mapping.NameLength);
    }
}
