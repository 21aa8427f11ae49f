/* A tab killed at any moment: whatever the screen had acknowledged is there when the page is opened again.
   Chromium's renderers are killed while somebody taps: nothing is unloaded, nothing is told. */
import assert from 'node:assert/strict';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test } from 'node:test';
import { chromium } from 'playwright-core';
import { casePage } from './case_page.mjs';

const address = casePage('plain.yaml');
const most = 34; /* states: a few whole entries, and many half said */
const kills = Number(process.env.KILLS || 12);

/* As the system does it to a phone that runs out of memory. */
async function killTabs(session) {
    const { processInfo } = await session.send('SystemInfo.getProcessInfo');
    processInfo.filter(({ type }) => type === 'renderer').forEach(({ id }) => process.kill(id, 'SIGKILL'));
}

/* What stands on the screen: the step, what is asked of it, what is typed or noted and not taken yet. Runs in
   the page. */
const shown = () => {
    const heading = document.querySelector('#step h2');
    const question = document.getElementById('question');
    const half = [...document.querySelectorAll('#answers .ring li, #answers .switch strong')].map((one) => one.textContent).join(' ');
    const field = document.querySelector('#number-in');
    return heading && question && !document.body.hasAttribute('aria-busy')
        ? `${heading.textContent} | ${question.textContent} | ${half}${field ? field.value : ''}` : null;
};

/* Says something to the question that stands there, by tapping what it offers. Runs in the page; always the
   same, so that every run passes through the same states. */
const tapSomething = () => {
    const sheet = document.getElementById('answers');
    const tap = (selector) => {
        const button = sheet.querySelector(selector);
        if (button) {
            button.click();
        }
        return Boolean(button);
    };
    const pairs = document.getElementById('question').textContent.includes('all three pairs');
    const field = sheet.querySelector('#number-in');
    if (tap('.write') || tap('.skip-it') || tap('.answer[aria-pressed=true]') || tap(pairs ? '.answer[data-word=yes]' : '.answer[data-word=no]') || tap('.answer')) {
        return;
    }
    const ring = ['100', '110', '010', '011', '001', '101', '100'];
    const noted = sheet.querySelectorAll('.ring li').length;
    if (field && !field.value) {
        field.value = '5';
        field.dispatchEvent(new Event('input', { bubbles: true }));
    } else if (field) {
        tap('form button[type=submit]');
    } else if (!sheet.querySelector('.note')) {
        tap('.codes .main');
    } else if (noted < ring.length) {
        const other = [...sheet.querySelectorAll('.switch')].find((one, k) => !one.textContent.trim().startsWith(ring[noted][k]));
        (other || sheet.querySelector('.note')).click();
    } else {
        tap('.codes .row .main');
    }
};

/* What the screen shows once it is another than before. Fails where the tab dies meanwhile. */
async function nextState(page, before) {
    for (const end = Date.now() + 30000; Date.now() < end;) {
        const now = await page.evaluate(shown);
        if (now && now !== before) {
            return now;
        }
    }
    return assert.fail(`nothing came after ${before}`);
}

/* The page in a browser that keeps what it has to keep in `profile`. */
async function opened(profile) {
    const context = await chromium.launchPersistentContext(profile, { executablePath: process.env.CHROMIUM });
    const session = await context.browser().newBrowserCDPSession();
    const page = await context.newPage();
    await page.goto(address);
    return { context, session, page, state: await nextState(page, null) };
}

async function onwards(page, before) {
    await page.evaluate(tapSomething);
    return nextState(page, before);
}

/* All states of a run that nobody disturbs. */
async function calmRun(profile) {
    const { context, page, state } = await opened(profile);
    const all = [state];
    while (all.length < most) {
        const next = await onwards(page, all.at(-1));
        assert.ok(!all.includes(next), `a state of its own: ${next}`);
        all.push(next);
    }
    await context.close();
    assert.ok(new Set(all.map((one) => one.split(' | ')[0])).size > 3, 'several steps are passed');
    assert.ok(all.some((one) => one.endsWith(' | 5')), 'a number is typed and not taken');
    assert.ok(all.some((one) => / \| 0 1 0 100 110 010$/.test(one)), 'codes are noted and not taken');
    return all;
}

/* Taps on from state `at` until the tab dies; the last state that was on the screen. */
async function tapUntilKilled({ session, page }, all, at, delay) {
    const killed = new Promise((resolve) => page.once('crash', resolve));
    let last = at;
    const tapOn = async () => {
        while (last < all.length - 1) {
            last = all.indexOf(await onwards(page, all[last]));
            assert.ok(last >= 0, 'a state that is known');
        }
    };
    setTimeout(() => killTabs(session), delay);
    /* A question to a dead tab is never answered. */
    const tapping = tapOn();
    tapping.catch(() => {});
    await Promise.race([killed, tapping.then(() => killed)]);
    return last;
}

test('a tab that is killed loses nothing that was on the screen', { timeout: 280000 }, async () => {
    const room = mkdtempSync(join(tmpdir(), 'hubphase-killed-'));
    const all = await calmRun(join(room, 'calm'));
    let random = 20261129;
    const below = (count) => {
        random = (Math.imul(random, 1664525) + 1013904223) >>> 0;
        return Math.floor(random / 2 ** 32 * count);
    };
    let profile = join(room, 'first');
    let life = await opened(profile);
    let at = 0;
    let unseen = 0;
    for (let k = 0; k < kills; k++) {
        const last = await tapUntilKilled(life, all, at, below(500));
        await life.context.close();
        life = await opened(profile);
        at = all.indexOf(life.state);
        /* What was tapped last may have been kept before it was seen. */
        assert.ok(at === last || at === last + 1, `kill ${k}: on the screen was state ${last}, there is ${at} of ${all.length}`);
        unseen += at - last;
        if (at > all.length - 4) {
            await life.context.close();
            profile = join(room, `fresh-${k}`);
            life = await opened(profile);
            at = 0;
        }
    }
    await life.context.close();
    rmSync(room, { recursive: true, force: true });
    console.log(`${kills} kills, nothing lost that was on the screen; ${unseen} times the last tap was kept though unseen`);
});
