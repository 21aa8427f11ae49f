/* The wall of a club evening, written by `hubphase lesson`: asked first and told later, led by keys alone, by a
   presenter's clicker and by taps, readable from the back row, the same in three engines. Run by tool.sh. */
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { after, test } from 'node:test';
import { pathToFileURL } from 'node:url';
import axe from 'axe-core';
import { missing, names, until, withEngine } from './engines.mjs';
import { browser, reach, withTool } from './tool.mjs';
import { calm, closeWalls, cutWords, goTo, press, scenes, settled, sizes, stepNow, tooSmall, walk, wallOf, withWall, wordsNow } from './wall.mjs';

after(() => browser.close());

/* ---- the evening -------------------------------------------------------------------------------- */

/* Twice round: nothing is laid out before its size is known. */
const drawn = (page) => page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));

const demos = ['barrow', 'trike'];

/* The whole evening of a machine once: each step, and what is wrong with it: of the demo machines in every size. */
const walked = new Map();

async function walkOf(name, look = () => {}) {
    if (!walked.has(name)) {
        await withWall(name, {}, async (page) => {
            const tried = demos.includes(name) ? [...sizes] : [sizes[0]];
            const wrong = Object.fromEntries(sizes.map(({ width }) => [width, []]));
            const steps = await walk(page, 'ArrowRight', async (step) => {
                await look(page, step);
                for (const viewport of tried) {
                    if (viewport.width !== page.viewportSize().width) {
                        await page.setViewportSize(viewport);
                        await drawn(page);
                    }
                    const list = [...await page.evaluate(tooSmall), ...name === 'hostile' ? [] : await page.evaluate(cutWords)];
                    list.forEach((text) => wrong[viewport.width].push(`${name}: ${step}: ${text}`));
                }
                /* The next step begins in the size in which this one ends. */
                tried.reverse();
            });
            walked.set(name, { steps, wrong });
        });
    }
    return walked.get(name);
}

const headOf = (step) => step.split('\n')[0];
const violations = [];

test('by one key it is asked, looked at and told, scene after scene; and back again', async () => {
    const heads = new Set();
    const { steps } = await walkOf('barrow', async (page, step) => {
        /* Further sentences of a scene look like its first ones. */
        if (!heads.has(headOf(step))) {
            heads.add(headOf(step));
            await page.evaluate(axe.source);
            const found = await page.evaluate(() => window.axe.run(document));
            violations.push(...found.violations.map(({ id, nodes }) => `${step.slice(0, 60)} ${id}: ${nodes[0].html} ${nodes[0].failureSummary}`));
        }
    });
    const titles = [...new Set(steps.map((step) => step.split(' | ')[0]))];
    assert.deepEqual(titles.slice(1), scenes);
    for (const title of scenes) {
        const own = steps.filter((step) => step.startsWith(`${title} | `)).map((step) => step.slice(title.length + 3));
        assert.deepEqual([...new Set(own.map(headOf))], ['Guess first', 'Now look', 'The answer', 'What it shows', 'Many people think'], title);
        /* Nothing of the answer before it is asked for. */
        own.slice(0, 2).forEach((step) => assert.ok(!step.includes('\u2713'), step));
        assert.equal(own[2].split('\u2713').length, 2, own[2]);
    }
    await withWall('barrow', {}, async (page) => {
        for (const one of ['9', ...Array(20).fill('ArrowRight')]) {
            await press(page, one);
        }
        const back = await walk(page, 'ArrowLeft');
        assert.deepEqual(back.reverse(), steps);
        /* A presenter's clicker. */
        for (const [key, to] of [['PageDown', 1], ['PageDown', 2], ['PageDown', 3], ['PageUp', 2], ['PageUp', 1], ['PageUp', 0]]) {
            await press(page, key);
            assert.equal(await page.evaluate(stepNow), steps[to]);
        }
    });
});

test('axe finds nothing at any kind of step', () => assert.deepEqual(violations, []));

for (const { width, height } of sizes) {
    test(`from the back row at ${width} x ${height}: no letter under 1/30 of the height, and all fits`, async () => {
        for (const name of demos) {
            assert.deepEqual((await walkOf(name)).wrong[width], []);
        }
    });
}

