using System.Xml.Linq;
using Microsoft.AspNetCore.DataProtection.Repositories;
using Microsoft.EntityFrameworkCore;
using PartsLedger.Data;
using PartsLedger.Data.Access;

namespace PartsLedger.Access;

/// <summary>Keeps the keys that protect cookies and forms in the shop's database: several copies of the program share their sessions.</summary>
internal sealed class KeysInDatabase(IServiceScopeFactory scopes) : IXmlRepository
{
    public IReadOnlyCollection<XElement> GetAllElements()
    {
        using var scope = scopes.CreateScope();
        var db = scope.ServiceProvider.GetRequiredService<LedgerContext>();
        return [.. db.ProtectionKeys.AsNoTracking().OrderBy(row => row.Id).Select(row => row.Xml).ToList().Select(XElement.Parse)];
    }

    public void StoreElement(XElement element, string friendlyName)
    {
        using var scope = scopes.CreateScope();
        var db = scope.ServiceProvider.GetRequiredService<LedgerContext>();
        db.ProtectionKeys.Add(new ProtectionKeyRow { Name = friendlyName, Xml = element.ToString(SaveOptions.DisableFormatting) });
        db.SaveChanges();
    }
}
