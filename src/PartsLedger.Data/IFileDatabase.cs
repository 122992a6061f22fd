namespace PartsLedger.Data;

/// <summary>A database that is one file, which can be copied while others work on it.</summary>
public interface IFileDatabase : IDatabase
{
    /// <summary>The words at the beginning of every such file.</summary>
    ReadOnlySpan<byte> Signature { get; }

    /// <summary>
    /// Writes what is committed at one moment into a new file, complete in itself. Nobody who works on the database waits for it, and what
    /// they commit meanwhile is not in the copy.
    /// </summary>
    /// <exception cref="System.Data.Common.DbException">The database cannot be read, or the file not be written.</exception>
    Task Copy(string connection, string file, CancellationToken cancellation);

    /// <summary>Reads the whole file: is it in order by the database's own rules, its foreign keys included.</summary>
    /// <returns>What is wrong, at most ten lines; empty for a file in order.</returns>
    Task<IReadOnlyList<string>> Faults(string file, CancellationToken cancellation);

    /// <summary>
    /// Brings everything into the one file, if nobody else has it open. After this the file may be moved as it is.
    /// </summary>
    /// <returns>Whether it was possible; false while another program works on it.</returns>
    Task<bool> Close(string connection, CancellationToken cancellation);
}
