using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Design;
using PartsLedger.Data;

namespace PartsLedger.Migrations.SqlServer;

/// <summary>Lets the migrations tool make the context; nothing is connected to.</summary>
internal sealed class DesignTime : IDesignTimeDbContextFactory<LedgerContext>
{
    public LedgerContext CreateDbContext(string[] args)
    {
        var options = new DbContextOptionsBuilder<LedgerContext>();
        new SqlServerDatabase().Configure(options, "Server=localhost;Database=design");
        return new LedgerContext(options.Options);
    }
}
