/* Debian's Chromium through playwright-core. What every engine offers: see engines.mjs. */
import { chromium } from 'playwright-core';
import { find } from './find.mjs';
import { hear } from './heard.mjs';

async function viewOf(context, address) {
    const page = await context.newPage();
    const heard = hear(page, address);
    await page.goto(address);
    const element = async (role, name) => {
        const handle = (await page.evaluateHandle(`(${find})(${JSON.stringify(role)}, ${JSON.stringify(name)})`)).asElement();
        if (!handle) {
            throw new Error(`there is no ${role} "${name}"`);
        }
        return handle;
    };
    return {
        page,
        evaluate: (work, ...values) => page.evaluate(`(${work}).apply(null, ${JSON.stringify(values)})`),
        click: async (role, name) => (await element(role, name)).click(),
        type: async (role, name, text) => (await element(role, name)).fill(text),
        screenshot: (path) => page.screenshot({ path }),
        reload: () => page.reload(),
        complaints: async () => heard,
        close: () => page.close()
    };
}

export async function launch({ program, width, height }) {
    const browser = await chromium.launch({ executablePath: program });
    const context = await browser.newContext({ viewport: { width, height } });
    return {
        browser,
        context,
        open: (address) => viewOf(context, address),
        close: () => browser.close()
    };
}
