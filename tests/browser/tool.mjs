/* What the tests of the page with the library inside share: opening it, answering, and a bench whose
   wiring only the test knows. */
import { spawn } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { createInterface } from 'node:readline';
import { pathToFileURL } from 'node:url';
import assert from 'node:assert/strict';
import { chromium } from 'playwright-core';

export const browser = await chromium.launch({ executablePath: process.env.CHROMIUM });

/* The empty page with a case put in, as the program would. */
export function pageOf(name, scenario, log = null) {
    const empty = readFileSync('tool.html', 'utf8');
    const words = JSON.stringify({ name, scenario, log, table: null }).replaceAll('<', '\\u003c');
    const file = `pages/tool-${name.replace(/\.yaml$/, '')}.html`;
    writeFileSync(file, empty.replace(/(<script type="application\/json" id="case">)[^]*?(<\/script>)/, (all, begin, end) => begin + words + end));
    return file;
}

/* With HUBPHASE_FACE the page asks the library as it runs natively, in place of its Worker. */
async function bridge(context) {
    if (!process.env.HUBPHASE_FACE) {
        return () => {};
    }
    const face = spawn(process.env.HUBPHASE_FACE);
    const waiting = [];
    createInterface({ input: face.stdout }).on('line', (line) => line.startsWith('{"progress"') || waiting.shift()(line));
    await context.exposeFunction('nativeFace', (text) => new Promise((resolve) => {
        waiting.push(resolve);
        face.stdin.write(`${text}\n`);
    }));
    await context.addInitScript(() => {
        window.Worker = class {
            postMessage({ id, text }) {
                if (text) {
                    window.nativeFace(text).then((reply) => this.onmessage && this.onmessage({ data: { id, text: reply } }));
                }
            }
            terminate() {
                this.onmessage = null;
            }
        };
    });
    return () => face.kill();
}

/* Opens a file and hands the page to `work`. Afterwards nothing may have been fetched but the file and the
   page's own Worker, nothing written to the console, and no script may have failed. */
export async function withTool(file, options, work) {
    const { before, complaints = false, calm: waits = true, ...rest } = options;
    const context = await browser.newContext({ viewport: { width: 390, height: 844 }, ...rest });
    const end = await bridge(context);
    const seen = [];
    const heard = [];
    context.on('request', (request) => seen.push(request.url()));
    const watch = (page) => {
        page.on('console', (message) => heard.push(`${message.type()}: ${message.text()}`));
        page.on('pageerror', (error) => heard.push(`error: ${error.message}`));
        page.on('dialog', (dialog) => dialog.accept());
        return page;
    };
    if (before) {
        await context.addInitScript(before);
    }
    const address = pathToFileURL(file).href;
    const open = async () => {
        const page = watch(await context.newPage());
        await page.goto(address);
        if (waits) {
            await calm(page);
        }
        return page;
    };
    try {
        await work(await open(), open);
        const strange = seen.filter((url) => url.split('#')[0] !== address && !url.startsWith('blob:null/') && !url.startsWith('blob:file:'));
        assert.deepEqual(strange, [], 'fetched');
        if (!complaints) {
            assert.deepEqual(heard, [], 'heard from the page');
        }
    } finally {
        await context.close();
        end();
    }
}

/* Until the page has done what it was asked, and went on with nothing for a moment. */
let calls = 0;
export async function calm(page) {
    calls += 1;
    await page.waitForFunction((call) => {
        const now = performance.now();
        const quiet = window.quietSince;
        const isBusy = !document.body.dataset.part || document.querySelector('[aria-busy]');
        window.quietSince = isBusy || !quiet || quiet.call !== call ? { call, begun: now } : quiet;
        return !isBusy && now - window.quietSince.begun >= 30;
    }, calls, { timeout: 120000 });
}

export const title = (page) => page.locator('#step h2').textContent();
/* As `hubphase next` prints it. */
export const standing = (page) => page.locator('#step details:has(> summary:has-text("Where things stand")) pre').textContent();
export const question = async (page) => (await page.locator('#question').count() ? page.locator('#question').textContent() : '');

export async function tap(page, selector) {
    await page.locator(selector).first().click();
    await calm(page);
}

/* The focus goes on by the Tab key, to the first element like this. */
export async function reach(page, selector, most = 60) {
    const wanted = await page.locator(selector).first().elementHandle();
    for (let k = 0; k < most; k++) {
        if (await wanted.evaluate((element) => document.activeElement === element)) {
            return;
        }
        await page.keyboard.press('Tab');
    }
    assert.fail(`${selector} is not reached`);
}

/* How a person answers: with a finger, or by the keyboard alone. */
const finger = {
    press: (page, selector) => page.locator(selector).first().click(),
    type: (page, selector, text) => page.locator(selector).fill(text)
};
export const keyboard = {
    async press(page, selector) {
        await reach(page, selector);
        await page.keyboard.press('Enter');
    },
    async type(page, selector, text) {
        await reach(page, selector);
        await page.keyboard.press('Control+A');
        await page.keyboard.type(text);
    }
};

async function setCode(page, code, by) {
    for (let k = 0; k < 3; k++) {
        const one = `#answers .switch >> nth=${k}`;
        if (await page.locator(one).locator('strong').textContent() !== code[k]) {
            await by.press(page, one);
        }
    }
}

/* Gives what `person` says to the question that is put: a word of a button, a number, a code, a list of
   codes; undefined: left out, or as it stands there. */
