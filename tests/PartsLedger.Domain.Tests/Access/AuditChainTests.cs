using PartsLedger.Domain.Access;

namespace PartsLedger.Domain.Tests.Access;

public sealed class AuditChainTests
{
    private static readonly string First = AuditChain.Next(AuditChain.Beginning, 1, "kim", "MoveStock", null);

    [Fact]
    public void The_same_entry_at_the_same_place_after_the_same_has_the_same_hash() =>
        Assert.Equal(First, AuditChain.Next(AuditChain.Beginning, 1, "kim", "MoveStock", null));

    [Fact]
    public void Whatever_is_otherwise_gives_another_hash()
    {
        string[] others =
        [
            AuditChain.Next(AuditChain.Beginning, 2, "kim", "MoveStock", null), AuditChain.Next(First, 1, "kim", "MoveStock", null),
            AuditChain.Next(AuditChain.Beginning, 1, "kim", "MoveStock", ""), AuditChain.Next(AuditChain.Beginning, 1, "kim", "MoveStock"),
            AuditChain.Next(AuditChain.Beginning, 1, "kimM", "oveStock", null), AuditChain.Next(AuditChain.Beginning, 1, "kim", null, "MoveStock"),
            AuditChain.Next(AuditChain.Beginning, 1, "kim\n9:MoveStock", null), AuditChain.Next(AuditChain.Beginning, 1, "MoveStock", "kim", null),
        ];
        Assert.Equal(others.Length, others.Append(First).Distinct().Count() - 1);
    }

    // By hand: printf '\n1\n3:kim\n-\n' | sha256sum
    [Fact]
    public void The_hash_is_SHA_256_over_lines_that_anybody_can_write() =>
        Assert.Equal("688b536c52ad5bd3d31840793df52f00d9c8e77d5a9d9870dd1e65f258798b02", AuditChain.Next(AuditChain.Beginning, 1, "kim", null));
}
