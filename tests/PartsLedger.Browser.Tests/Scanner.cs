using Microsoft.Playwright;

namespace PartsLedger.Browser.Tests;

/// <summary>A scanner that types like a keyboard: fast, into whatever has the focus, and Enter at the end.</summary>
public static class Scanner
{
    public static async Task Scan(this IPage page, string code)
    {
        await page.Keyboard.TypeAsync(code, new() { Delay = 2 });
        await page.Keyboard.PressAsync("Enter");
    }
}
