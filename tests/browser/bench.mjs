/* What the tests of the page share: the browser, a page that is watched, the plan as it stands in
   the file, read without the page's own script. */
import { chromium } from 'playwright-core';
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';

export const browser = await chromium.launch({ executablePath: process.env.CHROMIUM });

/* Opens a file and hands the page to `work`. Afterwards nothing may have been fetched but the file,
   nothing written to the console, and no script may have failed. */
export async function withPage(file, options, work) {
    const { before, complaints = 0, ...rest } = options;
    const context = await browser.newContext({ viewport: { width: 390, height: 844 }, ...rest });
    const page = await context.newPage();
    const address = pathToFileURL(file).href;
    const seen = [];
    const heard = [];
    page.on('request', (request) => seen.push(request.url()));
    page.on('console', (message) => heard.push(`${message.type()}: ${message.text()}`));
    page.on('pageerror', (error) => heard.push(`error: ${error.message}`));
    page.on('dialog', (dialog) => (dialog.type() === 'confirm' ? dialog.accept()
        : (heard.push(`dialog: ${dialog.message()}`), dialog.dismiss())));
    if (before) {
        await page.addInitScript(before);
    }
    try {
        await page.goto(address);
        await work(page, context);
        assert.deepEqual([...new Set(seen)].filter((url) => url.split('#')[0] !== address), [], 'fetched');
        if (!complaints) {
            assert.deepEqual(heard, [], 'heard from the page');
        }
    } finally {
        await context.close();
    }
}

/* [{kind, title, reason, wiring, cut, answers: [{label, log, to}]}], and all else of the JSON. */
export function planOf(file) {
    const html = readFileSync(file, 'utf8');
    const plan = JSON.parse(/<script type="application\/json" id="plan">(.*?)<\/script>/s.exec(html)[1]);
    plan.steps = plan.steps.map(([kind, words, reason, wiring, joins, cut, answers]) => ({
        kind, wiring, joins, cut,
        title: plan.texts[plan.words[words][0]],
        reason: plan.texts[reason],
        answers: Array.from({ length: answers.length / 2 }, (_, k) => {
            const [label, , log] = plan.answers[answers[2 * k]].map((text) => plan.texts[text]);
            return { label, log, to: answers[2 * k + 1] };
        })
    }));
    return plan;
}

/* Every path from the first step to an end, as lists of answers. */
export function pathsOf(plan) {
    const paths = [];
    const walk = (step, path) => {
        const { answers } = plan.steps[step];
        if (answers.length === 0) {
            paths.push(path);
        }
        answers.forEach((answer, k) => walk(answer.to, [...path, k]));
    };
    walk(0, []);
    return paths;
}

/* The first path that leads to a step like this. */
export function pathTo(plan, wanted) {
    const queue = [[0, []]];
    for (const [at, path] of queue) {
        if (wanted(plan.steps[at], path)) {
            return path;
        }
        plan.steps[at].answers.forEach((answer, k) => queue.push([answer.to, [...path, k]]));
    }
    return null;
}

export async function answer(page, path) {
    for (const k of path) {
        await page.locator('.answer:not(.rare)').nth(k).click();
    }
}