test('a faulty machine, one that has only names and one with another table make their evening', async () => {
    for (const name of ['faulty', 'seeddrill', 'mirrored']) {
        const { steps, wrong } = await walkOf(name);
        assert.deepEqual(wrong, { 1280: [], 1920: [], 1024: [] });
        assert.equal(new Set(steps.map((step) => step.split(' | ')[0])).size, 1 + scenes.length, name);
        assert.equal(steps[0].includes('something is wrong with it'), name === 'faulty');
        assert.equal(steps[0].includes('only names'), name === 'seeddrill');
    }
});

test('what it says is what the library says natively', async () => {
    const { scenes: told } = JSON.parse(readFileSync('walls/barrow.json', 'utf8').split('\n').find((line) => line.includes('"scenes"')));
    const { steps } = await walkOf('barrow');
    for (const scene of told) {
        const own = steps.filter((step) => step.startsWith(`${scene.title} | `)).join('\n').replaceAll('\u00a0', ' ');
        [scene.question, ...scene.look, ...scene.lines, scene.usual, scene.instead].forEach((text) => assert.ok(own.includes(text), text));
        const answer = own.split('\n').find((line) => line.includes('\u2713'));
        assert.ok(own.includes(scene.choices.find(({ right }) => right).text) && answer !== undefined, scene.name);
    }
});

test('another fault is told by the library in the file; what was told before comes back as it was', async () => {
    const { steps } = await walkOf('barrow');
    await withWall('barrow', {}, async (page) => {
        await goTo(page, 'A faulty part');
        const first = await page.evaluate(wordsNow);
        const told = new Set();
        for (let k = 0; k < 3; k++) {
            await press(page, 'f');
            await calm(page);
            told.add(await page.evaluate(wordsNow));
        }
        assert.equal(told.size, 3);
        assert.equal(await page.evaluate(wordsNow), first);
        /* Now all of it is what the library in the file simulated. */
        await press(page, 'Home');
        assert.deepEqual(await walk(page, 'ArrowRight'), steps);
    });
});

test('nobody waits for the 36: the evening is whole before the library has simulated them', async () => {
    const { steps } = await walkOf('barrow');
    /* A library that never gets to it. */
    const before = () => {
        const post = Worker.prototype.postMessage;
        Worker.prototype.postMessage = function (message, ...rest) {
            return message.text && JSON.parse(message.text).do === 'lesson' ? undefined : post.call(this, message, ...rest);
        };
    };
    await withTool(wallOf('barrow'), { viewport: sizes[0], calm: false, before }, async (page) => {
        await calm(page);
        assert.deepEqual(await walk(page, 'ArrowRight'), steps);
        await goTo(page, 'A faulty part');
        await page.keyboard.press('f');
        assert.match(await page.locator('#place').innerText(), /^One moment/);
        await goTo(page, 'One place off', 'The answer');
        await page.keyboard.press('e');
        assert.match(await page.locator('#wall').innerText(), /One moment: all 36 wirings are being simulated/);
        assert.deepEqual(await page.evaluate(tooSmall), []);
    });
});

test('whatever a scenario says stays text', async () => {
    await withWall('hostile', {}, async (page) => {
        await walk(page, 'ArrowRight', async () => assert.equal(await page.evaluate(() => document.querySelectorAll('b b, iframe, img, #wall a, #wall script').length), 0));
        assert.equal(await page.evaluate(() => window.taken), undefined);
        await goTo(page, 'Two phase leads crossed');
        assert.match(await page.evaluate(wordsNow), /<b>yellow<\/b>/);
    });
});

/* ---- scenes ------------------------------------------------------------------------------------- */

test('the magnet is turned by keys and by a finger; code and leads follow', async () => {
    await withWall('barrow', {}, async (page) => {
        await goTo(page, 'Turn it by hand');
        assert.equal(await page.locator('.code').count(), 0, 'told before it was asked for');
        assert.equal(await page.locator('.chip.high').count(), 0);
        await press(page, 'ArrowRight');
        const seen = new Set();
        for (let k = 0; k < 60; k++) {
            seen.add((await page.locator('#picture .readout').innerText()).replaceAll('\n', ' '));
            await press(page, 'ArrowUp');
        }
        const codes = [...seen].map((text) => text.match(/[01]{3}/)[0]);
        assert.deepEqual(codes.sort(), ['001', '010', '011', '100', '101', '110']);
        assert.equal(seen.size, 6, 'each code has its own pair of leads');
        const box = await page.locator('.turnable .dial').boundingBox();
        const at = async (x, y) => {
            await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
            await page.mouse.down();
            await page.mouse.move(box.x + x * box.width, box.y + y * box.height);
            await page.mouse.up();
            return page.locator('.code').innerText();
        };
        /* To the right stands the yellow coil, alone inside: sensors 1 0 0; opposite 0 1 1. This controller's inputs
           are in the same order in wiring 1. */
        assert.equal(await at(0.9, 0.5), '100');
        assert.equal(await at(0.1, 0.5), '011');
    });
});

