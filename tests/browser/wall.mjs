/* The wall of a club evening, led as a leader leads it: opened once and gone back to its title by test after
   test, since opening it takes seconds; and what is looked at in each step. */
import assert from 'node:assert/strict';
import { withTool } from './tool.mjs';

export const wallOf = (name) => `walls/${name}/wall.html`;
export const sizes = [{ width: 1280, height: 720 }, { width: 1920, height: 1080 }, { width: 1024, height: 768 }];
export const scenes = ['Turn it by hand', 'The arrow runs ahead', 'Two phase leads crossed', 'One place off', 'All 36', 'Any two, side by side', 'The trap', 'A faulty part', 'At the bench'];

/* ---- these run in the page ---------------------------------------------------------------------- */

/* Letters below 1/30 of the height, as they are drawn; and what does not fit into the place that it has. */
export function tooSmall() {
    const least = window.innerHeight / 30 - 0.01;
    const small = [];
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    while (walker.nextNode()) {
        const element = walker.currentNode.parentElement;
        const box = element.getBoundingClientRect();
        const isShown = walker.currentNode.textContent.trim() && box.width > 1 && box.height > 1 && !element.closest('script, style, noscript, .unseen');
        const scale = element.getScreenCTM && isShown ? element.getScreenCTM().a : 1;
        const size = parseFloat(getComputedStyle(element).fontSize) * scale;
        if (isShown && size < least) {
            small.push(`${walker.currentNode.textContent.slice(0, 30)}: ${size.toFixed(1)}`);
        }
    }
    const full = ['#words', '.opening', '#wall', '#picture', '#keys', 'body'].filter((name) => {
        const element = document.querySelector(name);
        return element && (element.scrollHeight > element.clientHeight + 1 || element.scrollWidth > element.clientWidth + 1);
    }).map((name) => `${name} is too small for what is in it`);
    /* The edge of a bar has room in its drawing, and the drawing in the picture. */
    const bars = [...document.querySelectorAll('.ammeter rect')].filter((bar) => {
        const { left, right, top, bottom } = bar.getBoundingClientRect();
        return [bar.closest('svg'), document.querySelector('#picture')].some((place) => {
            const room = place.getBoundingClientRect();
            return left < room.left + 0.2 || right > room.right - 0.2 || top < room.top + 0.2 || bottom > room.bottom - 0.2;
        });
    }).map((bar) => `the edge of a bar is cut: ${bar.getAttribute('class')}`);
    return [...small, ...full, ...bars];
}

/* Words that end in a sign that they are cut. */
export const cutWords = () => [...document.querySelectorAll('#picture .readout p')].filter((one) => one.scrollWidth > one.clientWidth + 1).map(({ textContent }) => textContent);

export const settled = () => Boolean(document.querySelector('#keys button')) && !document.querySelector('[aria-busy]');
export const wordsNow = () => (document.querySelector('#words') || document.querySelector('#wall')).innerText;
export const stepNow = () => `${document.querySelector('#title').textContent} | ${(document.querySelector('#words') || document.querySelector('#wall')).innerText}`;

/* ---- leading it --------------------------------------------------------------------------------- */

export const calm = (page) => page.waitForFunction(settled, null, { timeout: 60000 });

export async function press(page, key) {
    await page.keyboard.press(key);
    await calm(page);
}

const opened = new Map();

function open(name) {
    if (!opened.has(name)) {
        const one = {};
        one.page = new Promise((resolve, reject) => {
            one.ended = withTool(wallOf(name), { viewport: sizes[0], calm: false }, async (page) => {
                await calm(page);
                const closed = new Promise((end) => { one.close = end; });
                resolve(page);
                await closed;
            });
            one.ended.catch(reject);
        });
        opened.set(name, one);
    }
    return opened.get(name).page;
}

/* The wall of a machine at its title, in this size. */
export async function withWall(name, { viewport = sizes[0], reducedMotion = 'no-preference' }, work) {
    const page = await open(name);
    await page.setViewportSize(viewport);
    await page.emulateMedia({ media: 'screen', reducedMotion });
    await press(page, 'Escape');
    await press(page, 'Home');
    await work(page);
    /* Nothing goes on moving behind the next test. */
    await press(page, 'Home');
}

/* Closes all, and fails where one of them fetched something or complained. */
export async function closeWalls() {
    for (const { close, ended } of opened.values()) {
        close();
        await ended;
    }
    opened.clear();
}

/* Goes on by this key until nothing changes, and hands each step to `look`. */
export async function walk(page, key, look = () => {}) {
    const steps = [];
    for (;;) {
        const now = await page.evaluate(stepNow);
        if (now === steps[steps.length - 1]) {
            return steps;
        }
        steps.push(now);
        assert.ok(steps.length < 150, 'it does not end');
        await look(now);
        await press(page, key);
    }
}

/* To the first step of a scene. */
export async function goTo(page, title, heading = 'Guess first') {
    await press(page, 'Home');
    await page.locator('.jump', { hasText: title }).click();
    await calm(page);
    while (!(await page.evaluate(wordsNow)).startsWith(heading)) {
        await press(page, 'ArrowRight');
    }
}
