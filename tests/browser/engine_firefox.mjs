/* Debian's Firefox through puppeteer-core, by WebDriver BiDi. What every engine offers: see engines.mjs. */
import puppeteer from 'puppeteer-core';
import { find } from './find.mjs';
import { hear } from './heard.mjs';

/* Its log tells of scripts that fail, not of what the policy refused: that is listened for in the page. */
function listen() {
    window.refused = [];
    document.addEventListener('securitypolicyviolation', (event) =>
        window.refused.push(`policy: ${event.violatedDirective} ${event.blockedURI} ${event.sample}`));
}

async function viewOf(browser, address, viewport) {
    const page = await browser.newPage();
    const heard = hear(page, address);
    await page.setViewport(viewport);
    await page.evaluateOnNewDocument(listen);
    await page.goto(address);
    const element = async (role, name) => {
        const handle = (await page.evaluateHandle(find, role, name)).asElement();
        if (!handle) {
            throw new Error(`there is no ${role} "${name}"`);
        }
        return handle;
    };
    return {
        page,
        evaluate: (work, ...values) => page.evaluate(work, ...values),
        click: async (role, name) => (await element(role, name)).click(),
        type: async (role, name, text) => {
            const field = await element(role, name);
            await field.evaluate((one) => one.select());
            await field.type(text);
        },
        screenshot: (path) => page.screenshot({ path }),
        reload: () => page.reload(),
        complaints: async () => [...heard, ...await page.evaluate(() => window.refused)],
        close: () => page.close()
    };
}

export async function launch({ program, width, height }) {
    const browser = await puppeteer.launch({ browser: 'firefox', executablePath: program, headless: true });
    return {
        browser,
        open: (address) => viewOf(browser, address, { width, height }),
        close: () => browser.close()
    };
}