/* Where a dial's parts are drawn, in degrees from the right, anticlockwise: north, and each box with what it reads. */
function drawnOnDial() {
    const dial = document.querySelector('#picture .dial');
    const angleOf = (x, y) => Math.atan2(100 - y, x - 100) * 180 / Math.PI;
    const number = (element, name) => Number(element.getAttribute(name));
    const north = dial.querySelector('.north');
    return {
        north: angleOf(number(north, 'x2'), number(north, 'y2')),
        boxes: [...dial.querySelectorAll('.chip')].map((box) => ({
            degrees: angleOf(number(box, 'x') + number(box, 'width') / 2, number(box, 'y') + number(box, 'height') / 2), level: box.nextElementSibling.textContent
        }))
    };
}

test('a sensor reads 1 just while north is within a quarter turn of where it is drawn', async () => {
    /* 120 degrees apart at the coils; 60 degrees apart; a whole board askew. */
    const places = { barrow: [0, 120, 240], sixty: [0, 300, 240], askew: [354, 111, 236] };
    for (const [name, expected] of Object.entries(places)) {
        await withWall(name, {}, async (page) => {
            await goTo(page, 'Turn it by hand', 'Now look');
            const seen = new Set();
            for (let k = 0; k < 60; k++) {
                const { north, boxes } = await page.evaluate(drawnOnDial);
                assert.deepEqual(boxes.map(({ degrees }) => (Math.round(degrees) + 360) % 360), expected, name);
                boxes.forEach(({ degrees, level }, j) => {
                    const apart = Math.abs(((north - degrees) % 360 + 540) % 360 - 180);
                    if (Math.abs(apart - 90) > 0.5) {
                        assert.equal(level, apart < 90 ? '1' : '0', `${name}: north at ${north}, box ${j} at ${degrees}`);
                        seen.add(`${j} ${level}`);
                    }
                });
                await page.keyboard.press('ArrowUp');
            }
            assert.equal(seen.size, 6, name);
        });
    }
});

const dialOf = (page) => page.locator('#picture .dial').first().innerHTML();

test('slow motion stops and goes, step by step, faster and slower', async () => {
    await withWall('barrow', {}, async (page) => {
        await goTo(page, 'The arrow runs ahead');
        assert.equal(await page.locator('.field-arrow').count(), 0, 'the arrow before it was asked for');
        await press(page, 'ArrowRight');
        const first = await dialOf(page);
        await page.waitForFunction((old) => document.querySelector('#picture .dial').innerHTML !== old, first);
        assert.equal(await page.locator('.field-arrow').count(), 1);
        /* Which curve is which lead's is told without colour too. */
        assert.match(await page.locator('.curves .soft').last().innerText(), /yellow, green, blue/);
        await press(page, ' ');
        const stopped = await dialOf(page);
        await page.waitForTimeout(400);
        assert.equal(await dialOf(page), stopped);
        const code = () => page.locator('#picture .readout').innerText();
        const before = await code();
        await press(page, 'ArrowUp');
        assert.notEqual(await code(), before);
        const pace = async () => Number((await page.locator('#place').innerText()).match(/(\d+) times slower/)[1]);
        const usual = await pace();
        await press(page, '-');
        assert.ok(await pace() > usual);
        await press(page, '+');
        assert.equal(await pace(), usual);
    });
});

test('steps stop just before a jump and just after it, and go on from the end to the beginning', async () => {
    await withWall('barrow', { reducedMotion: 'reduce' }, async (page) => {
        await goTo(page, 'The arrow runs ahead', 'Now look');
        const stood = async () => {
            const [code, ahead] = (await page.locator('#picture .readout').innerText()).match(/[01]{3}|-?[\d.]+(?=\u00b0)/g);
            return { code, ahead: Number(ahead) };
        };
        const list = [];
        for (let k = 0; k < 60; k++) {
            list.push(await stood());
            await page.keyboard.press('ArrowUp');
        }
        /* Of the steps on which the code stays, the arrow comes nearer; where it changes, it jumps ahead. */
        const pairs = list.slice(1).map((one, k) => [list[k], one]);
        const stays = pairs.filter(([before, after]) => before.code === after.code);
        const jumps = pairs.filter(([before, after]) => before.code !== after.code && after.ahead > before.ahead + 40);
        assert.ok(stays.length > 20 && jumps.length > 20, `${stays.length} and ${jumps.length}`);
        jumps.forEach(([before, after]) => assert.ok(before.ahead < 75 && after.ahead > 105, `${before.ahead} to ${after.ahead}`));
    });
});

