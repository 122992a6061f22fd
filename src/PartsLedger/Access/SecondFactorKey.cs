using System.Globalization;
using System.Text;
using PartsLedger.Domain.Access;
using ZXing;
using ZXing.Common;

namespace PartsLedger.Access;

/// <summary>Shows a second factor's key to the one authenticator it is for.</summary>
public static class SecondFactorKey
{
    /// <summary>"ABCD EFGH …", for typing.</summary>
    public static string InFours(string key) => string.Join(' ', key.Chunk(4).Select(four => new string(four)));

    /// <summary>The key as a square code, a drawing within the page's own text: nothing is fetched and nothing is kept.</summary>
    public static string Picture(string name, string key)
    {
        var address = $"otpauth://totp/PartsLedger:{Uri.EscapeDataString(name)}?secret={key}&issuer=PartsLedger&period={OneTimeCode.StepSeconds}";
        var code = new MultiFormatWriter().encode(address, BarcodeFormat.QR_CODE, 0, 0, new Dictionary<EncodeHintType, object> { [EncodeHintType.MARGIN] = 4 });
        return "data:image/svg+xml;base64," + Convert.ToBase64String(Encoding.UTF8.GetBytes(Draw(code)));
    }

    private static string Draw(BitMatrix code)
    {
        var squares = new StringBuilder();
        for (var y = 0; y < code.Height; y++)
            for (var x = 0; x < code.Width; x++)
                if (code[x, y]) squares.Append(CultureInfo.InvariantCulture, $"M{x} {y}h1v1h-1z");
        return string.Create(CultureInfo.InvariantCulture, $"<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {code.Width} {code.Height}\" "
            + $"shape-rendering=\"crispEdges\"><path fill=\"#fff\" d=\"M0 0h{code.Width}v{code.Height}H0z\"/><path d=\"{squares}\"/></svg>");
    }
}
