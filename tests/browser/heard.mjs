/* What a page complains of and asks for, as playwright-core and puppeteer-core both tell it; questions of the
 * page are answered with yes. The list grows while the page is open. */
export function hear(page, address) {
    const heard = [];
    page.on('console', (message) => heard.push(`${message.type()}: ${message.text()}`));
    page.on('pageerror', (error) => heard.push(`error: ${error.message}`));
    page.on('request', (request) => {
        const url = request.url();
        if (!/^(blob|data):/.test(url) && url.split('#')[0] !== address) {
            heard.push(`fetched: ${url}`);
        }
    });
    page.on('dialog', (dialog) => dialog.accept());
    return heard;
}