test('beside the usual idea the arrow is held: turned towards it, the pull fades to nothing', async () => {
    await withWall('barrow', {}, async (page) => {
        await goTo(page, 'The arrow runs ahead', 'Many people think');
        const arrow = await page.locator('.field-arrow').getAttribute('d');
        const pulls = [];
        for (let k = 0; k <= 16; k++) {
            const told = await page.locator('#picture .readout').innerText();
            assert.match(told, new RegExp(`Arrow ${Math.abs(90 - 6 * k)}\u00b0 ${k > 15 ? 'behind' : 'ahead'}`));
            pulls.push(Number(told.match(/(\d+)\u00a0%/)[1]));
            assert.equal(await page.locator('.field-arrow').getAttribute('d'), arrow);
            await page.keyboard.press('ArrowUp');
        }
        assert.equal(pulls[0], 100);
        assert.equal(pulls[15], 0);
        pulls.slice(1, 16).forEach((pull, k) => assert.ok(pull <= pulls[k], `${pulls}`));
        assert.deepEqual(await page.evaluate(tooSmall), []);
        await press(page, 'ArrowLeft');
        assert.ok(await page.locator('.curves').count(), 'back in slow motion');
    });
});

test('the trap does not give itself away before the answer', async () => {
    await withWall('barrow', {}, async (page) => {
        await goTo(page, 'The trap');
        for (let k = 0; k < 2; k++) {
            assert.ok(!/iring \d/.test(await page.locator('#wall').innerText()));
            assert.deepEqual(await page.locator('.side .sub').allInnerTexts(), ['On the left', 'On the right']);
            assert.ok(!/why/.test(await page.locator('#keys').innerText()));
            await press(page, 'ArrowRight');
        }
        const named = await page.locator('.side .sub').allInnerTexts();
        const right = named.indexOf('Wiring 1');
        assert.equal(named.length, 2);
        const answer = await page.locator('.choices .right').innerText();
        assert.ok(answer.includes(['left', 'right'][right]), `${named}: ${answer}`);
    });
});

/* How far the field of three currents is ahead of a rotor in the sense in which it turns, from what the words name
   at one moment; at most half a turn, and where it is behind it pulls back. */
test('the arrow is told ahead or behind in one sense, by half a turn at most, and as it is drawn', async () => {
    const drawnAhead = () => {
        const angleOf = (x, y) => Math.atan2(100 - y, x - 100) * 180 / Math.PI;
        const north = document.querySelector('#picture .north');
        const [x, y] = document.querySelector('#picture .field-arrow').getAttribute('d').match(/L(-?[\d.]+),(-?[\d.]+)/).slice(1).map(Number);
        return angleOf(x, y) - angleOf(Number(north.getAttribute('x2')), Number(north.getAttribute('y2')));
    };
    const cases = [['barrow', 'The arrow runs ahead', 1], ['barrow', 'One place off', -1], ['barrow', 'Two phase leads crossed', 1], ['trike', 'One place off', -1],
        ['trike', 'A faulty part', 1]];
    for (const [name, title, sense] of cases) {
        await withWall(name, { reducedMotion: 'reduce' }, async (page) => {
            await goTo(page, title, 'Now look');
            const ways = new Set();
            for (let k = 0; k < 24; k++) {
                const told = (await page.locator('#picture .readout').innerText()).match(/(\d+)\u00b0 (ahead|behind)/);
                if (told) {
                    const [, degrees, way] = told;
                    ways.add(way);
                    assert.ok(degrees <= 180, told[0]);
                    const ahead = (way === 'ahead' ? 1 : -1) * degrees;
                    const off = ((sense * await page.evaluate(drawnAhead) - ahead) % 360 + 540) % 360 - 180;
                    assert.ok(Math.abs(off) < 1, `${name}, ${title}: told ${told[0]}, drawn ${off} further`);
                }
                await page.keyboard.press('ArrowUp');
            }
            /* Correctly joined it never pulls back; all others do for a part of each step. */
            assert.equal(ways.has('behind'), title !== 'The arrow runs ahead', `${name}, ${title}`);
        });
    }
});

