/* A machine led through the page in Chromium: whatever is said is said by taps, or typed where there is a
   field. What to do with the hands is read from the step, as `hubphase next --json` says it. */
import { chromium } from 'playwright-core';
import { pathToFileURL } from 'node:url';

/* What is asked now; null: nothing is. Runs in the page. */
function look() {
    const question = document.getElementById('question');
    const sheet = document.getElementById('answers');
    if (!question) {
        return null;
    }
    const words = [...sheet.querySelectorAll('.answer')].map((button) => button.dataset.word);
    const pressed = sheet.querySelector('.answer[aria-pressed=true]');
    const field = sheet.querySelector('#number-in');
    return {
        confirm: sheet.querySelector('.write') !== null,
        key: question.dataset.key,
        type: question.dataset.type,
        text: question.textContent,
        words,
        fallback: pressed ? pressed.dataset.word : field ? field.value : '',
        required: sheet.querySelector('.skip-it') === null,
        problem: (sheet.querySelector('.problem') || { textContent: '' }).textContent
    };
}

/* The advice that the page was told last, heard beside its Worker. Runs in the page, before its scripts. */
function hearAdvice() {
    const Own = window.Worker;
    window.Worker = class extends Own {
        constructor(address) {
            super(address);
            this.addEventListener('message', ({ data }) => {
                const reply = data.text ? JSON.parse(data.text) : {};
                window.heardAdvice = (reply.json && reply.json.advice) || window.heardAdvice;
            });
        }
    };
}

/* What was taken from the advice without asking. Runs in the page. */
const takenNow = () => [...document.querySelectorAll('#answers .chip')].map(({ dataset }) => ({ ...dataset }));

export async function open() {
    const browser = await chromium.launch({ executablePath: process.env.CHROMIUM });
    const address = pathToFileURL(process.env.PAGE).href;
    let context = null;
    let page = null;
    let taps = 0;
    const heard = [];

    const tap = async (selector) => {
        await page.locator(selector).first().click({ timeout: 10000 });
        taps += 1;
    };
    /* The question that stands there goes, and another one or the next step comes. */
    const tapOn = async (selector) => {
        await page.evaluate(() => { document.getElementById('question').dataset.old = 'yes'; });
        await tap(selector);
        await page.locator('#question:not([data-old]), #answers:not(:has(#question))').first().waitFor();
    };
    const setCode = async (code) => {
        for (const [k, digit] of [...code].entries()) {
            if (await page.locator('.switch strong').nth(k).textContent() !== digit) {
                await tap(`.switch >> nth=${k}`);
            }
        }
    };

    const put = {
        async code(text) {
            await setCode(text);
            await tapOn('.codes .main');
        },
        async codes(text) {
            const codes = text.split(',');
            for (const code of codes) {
                await setCode(code);
                await tap('.note');
            }
            if (new Set(codes).size === 1) {
                await tap('.codes .main');
                await tapOn('.codes .sure');
            } else {
                await tapOn('.codes .main');
            }
        },
        async row(text) {
            const [high, low] = text.split(' > ');
            if (low) {
                await tap(`.answer[data-word="${high}"]`);
            }
            await tapOn(`.answer[data-word="${low || high}"]`);
        },
        /* As many a meter shows it. */
        async number(text) {
            if (text === 'open') {
                await tapOn('#answers form button:has-text("Open")');
                return;
            }
            await page.locator('#number-in').fill(text.replace('.', ','));
            taps += 1;
            await tapOn('#answers form button[type=submit]');
        }
    };

    async function say(question, text) {
        if (text === '') {
            await tapOn('.skip-it');
        } else if (question.type !== 'row' && question.words.includes(text)) {
            await tapOn(`.answer[data-word="${text}"]`);
        } else {
            await (put[question.type] || put.number)(text);
        }
    }

    return {
        async begin(scenario) {
            if (context) {
                await context.close();
            }
            context = await browser.newContext({ viewport: { width: 390, height: 844 } });
            page = await context.newPage();
            await page.addInitScript(hearAdvice);
            page.setDefaultTimeout(60000);
            page.on('console', (message) => heard.push(`${message.type()}: ${message.text()}`));
            page.on('pageerror', (error) => heard.push(`error: ${error.message}`));
            await page.goto(address);
            await page.locator('#scenario-in').setInputFiles({ name: 'hidden.yaml', mimeType: 'text/yaml', buffer: Buffer.from(scenario) });
            await page.locator('#step h2').waitFor();
        },
        async advice() {
            const advice = await page.evaluate(() => window.heardAdvice);
            const title = await page.locator('#step h2').textContent();
            if (!title.endsWith(`. ${advice.title}`)) {
                throw new Error(`the page says "${title}", its advice "${advice.title}"`);
            }
            return advice;
        },
        async write(kind, answer) {
            const advice = await page.evaluate(() => window.heardAdvice);
            if (await page.evaluate(look) === null || !(advice.log_command || []).includes(kind)) {
                await tap('#answers button:has-text("Something else")');
                await page.evaluate(() => { const old = document.getElementById('question'); if (old) { old.dataset.old = 'yes'; } });
                if (await page.locator(`.answer[data-word="${kind}"]`).count() === 0) {
                    return `there is no form for ${kind}`;
                }
                await tap(`.answer[data-word="${kind}"]`);
                await page.locator('#question:not([data-old])').waitFor();
            }
            for (const { key, value } of await page.evaluate(takenNow)) {
                if (answer({ key, type: 'taken', text: `${key}?`, words: [], fallback: value, required: false }) !== value) {
                    return `${kind}: ${key} was taken as ${value}`;
                }
            }
            for (let k = 0; k < 80; k++) {
                const question = await page.evaluate(look);
                if (question.problem) {
                    return `${kind}: "${question.text}" ${question.problem}`;
                }
                if (question.confirm) {
                    const before = await page.locator('#step h2').textContent();
                    await tapOn('.write');
                    const next = await page.evaluate(look);
                    return next && next.confirm ? next.problem : before === await page.locator('#step h2').textContent() ? 'no next step came' : null;
                }
                /* What the bench says of a mend is done. */
                const text = question.key === 'mended' ? 'yes' : answer(question);
                if (text === null) {
                    return `${kind}: "${question.text}"`;
                }
                await say(question, text);
            }
            return `${kind}: there is no end of questions`;
        },
        taps: () => taps,
        async end() {
            await browser.close();
            if (heard.length) {
                throw new Error(`the page complained: ${[...new Set(heard)].join('; ')}`);
            }
        }
    };
}
