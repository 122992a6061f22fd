using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Hosting;

namespace PartsLedger.Integration.Tests.Databases;

public sealed class SqliteStore : Store
{
    // In memory where the system offers it: thousands of commits are tested here, not the disk.
    private readonly string _folder = Directory.CreateDirectory(Path.Combine(Directory.Exists("/dev/shm") ? "/dev/shm" : Path.GetTempPath(),
        "partsledger-test-" + Guid.NewGuid().ToString("n"))).FullName;
    private byte[] _empty = [];

    public override string Name => "sqlite";

    private string File => Path.Combine(_folder, "shop.db");

    protected override Task<DatabaseAddress?> Make() => Task.FromResult<DatabaseAddress?>(AddressOf($"sqlite:{File}"));

    protected override async Task Prepare()
    {
        // Kept as it is when new and put back before each test: the append-only tables cannot be emptied by deleting.
        await With(db => db.Database.ExecuteSqlRawAsync("pragma wal_checkpoint(truncate)"));
        SqliteConnection.ClearAllPools();
        _empty = await System.IO.File.ReadAllBytesAsync(File);
    }

    protected override async Task Empty()
    {
        SqliteConnection.ClearAllPools();
        foreach (var beside in (string[])["-wal", "-shm"]) System.IO.File.Delete(File + beside);
        await System.IO.File.WriteAllBytesAsync(File, _empty);
    }

    protected override Task Remove()
    {
        SqliteConnection.ClearAllPools();
        Directory.Delete(_folder, recursive: true);
        return Task.CompletedTask;
    }
}