test('what matters comes at once: the first jump within three seconds of the look', async () => {
    for (const [name, title] of [['barrow', 'Two phase leads crossed'], ['barrow', 'The trap'], ['trike', 'Two phase leads crossed']]) {
        await withWall(name, {}, async (page) => {
            await goTo(page, title, 'Now look');
            const code = () => document.querySelector('#picture .readout').innerText.match(/[01]{3}/)[0];
            const first = await page.evaluate(code);
            await page.waitForFunction((old) => document.querySelector('#picture .readout').innerText.match(/[01]{3}/)[0] !== old, first, { timeout: 3000 });
        });
    }
});

test('the ammeter shows the figure that the words tell', async () => {
    await withWall('barrow', {}, async (page) => {
        for (const [title, sentence] of [['The arrow runs ahead', 'is all it takes'], ['Two phase leads crossed', 'It takes'], ['One place off', 'It takes']]) {
            await goTo(page, title, 'The answer');
            while (!(await page.evaluate(wordsNow)).includes(sentence)) {
                await press(page, 'ArrowRight');
            }
            const ammeter = (await page.locator('.ammeter').innerText()).match(/[\d.]+(?=\sA)/)[0];
            assert.ok((await page.evaluate(wordsNow)).replaceAll('\u00a0', ' ').includes(` ${ammeter} A`), `${title}: ${ammeter}`);
        }
    });
});

test('nothing moves by itself for those who ask for less motion', async () => {
    await withWall('barrow', { reducedMotion: 'reduce' }, async (page) => {
        for (const title of ['The arrow runs ahead', 'The trap']) {
            await goTo(page, title, 'Now look');
            const first = await dialOf(page);
            await press(page, ' ');
            await page.waitForTimeout(400);
            assert.equal(await dialOf(page), first);
            await press(page, 'ArrowUp');
            assert.notEqual(await dialOf(page), first, 'by steps it goes on');
        }
    });
});

/* The number of the wiring on the left, key a, or on the right, key z. */
async function choose(page, key, number) {
    await page.keyboard.press(key);
    await page.keyboard.type(String(number));
    await press(page, 'Enter');
}

test('two wirings are chosen by keys, and stand at one scale', async () => {
    await withWall('barrow', {}, async (page) => {
        await goTo(page, 'Any two, side by side');
        await choose(page, 'a', 12);
        await page.waitForFunction(() => document.querySelector('#words').innerText.includes('Wiring 12 beside wiring 4'));
        await choose(page, 'z', 5);
        await page.waitForFunction(() => document.querySelector('#words').innerText.includes('Wiring 12 beside wiring 5'));
        /* The bar's keys hold while the field is in hand: on to the look, and the wirings stay. */
        await press(page, 'a');
        await press(page, 'ArrowRight');
        assert.equal(await page.evaluate(() => document.activeElement.tagName), 'BODY');
        assert.deepEqual(await page.evaluate(() => ['left', 'right'].map((id) => document.getElementById(id).value)), ['12', '5']);
        const scales = await page.locator('.curves .soft').allInnerTexts();
        const pulls = scales.filter((text) => text.startsWith('Pull'));
        assert.equal(pulls.length, 2);
        assert.equal(pulls[0], pulls[1]);
    });
});