export async function answerOne(page, said, by = finger) {
    const press = async (selector) => {
        await by.press(page, selector);
        await calm(page);
    };
    if (await page.locator('#answers .note').count()) {
        for (const code of said) {
            await setCode(page, code, by);
            await by.press(page, '#answers .note');
        }
        return press('button:has-text("These are all")');
    }
    if (await page.locator('#answers .switches').count()) {
        await setCode(page, said, by);
        return press('#answers .codes > .main');
    }
    if (typeof said === 'string' && said.includes(' > ')) {
        for (const output of said.split(' > ')) {
            await press(`#answers .answer[data-word="${output}"]`);
        }
        return undefined;
    }
    if (said !== undefined) { /* on a busy machine the next question may not be there yet */
        await page.locator(`#answers .answer[data-word="${said}"], #number-in`).first().waitFor({ timeout: 5000 }).catch(() => {});
    }
    if (said !== undefined && await page.locator(`#answers .answer[data-word="${said}"]`).count()) {
        return press(`#answers .answer[data-word="${said}"]`);
    }
    if (said !== undefined) {
        await by.type(page, '#number-in', String(said));
        return press('#answers .number .main');
    }
    for (const usual of ['#question[data-key="mended"] ~ .answers [data-word="yes"]', '#answers .enough', '#answers .skip-it', '#answers .answer[aria-pressed="true"]', '#answers .number .main']) {
        if (await page.locator(usual).count()) {
            return press(usual);
        }
    }
    return assert.fail(`nothing to tap at: ${await question(page)}`);
}

/* Answers what is still asked, and writes it down. */
export async function finish(page, said) {
    while (!await page.locator('#answers .write').count()) {
        await answerOne(page, said[await question(page)]);
    }
    await tap(page, '#answers .write');
}

/* What can be left out is, until a wiring is to be tried. */
export async function leaveOutUntilPower(page) {
    for (let k = 0; k < 20 && !/try it under power/.test(await title(page)); k++) {
        await tap(page, 'button:has-text("Cannot do this here")');
        await tap(page, '#answers .write');
    }
}

export async function logOf(page) {
    await tap(page, 'nav [data-part="files"]');
    await page.locator('#files summary').first().click();
    return page.locator('#files pre').first().textContent();
}

/* The file behind a button that downloads it. */
export async function downloaded(page, selector) {
    const [file] = await Promise.all([page.waitForEvent('download'), page.locator(selector).first().click()]);
    const path = `pages/${file.suggestedFilename()}`;
    await file.saveAs(path);
    return path;
}

/* ---- a bench that the page does not know -------------------------------------------------------- */

export const orders = [[0, 1, 2], [0, 2, 1], [1, 0, 2], [1, 2, 0], [2, 0, 1], [2, 1, 0]];
const isEven = (order) => [0, 3, 4].includes(orders.findIndex((one) => one.every((lead, k) => lead === order[k])));
const after = (outer, inner) => inner.map((k) => outer[k]);

/* Leads named U V W of which the one named k sits on axis phases[k], or sensors[k]. Ideal and good:
   what each wiring does follows from the two orders alone (the theory of six-step drives). */
export function benchOf(phases, sensors) {
    /* The code that is read, in the order of the names, with the rotor at an angle. */
    const code = (angle) => sensors.map((axis) => {
        const away = ((angle - 120 * axis) % 360 + 540) % 360 - 180;
        return Math.abs(away) < 90 ? '1' : '0';
    }).join('');
    return {
        /* The usual table for 120-degree sensors. */
        table: { 100: 'V > W', 110: 'V > U', '010': 'W > U', '011': 'W > V', '001': 'U > V', 101: 'U > W', '000': 'off', 111: 'off' },
        turn: Array.from({ length: 7 }, (_, k) => code(60 * k)),
        park: (lead) => code(120 * phases['UVW'.indexOf(lead)]),
        trial(number) {
            const h = after(sensors, orders[Math.floor((number - 1) / 6)]);
            const p = after(phases, orders[(number - 1) % 6]);
            if (isEven(h) !== isEven(p)) {
                return { motion: 'shiver' };
            }
            const same = h.every((lead, k) => lead === p[k]);
            return { motion: isEven(h) === same ? 'forward' : 'backward', feel: same ? 'smooth' : 'rough' };
        }
    };
}

/* What a person at this bench says to a question, known by the step's title and the question's words. */
export function personAt(bench) {
    return (step, words) => {
        const tried = /[Ww]iring (\d+)/.exec(step);
        const parked = /phase lead ([UVW])/.exec(step);
        const seen = tried ? bench.trial(Number(tried[1])) : {};
        const table = [[/all three pairs.*beep/i, 'yes'], [/beep to the axle|beep to a Hall/, 'no'], [/volts, plus to minus/, '4,9'],
            [/Which codes/, bench.turn], [/Which way did you turn/, 'forward'], [/What did the wheel do/, seen.motion], [/How did it run/, seen.feel],
            [/at its limit/, seen.feel === 'smooth' ? 'no' : 'yes'], [/Which code do/, parked ? bench.park(parked[1]) : undefined],
            [/Ohms between/, '0.2'], [/^Inputs at/, bench.table[words.slice(10, 13)]]];
        const found = table.find(([pattern]) => pattern.test(words));
        return found ? found[1] : undefined;
    };
}

/* Goes on until the page says that the work has ended; returns the titles of the steps. */
export async function work(page, person, by = finger, most = 40) {
    const steps = [];
    for (let taps = 0; taps < 12 * most && steps.length < most; taps++) {
        const now = await title(page);
        if (now !== steps[steps.length - 1]) {
            steps.push(now);
        }
        if (await page.locator('#answers .write').count()) {
            await by.press(page, '#answers .write');
            await calm(page);
        } else if (!(await page.locator('#question').count())) {
            return steps;
        } else {
            await answerOne(page, person(now, await question(page)), by);
        }
    }
    return assert.fail(`no end after ${steps.join('; ')}`);
}
