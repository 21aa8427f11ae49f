/* Three engines, driven alike. Each file launches one:

     launch({program, width, height}) -> {open(address) -> view, close()}
     view: evaluate(function, ...values), click(role, name), type(role, name, text), screenshot(path),
           reload(), complaints() -> what the page's console, its policy and its fetches told, close()

   Roles and names are found in the page by find.mjs, and then clicked as by a hand. */
import { existsSync } from 'node:fs';

/* Where each stands, from run.sh; empty: not there. */
const programs = { chromium: process.env.CHROMIUM, firefox: process.env.FIREFOX, webkit: process.env.WEBKIT };

export const names = Object.keys(programs);

/* Why this engine cannot be tried here, or false. */
export const missing = (name) => (programs[name] && existsSync(programs[name]) ? false : `no ${name} here`);

/* Hands a launched engine to `work`, and ends it whatever happens. A phone's screen, unless it is said. */
export async function withEngine(name, work, { width, height } = { width: 390, height: 844 }) {
    const { launch } = await import(`./engine_${name}.mjs`);
    const engine = await launch({ program: programs[name], width, height });
    try {
        await work(engine);
    } finally {
        await engine.close();
    }
}

/* Until the page gives something other than nothing. */
export async function until(view, what, work, ...values) {
    const end = Date.now() + 30000;
    for (;;) {
        const found = await view.evaluate(work, ...values);
        if (found) {
            return found;
        }
        if (Date.now() > end) {
            throw new Error(`waited in vain for: ${what}`);
        }
        await new Promise((resolve) => setTimeout(resolve, 20));
    }
}