test('the number that a group calls comes up, typed fast or slowly; one that is none is refused in words', async () => {
    await withWall('barrow', {}, async (page) => {
        await goTo(page, 'Any two, side by side');
        const refused = () => page.locator('#refused').innerText();
        const title = (left, right) => page.waitForFunction((text) => document.querySelector('#words').innerText.includes(text), `Wiring ${left} beside wiring ${right},`);
        const hands = async () => assert.ok(!/hand/.test(await page.evaluate(wordsNow)), 'a digit is no hand');
        await choose(page, 'a', 1);
        await choose(page, 'z', 4);
        let left = 1;
        /* A list's own search starts anew after a second or so. */
        for (const [delay, numbers] of [[0, [22, 11, 33, 3, 36, 12, 1, 20, 8]], [130, [22, 11, 3, 33]], [1100, [22, 33]]]) {
            for (const number of numbers) {
                await page.keyboard.press('a');
                assert.match(await page.locator('#keys').innerText(), /Enter choose\s+Esc leave/);
                await page.keyboard.type(String(number), { delay });
                assert.equal(await page.locator('#left').inputValue(), String(number));
                await title(left, 4);
                await page.keyboard.press('Enter');
                left = number;
                await title(left, 4);
                await hands();
                assert.equal(await page.locator('#left').inputValue(), String(number));
            }
        }
        for (const none of ['0', '99', '37', '222']) {
            await page.keyboard.press('z');
            await page.keyboard.type(none, { delay: 20 });
            await page.keyboard.press('Enter');
            assert.equal(await refused(), `There is no wiring ${none}: they go from 1 to 36.`);
            assert.deepEqual(await page.evaluate(tooSmall), []);
            await title(left, 4);
        }
        /* The field is still in hand, and what comes next takes the place of the wrong one. */
        await page.keyboard.type('11');
        assert.equal(await refused(), '');
        await page.keyboard.press('Enter');
        await title(left, 11);
        /* Escape, an empty field and letters change nothing. */
        for (const keys of [['2', 'Escape'], ['Enter'], ['2', 'Backspace', 'Enter'], ['2', 'x'], ['2', 'ArrowUp']]) {
            await page.keyboard.press('z');
            for (const key of keys) {
                await page.keyboard.press(key);
            }
            await page.evaluate(() => document.activeElement.blur());
            assert.equal(await page.locator('#right').inputValue(), '11', keys.join());
            await title(left, 11);
        }
        /* By taps, and by the tab key. */
        await page.locator('#right').click();
        await page.keyboard.type('7');
        await page.locator('#keys button', { hasText: 'choose' }).click();
        await title(left, 7);
        await page.locator('#left').focus();
        await page.keyboard.press('Tab');
        await page.keyboard.type('29');
        await page.keyboard.press('Enter');
        await title(left, 29);
        await page.locator('#right').focus();
        await page.keyboard.press('Tab');
        await page.waitForFunction(() => document.querySelector('#keys').contains(document.activeElement) && !document.querySelector('#keys').innerText.includes('choose'));
        await hands();
    });
});

test('all 36 are sorted step by step, and verdicts are told without colour too', async () => {
    await withWall('barrow', {}, async (page) => {
        await goTo(page, 'All 36');
        assert.equal(await page.locator('.cell').count(), 36);
        await press(page, 'ArrowRight');
        const headings = () => page.locator('.heap .sub').allInnerTexts();
        /* People count; how many there are stands there with the answer. */
        assert.deepEqual(await headings(), ['One side turned round', 'Both or none']);
        assert.ok(!/\u2713/.test(await page.locator('#picture').innerText()));
        await press(page, 'ArrowUp');
        assert.deepEqual(await headings(), ['One side turned round', 'A place off', 'Neither']);
        assert.equal(await page.locator('.triple').count(), 12);
        await press(page, 'ArrowRight');
        assert.deepEqual(await headings(), ['One side turned round: 18', 'A place off: 12', 'Neither: 6']);
        assert.deepEqual(await page.evaluate(() => [...document.querySelectorAll('.heap')].map((heap) => heap.querySelectorAll('.cell').length)), [18, 12, 6]);
        const cells = await page.locator('.triple .cell').allInnerTexts();
        assert.equal(cells.filter((text) => text.includes('\u2713')).length, 3);
        assert.equal(cells.filter((text) => text.includes('\u2715')).length, 18);
    });
});

test('hands are counted, three faults follow one another, and paper needs no keys', async () => {
    await withWall('barrow', {}, async (page) => {
        await goTo(page, 'A faulty part');
        await press(page, '3');
        await press(page, '3');
        await press(page, '1');
        assert.match(await page.evaluate(wordsNow), /2 hands/);
        assert.match(await page.evaluate(wordsNow), /1 hand\b/);
        await press(page, 'Delete');
        assert.ok(!/hand/.test(await page.evaluate(wordsNow)));
        const seen = [];
        for (let k = 0; k < 3; k++) {
            seen.push(await page.locator('.side .sub').innerText());
            await page.keyboard.press('f');
            await page.waitForFunction((old) => document.querySelector('.side .sub').innerText !== old, seen[k]);
            await calm(page);
        }
        assert.equal(new Set(seen).size, 3);
        await withWall('faulty', {}, async (own) => {
            await goTo(own, 'A faulty part');
            assert.match(await own.evaluate(wordsNow), /as in this very machine/);
        });
        assert.equal(await page.locator('.side .sub').innerText(), seen[0]);
        await page.emulateMedia({ media: 'print' });
        assert.ok(!(await page.locator('#keys').isVisible()));
        assert.ok(await page.locator('#words').isVisible());
    });
});

