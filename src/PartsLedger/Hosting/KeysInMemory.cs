using System.Xml.Linq;
using Microsoft.AspNetCore.DataProtection.Repositories;

namespace PartsLedger.Hosting;

/// <summary>Keys that last as long as the program runs: nothing of it outlives a restart or is shared between copies.</summary>
internal sealed class KeysInMemory : IXmlRepository
{
    private readonly Lock _turn = new();
    private readonly List<XElement> _keys = [];

    public IReadOnlyCollection<XElement> GetAllElements()
    {
        lock (_turn) return [.. _keys.Select(key => new XElement(key))];
    }

    public void StoreElement(XElement element, string friendlyName)
    {
        lock (_turn) _keys.Add(new XElement(element));
    }
}
