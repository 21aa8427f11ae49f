/* From step to step at the bench: each on one screen, to the end and on to the first ride, by taps and by keys. In
   Chromium; run by tool.sh. */
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { after, test } from 'node:test';
import {
    answerOne, benchOf, browser, calm, keyboard, leaveOutUntilPower, logOf, orders, pageOf, personAt, question, reach, standing, tap, title, withTool,
    work
} from './tool.mjs';

const scenario = readFileSync('pages/plain.yaml', 'utf8');
const plain = pageOf('plain.yaml', scenario);
const cross = personAt(benchOf([1, 0, 2], [2, 0, 1]));

after(() => browser.close());

test('a bench is brought to its end by taps alone, and the log leads the program to the same step', async () => {
    for (const [phases, sensors] of [[orders[2], orders[4]], [orders[5], orders[1]], [orders[0], orders[0]]]) {
        const bench = benchOf(phases, sensors);
        await withTool(plain, { viewport: { width: 1280, height: 800 } }, async (page) => {
            const asked = [];
            const person = personAt(bench);
            const steps = await work(page, (step, words) => {
                asked.push(words);
                return person(step, words);
            });
            assert.ok(asked.some((words) => /of them did it start/.test(words)), 'what has a usual answer is asked all the same');
            assert.ok(!asked.some((words) => /Which wiring is joined/.test(words)), 'what the advice says is taken as said');
            const last = steps[steps.length - 1];
            const number = Number(/[Ww]iring (\d+)/.exec(last)[1]);
            assert.deepEqual(bench.trial(number), { motion: 'forward', feel: 'smooth' }, steps.join('; '));
            const said = (await standing(page)).trimEnd();
            const log = await logOf(page);
            writeFileSync('pages/plain.bench.yaml', log);
            const next = execFileSync(process.env.HUBPHASE, ['next', 'plain.yaml', '--quiet'], { encoding: 'utf8', cwd: 'pages' });
            /* The page has a button for what the terminal has a command. */
            const told = next.replace(/\s+The steps:\s+`hubphase\s+commission'\./, '');
            assert.notEqual(told, next);
            assert.equal(said, told.trimEnd(), 'byte for byte what the program says');
        });
    }
});

test('the first answer stands on the first screen of a phone', async () => {
    await withTool(plain, {}, async (page) => {
        const steps = new Set();
        for (let k = 0; k < 40 && !(await page.locator('#answers .write').count() && steps.size > 5); k++) {
            const now = await title(page);
            if (!steps.has(now)) {
                steps.add(now);
                const first = await page.locator('#answers .answer, #answers .switch, #number-in, #answers select, #answers .row button').first().boundingBox();
                assert.ok(first.y > 0 && first.y + first.height <= 844, `${now}: ${JSON.stringify(first)}`);
                assert.equal(await page.evaluate(() => window.scrollY), 0, now);
                const safe = await page.locator('.safe').first().boundingBox();
                const sheet = await page.locator('#answers').boundingBox();
                assert.ok(safe.y + safe.height <= sheet.y, `${now}: what makes it safe is in sight`);
            }
            if (!(await page.locator('#question').count())) {
                break;
            }
            await (await page.locator('#answers .write').count() ? tap(page, '#answers .write') : answerOne(page, cross(now, await question(page))));
        }
        assert.ok(steps.size > 4, `${steps.size} steps`);
    });
});

test('the answers to a trial stand on one screen beside what makes it safe', async () => {
    for (const [width, height] of [[390, 844], [360, 740]]) {
        await withTool(plain, { viewport: { width, height } }, async (page) => {
            await leaveOutUntilPower(page);
            assert.match(await title(page), /try it under power/);
            const sheet = await page.locator('#answers').boundingBox();
            const answers = await page.locator('#answers .answer').all();
            assert.ok(answers.length >= 5);
            for (const answer of answers) {
                const box = await answer.boundingBox();
                assert.ok(box.y >= sheet.y && box.y + box.height <= height, `${width}: ${await answer.textContent()}`);
            }
            const safe = await page.locator('.safe').boundingBox();
            assert.ok(safe.y + safe.height <= sheet.y, `${width}: what makes it safe is in sight`);
            assert.equal(await page.evaluate(() => window.scrollY), 0);
        });
    }
});

test('on a phone that lies on its side the answers stand beside the step', async () => {
    await withTool(plain, { viewport: { width: 844, height: 390 } }, async (page) => {
        const visible = async (selector) => {
            const boxes = [];
            for (const one of await page.locator(selector).all()) {
                boxes.push(await one.boundingBox());
            }
            return boxes.filter((box) => box.y >= 0 && box.y + box.height <= 390).length;
        };
        const sheet = await page.locator('#answers').boundingBox();
        const step = await page.locator('#step').boundingBox();
        assert.ok(sheet.x >= step.x + step.width && sheet.y < 90, JSON.stringify([step, sheet]));
        assert.equal(await visible('#answers .answer'), 2);
        assert.equal(await visible('#step .safe'), 1, 'what makes it safe is in sight');
        await leaveOutUntilPower(page);
        assert.ok(await visible('#answers .answer') >= 4, 'a trial');
        await page.evaluate(() => window.scrollTo(0, document.body.scrollHeight / 2));
        assert.ok(await visible('#answers .answer') >= 4, 'also far down the step');
        assert.ok(await page.evaluate(() => document.documentElement.scrollWidth) <= 844);
    });
});

test('once a wiring runs the work goes on step by step to the first ride', async () => {
    const bench = benchOf(orders[1], orders[3]);
    await withTool(plain, {}, async (page) => {
        await work(page, personAt(bench));
        const done = async () => Number(/(\d+) of \d+/.exec(await page.locator('#answers .after').textContent())[1]);
        const ended = await title(page);
        const before = await done();
        await tap(page, '#answers .after');
        const first = await title(page);
        assert.match(first, /^After the wiring, \d+ of \d+ done\. /);
        assert.ok(await page.locator('#step .safe').isVisible());
        await page.reload();
        await calm(page);
        assert.equal(await title(page), first, 'after a reload, too');
        await tap(page, 'button:has-text("Leave it")');
        assert.equal(await title(page), ended);
        await tap(page, '#answers .after');
        for (let k = 0; k < 30 && !await page.locator('#answers .write').count(); k++) {
            const words = await page.locator('#answers .answer').evaluateAll((list) => list.map(({ dataset }) => dataset.word));
            await (words.length ? tap(page, `#answers .answer[data-word="${words[0]}"]`) : answerOne(page, undefined));
        }
        await tap(page, '#answers .write');
        assert.equal(await done(), before + 1);
        await tap(page, '#answers .after');
        assert.notEqual((await title(page)).replace(/^.*done\. /, ''), first.replace(/^.*done\. /, ''), 'the next one');
    });
});

test('why a step comes again is said once, and a step after the wiring has its own reason', async () => {
    await withTool(plain, {}, async (page) => {
        const reasons = async () => (await page.locator('#step h3:has-text("Why this step") + p').allTextContents());
        const texts = async () => (await page.locator('#step > *').allTextContents()).filter((text) => text.length > 40);
        await work(page, cross);
        const [ofCheck] = await reasons();
        await tap(page, '#answers .after');
        const [ofFirst] = await reasons();
        assert.notEqual(ofFirst, ofCheck);
        assert.doesNotMatch(await page.locator('#step').textContent(), /This step again/);
        const said = await texts();
        assert.equal(new Set(said).size, said.length, 'nothing is said twice');
    });
    await withTool(plain, {}, async (page) => {
        for (let k = 0; k < 40 && await page.locator('#question').count(); k++) {
            const words = await question(page);
            const odd = /Which code do the Hall sensors show/.test(words) ? '000' : undefined;
            await (await page.locator('#answers .write').count() ? tap(page, '#answers .write')
                : answerOne(page, odd || cross(await title(page), words)));
            if (await page.locator('#step h3:has-text("Why this step again")').count()) {
                const said = await page.locator('#step h3 + p').allTextContents();
                assert.equal(new Set(said).size, said.length);
                return;
            }
        }
        assert.fail('no step came again');
    });
});

test('something else has its own card in the place of the step, and the step comes back', async () => {
    await withTool(plain, {}, async (page) => {
        const step = await title(page);
        await tap(page, 'button:has-text("Something else")');
        await tap(page, '#answers [data-word="park"]');
        assert.equal(await title(page), 'Something else: park');
        assert.match(await page.locator('#step .safe').textContent(), /^Safe now\?/);
        assert.equal(await page.locator('#step .how li').count() > 2, true);
        await page.reload();
        await calm(page);
        assert.equal(await title(page), 'Something else: park', 'after a reload, too');
        await tap(page, 'button:has-text("Leave it")');
        assert.equal(await title(page), step);
    });
});

test('every step can be left out, trials too, until it says what to try first where there is power', async () => {
    const nobody = pageOf('nobody.yaml', `${scenario}leads: {known: no}\n`);
    await withTool(nobody, {}, async (page) => {
        const leave = page.locator('#answers button:has-text("Cannot do this here")');
        const left = [];
        for (; await leave.count() && left.length < 15; await calm(page)) {
            left.push(await title(page));
            await leave.click();
            await tap(page, '#answers .write');
        }
        assert.ok(left.length > 5 && left.some((one) => /Join wiring \d+ and try it under power/.test(one)), left.join('; '));
        assert.match(await title(page), /Stop here until a wiring can be tried under power/);
        assert.match(await page.locator('#step').innerText(), /Try wiring \d+ there first/);
        const drawn = await page.locator('#step .drawing svg').textContent();
        assert.match(drawn, /The likeliest so far: it is not proven yet\./, 'the picture says what the card says');
        assert.doesNotMatch(drawn, /do not join|hubphase next/);
        assert.equal(await page.locator('.after').count(), 0, 'nothing comes after a wiring that nobody tried');
        assert.match(await page.locator('#step').textContent(), /likeliest wiring is \d+/);
        await page.reload();
        await calm(page);
        assert.match(await title(page), /Stop here until/);
        await page.locator('#answers summary', { hasText: 'Left out' }).click();
        await tap(page, '#answers button:has-text("trial"):has-text("after all")');
        assert.match(await title(page), /under power/);
        assert.equal(await page.locator('#question').count(), 1);
    });
});

test('the answers can be made small to read the step, and come back with the next question', async () => {
    await withTool(plain, {}, async (page) => {
        const high = async () => (await page.locator('#answers').boundingBox()).height;
        const before = await high();
        await page.locator('.toggle').click();
        assert.ok(await high() < 110 && before > 150, `${before} becomes ${await high()}`);
        assert.ok(await page.locator('#question').isVisible());
        await page.reload();
        await calm(page);
        await answerOne(page, 'yes');
        assert.ok(await page.locator('#answers .answer').first().isVisible());
    });
});

test('a bench is brought to its end by the keyboard alone', async () => {
    const bench = benchOf(orders[3], orders[1]);
    await withTool(plain, {}, async (page) => {
        const steps = await work(page, personAt(bench), keyboard);
        const number = Number(/[Ww]iring (\d+)/.exec(steps[steps.length - 1])[1]);
        assert.deepEqual(bench.trial(number), { motion: 'forward', feel: 'smooth' }, steps.join('; '));
        await keyboard.press(page, 'button:has-text("Wiring sheet and print")');
        await calm(page);
        await keyboard.press(page, '#papers button');
        await calm(page);
        assert.ok(await page.locator('.paper').isVisible());
    });
});

test('the keyboard goes from part to part, and the focus to what is new', async () => {
    await withTool(plain, {}, async (page) => {
        for (const word of ['yes', 'no', 'no']) {
            await answerOne(page, word, keyboard);
        }
        await keyboard.press(page, '#answers .write');
        await calm(page);
        assert.match(await title(page), /Step 2/);
        assert.ok(await page.evaluate(() => document.activeElement.matches('#step h2')));
        await page.evaluate(() => document.querySelector('nav button').focus());
        await keyboard.press(page, 'nav [data-part="map"]');
        await calm(page);
        await reach(page, '.cell');
        await page.keyboard.press('ArrowDown');
        await page.keyboard.press('Enter');
        await calm(page);
        assert.match(await page.locator('#chosen').textContent(), /^Wiring 7/);
    });
});