test('why a wiring does it is told in the words of the program', async () => {
    await withWall('barrow', {}, async (page) => {
        await goTo(page, 'The trap', 'The answer');
        for (const number of [12, 1]) {
            const run = spawnSync(process.env.HUBPHASE, ['explain', process.env.BARROW, '--wiring', String(number), '--starts', '7'], { encoding: 'utf8' });
            const printed = run.stdout.replace(/\s+/g, ' ');
            await page.keyboard.press('e');
            await page.waitForFunction((title) => document.querySelector('#wall').innerText.startsWith(title) && !document.querySelector('#wall').innerText.includes('One moment'),
                `Why wiring ${number} does it`);
            const told = (await page.locator('.reason').allInnerTexts()).join(' ').replace(/\s+/g, ' ');
            assert.ok(told.length > 100 && printed.includes(told), `${told}\n---\n${printed}`);
            assert.deepEqual(await page.evaluate(tooSmall), []);
        }
        await press(page, 'e');
        assert.match(await page.evaluate(wordsNow), /^The answer/);
        /* It would give the answer away before it was asked for. */
        for (const title of scenes.slice(1, 4)) {
            await goTo(page, title, 'Now look');
            assert.doesNotMatch(await page.locator('#keys').innerText(), /why/);
            await press(page, 'e');
            assert.match(await page.evaluate(wordsNow), /^Now look/);
            await goTo(page, title, 'The answer');
            assert.match(await page.locator('#keys').innerText(), /E why/);
            await page.keyboard.press('e');
            await page.waitForFunction(() => document.querySelectorAll('.reason').length > 1);
        }
    });
});

test('the leader jumps by digits, skips whole scenes, and has the keys on a card', async () => {
    await withWall('barrow', {}, async (page) => {
        const title = () => page.locator('#title').innerText();
        for (const [k, scene] of scenes.entries()) {
            await press(page, 'Home');
            await press(page, String(k + 1));
            assert.equal(await title(), scene);
            assert.match(await page.evaluate(wordsNow), /^Guess first/);
            assert.ok(!/1 hand/.test(await page.evaluate(wordsNow)), 'a jump is no hand');
        }
        await press(page, 'n');
        assert.equal(await title(), scenes[8], 'behind the last there is none');
        /* The plan of twenty minutes: 1, 2, 3, 7, 9. */
        await press(page, 'Home');
        await press(page, '3');
        await press(page, 'ArrowRight');
        for (const scene of scenes.slice(3, 7)) {
            await press(page, 'n');
            assert.equal(await title(), scene);
            assert.match(await page.evaluate(wordsNow), /^Guess first/);
        }
        await press(page, 'ArrowRight');
        const before = await page.evaluate(stepNow);
        await press(page, '?');
        const card = await page.locator('#wall').innerText();
        for (const key of ['Page down', 'Home', 'N', 'Space', 'E', 'A', 'Z', 'F', '?']) {
            assert.ok(card.split('\n').some((line) => line.split(/[\s:]+/).includes(key.split(' ')[0])), `${key}: ${card}`);
        }
        assert.deepEqual(await page.evaluate(tooSmall), []);
        await press(page, 'ArrowRight');
        assert.equal(await page.evaluate(stepNow), before, 'any key puts the card away, and does no more');
        await press(page, 'Home');
        assert.match(await page.locator('#keys').innerText(), /\? keys/);
        await page.locator('#keys button', { hasText: 'keys' }).click();
        await page.locator('#keys button', { hasText: 'close' }).click();
        assert.match(await page.locator('#wall').innerText(), /Turn it by hand/);
    });
});

/* Boxes of names and of the N on the dials, in pixels. */
function namesAndPole() {
    const box = (element) => {
        const { left, right, top, bottom } = element.getBoundingClientRect();
        const thin = 0.2 * (bottom - top); /* a line's box has room above and below its letters */
        return { text: element.textContent, left, right, top: top + thin, bottom: bottom - thin };
    };
    return [...document.querySelectorAll('#picture .dial')].map((dial) => ({ names: [...dial.querySelectorAll('.name')].map(box), pole: box(dial.querySelector('.pole')),
        hidden: [...dial.querySelectorAll('.field-arrow')].some((arrow) => arrow.compareDocumentPosition(dial.querySelector('.pole')) !== Node.DOCUMENT_POSITION_FOLLOWING) }));
}

/* The same with every N as if the magnet pointed there. */
function poleTurned(degrees) {
    const box = (element) => {
        const { left, right, top, bottom } = element.getBoundingClientRect();
        const thin = 0.2 * (bottom - top);
        return { text: element.textContent, left, right, top: top + thin, bottom: bottom - thin };
    };
    return [...document.querySelectorAll('#picture .dial')].map((dial) => {
        const pole = dial.querySelector('.pole');
        const angle = degrees * Math.PI / 180;
        pole.setAttribute('x', 100 + 27 * Math.cos(angle));
        pole.setAttribute('y', 106 - 27 * Math.sin(angle));
        return { names: [...dial.querySelectorAll('.name')].map(box), pole: box(pole) };
    });
}

test('no name lies over the magnet\u2019s N, and one that is cut says so', async () => {
    for (const name of ['barrow', 'hostile']) {
        await withWall(name, { reducedMotion: 'reduce' }, async (page) => {
            for (const title of ['The arrow runs ahead', 'Any two, side by side']) {
                await goTo(page, title, 'Now look');
                for (let k = 0; k < 36; k++) {
                    for (const { names, pole, hidden } of await page.evaluate(namesAndPole)) {
                        assert.equal(names.length, 3);
                        assert.ok(!hidden, 'the arrow lies over the N');
                        for (const one of names) {
                            const apart = one.right < pole.left || one.left > pole.right || one.bottom < pole.top || one.top > pole.bottom;
                            assert.ok(apart, `${title}: ${one.text} lies over ${pole.text}`);
                        }
                        if (name === 'hostile') {
                            assert.ok(names.some(({ text }) => text.endsWith('\u2026')), names.map(({ text }) => text).join());
                        }
                    }
                    await page.keyboard.press('ArrowUp');
                }
            }
        });
    }
});

test('before the answer, where two small dials stand beside the question, no name lies over the N either', async () => {
    for (const name of demos) {
        for (const viewport of sizes) {
            await withWall(name, { viewport }, async (page) => {
                for (const title of ['Any two, side by side', 'The trap']) {
                    await goTo(page, title);
                    /* Wherever the magnets rest: they are turned all round, and the dial is drawn as it is. */
                    for (let degrees = 0; degrees < 360; degrees += 15) {
                        const dials = await page.evaluate(poleTurned, degrees);
                        assert.equal(dials.length, 2);
                        for (const { names, pole } of dials) {
                            const over = names.filter((one) => one.right > pole.left && one.left < pole.right && one.bottom > pole.top && one.top < pole.bottom);
                            assert.deepEqual(over.map(({ text }) => text), [], `${name}, ${title}, ${viewport.width}, north at ${degrees}`);
                        }
                    }
                }
            });
        }
    }
});

test('by the tab key alone a scene is reached and left', async () => {
    await withWall('barrow', {}, async (page) => {
        await reach(page, '.jump:has-text("The trap")');
        await press(page, 'Enter');
        assert.equal(await page.locator('#title').innerText(), 'The trap');
        await reach(page, '#keys button:has-text("look")');
        await press(page, 'Enter');
        assert.match(await page.evaluate(wordsNow), /^Now look/);
    });
});

test('nothing was fetched, and no page complained', closeWalls);

/* ---- three engines, by taps --------------------------------------------------------------------- */

/* Chromium is led all through the tests above. */
for (const name of names.filter((one) => one !== 'chromium')) {
    test(`the wall in ${name}`, { skip: missing(name), timeout: 120000 }, async () => {
        await withEngine(name, async (engine) => {
            const view = await engine.open(pathToFileURL(wallOf('barrow')).href);
            await until(view, 'the list of scenes', settled);
            const titles = new Set();
            for (let k = 0; k < 150; k++) {
                titles.add((await view.evaluate(stepNow)).split(' | ')[0]);
                assert.deepEqual(await view.evaluate(tooSmall), [], await view.evaluate(stepNow));
                if (await view.evaluate(() => document.querySelector('#keys').innerText.includes('the end'))) {
                    break;
                }
                await view.click('button', '\u2192');
                await until(view, 'the next step', settled);
            }
            assert.deepEqual([...titles].slice(1), scenes);
            await view.screenshot(`walls/${name}.png`);
            assert.deepEqual(await view.complaints(), []);
        }, sizes[0]);
    });
}
