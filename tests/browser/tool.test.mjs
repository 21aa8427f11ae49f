/* The page with the library inside, in Chromium. Run by run.sh, which makes the page. */
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { after, test } from 'node:test';
import { pathToFileURL } from 'node:url';
import axe from 'axe-core';
import { answerOne, benchOf, browser, calm, keyboard, pageOf, personAt, question, reach, tap, title, withTool, work } from './tool.mjs';

const scenario = readFileSync('pages/plain.yaml', 'utf8');
const plain = pageOf('plain.yaml', scenario);
const hostile = pageOf('hostile.yaml', readFileSync('pages/hostile.yaml', 'utf8'));
const orders = [[0, 1, 2], [0, 2, 1], [1, 0, 2], [1, 2, 0], [2, 0, 1], [2, 1, 0]];
const cross = personAt(benchOf([1, 0, 2], [2, 0, 1]));

after(() => browser.close());

/* As `hubphase next` prints it. */
const standing = (page) => page.locator('#step details:has(> summary:has-text("Where things stand")) pre').textContent();

const logOf = async (page) => {
    await tap(page, 'nav [data-part="files"]');
    await page.locator('#files summary').first().click();
    return page.locator('#files pre').first().textContent();
};

/* What can be left out is, until a wiring is to be tried. */
async function leaveOutUntilPower(page) {
    for (let k = 0; k < 20 && !/try it under power/.test(await title(page)); k++) {
        await tap(page, 'button:has-text("Cannot do this here")');
        await tap(page, '#answers .write');
    }
}

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
            assert.equal(said, next.trimEnd(), 'byte for byte what the program says');
        });
    }
});

test('what the program put into the page goes on from there: scenario, log and what was simulated', async () => {
    await withTool('pages/written-own.html', { viewport: { width: 1280, height: 800 } }, async (page) => {
        assert.equal(await page.locator('.entries li').count(), 2);
        const said = (await standing(page)).trimEnd();
        const next = execFileSync(process.env.HUBPHASE, ['next', 'own.yaml', '--quiet'], { encoding: 'utf8', cwd: 'pages' });
        assert.equal(said, next.trimEnd());
        assert.equal(await logOf(page), readFileSync('pages/own.bench.yaml', 'utf8'));
        assert.equal(await page.evaluate(() => Object.keys(localStorage).filter((key) => key.endsWith('table')).length), 0, 'no table was built');
    });
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

/* An open phase lead, measured twice. */
const broken = `hubphase_log: 1
scenario: broken
entries:
  - time: 2026-11-29T10:00:00+01:00
    pins: {continuity: {U-V: no, V-W: no, W-U: yes}, touches_shell: no, phase_touches_sensor: no}
  - time: 2026-11-29T10:01:00+01:00
    winding: {resistance_ohm: {U-V: open, V-W: open, W-U: 0.2}}
  - time: 2026-11-29T10:02:00+01:00
    sensor_supply: {supply_v: 5}
`;

test('a mend is asked for before it is written: yes, not yet, or the reading was a slip', async () => {
    const file = pageOf('broken.yaml', scenario, broken);
    const program = (...words) => execFileSync(process.env.HUBPHASE, [...words, '--quiet'], { encoding: 'utf8', cwd: 'pages' });
    await withTool(file, {}, async (page) => {
        assert.match(await title(page), /^Step 4\. Stop trying and mend/);
        assert.equal(await question(page), 'Is it mended (a broken phase lead, V)?');
        assert.equal(await page.locator('#answers .write').count(), 0, 'one tap writes nothing');
        await tap(page, '#answers [data-word="not_yet"]');
        assert.match(await page.locator('#answers').innerText(), /nothing is written down/);
        await page.reload();
        await calm(page);
        assert.match(await page.locator('#answers').innerText(), /nothing is written down/);
        await tap(page, '#answers [data-word="slip"]');
        assert.equal(await page.locator('#answers .entries li').count(), 3);
        await tap(page, '#answers .entries li:nth-child(2) button:has-text("Change")');
        assert.match(await title(page), /^Answer 2 again/);
        await tap(page, 'button:has-text("Leave it")');
        await tap(page, '#answers [data-word="yes"]');
        assert.equal(await question(page), 'Is that what was mended?');
        assert.match(await page.locator('#answers .said').innerText(), /a broken phase lead/);
        await tap(page, '#answers .row button:has-text("Back")');
        assert.match(await question(page), /^Is it mended/);
        await answerOne(page, undefined);
        await tap(page, '#answers .write');
        const [head, entry] = (await logOf(page)).split(broken);
        assert.equal(head, '', 'the log goes on');
        /* As the program writes it. */
        writeFileSync('pages/broken.yaml', scenario);
        writeFileSync('pages/broken.bench.yaml', broken);
        const time = /time: (\S+)/.exec(entry)[1];
        program('log', 'broken.yaml', 'mend', '--part=phase_lead_open', '--lead=V', `--time=${time}`);
        assert.equal(broken + entry, readFileSync('pages/broken.bench.yaml', 'utf8'));
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

test('nothing is lost by a reload after any tap, nor by a tab that is killed', async () => {
    await withTool(plain, {}, async (first, open) => {
        let page = first;
        for (let k = 0; k < 14; k++) {
            const now = await title(page);
            await (await page.locator('#answers .write').count() ? tap(page, '#answers .write') : answerOne(page, cross(now, await question(page))));
            const before = [await title(page), await page.locator('#answers').innerText(), await page.locator('.entries li').count()];
            if (k % 2) {
                await page.reload();
                await calm(page);
            } else {
                await page.close({ runBeforeUnload: false });
                page = await open();
            }
            assert.deepEqual([await title(page), await page.locator('#answers').innerText(), await page.locator('.entries li').count()], before);
        }
    });
});

/* To the codes of a turned wheel, two of which are noted; the switches stand at a third. */
async function noteTwo(page) {
    await tap(page, 'button:has-text("Something else")');
    await tap(page, '#answers .answer[data-word="hand_turn"]');
    for (let k = 0; k < 4 && !await page.locator('#answers .note').count(); k++) {
        await answerOne(page, 'forward');
    }
    await page.locator('#answers .note').click();
    await page.locator('#answers .switch').first().click();
    await page.locator('#answers .note').click();
    await page.locator('#answers .switch').nth(1).click();
}

const noted = async (page) => [await page.locator('#answers .ring li').allTextContents(), await page.locator('#answers .note').textContent()];
const two = [['000', '100'], 'Note 110'];

test('codes that are noted and a number that is typed stay, also where they are not taken yet', async () => {
    await withTool(plain, {}, async (first, open) => {
        let page = first;
        await noteTwo(page);
        await tap(page, 'nav [data-part="map"]');
        await tap(page, 'nav [data-part="bench"]');
        assert.deepEqual(await noted(page), two, 'another part of the page');
        await page.reload();
        await calm(page);
        assert.deepEqual(await noted(page), two, 'a reload');
        await page.close({ runBeforeUnload: false });
        page = await open();
        assert.deepEqual(await noted(page), two, 'a closed tab');
        await page.locator('button:has-text("Drop the last")').click();
        await page.reload();
        await calm(page);
        assert.deepEqual(await noted(page), [['000'], 'Note 110'], 'what is dropped is gone');
    });
    await withTool(plain, {}, async (page) => {
        for (const word of ['yes', 'no', 'no']) {
            await answerOne(page, word);
        }
        await tap(page, '#answers .write');
        await page.locator('#number-in').fill('4,');
        await page.reload();
        await calm(page);
        assert.equal(await page.locator('#number-in').inputValue(), '4,');
        await page.locator('#step summary', { hasText: 'Earlier' }).click();
        await tap(page, '.entries li button:has-text("Change")');
        assert.match(await title(page), /^Answer 1 again/);
        await tap(page, '#answers .write');
        assert.equal(await page.locator('#number-in').inputValue(), '4,', 'what was begun goes on after an earlier answer was changed');
        assert.match(await title(page), /^Step 2/);
    });
});

/* Answers what is still asked, and writes it down. */
async function finish(page, said) {
    while (!await page.locator('#answers .write').count()) {
        await answerOne(page, said[await question(page)]);
    }
    await tap(page, '#answers .write');
}

test('two windows at one machine: what the other wrote is told, and what is half said here stays', async () => {
    await withTool(plain, {}, async (page, open) => {
        await leaveOutUntilPower(page);
        const wiring = /[Ww]iring (\d+)/.exec(await title(page))[1];
        const left = await page.locator('.entries li').count();
        const other = await open();
        await answerOne(page, 'forward');
        const asked = await question(page);
        await answerOne(other, 'shiver');
        await finish(other, {});
        assert.doesNotMatch(await title(other), new RegExp(`wiring ${wiring} `), 'another step is the next');
        await page.locator('.news').waitFor();
        await calm(page);
        assert.match(await page.locator('.news').textContent(), new RegExp(`^Another window wrote answer ${left + 1}: .*wiring ${wiring}.* What you have begun here is kept\\.$`));
        assert.match(await title(page), /^Begun before: trial/);
        assert.equal(await question(page), asked);
        await page.reload();
        await calm(page);
        assert.equal(await question(page), asked, 'after a reload, too');
        await finish(page, { 'How did it run?': 'rough' });
        const written = (await page.locator('.entries li p').allTextContents()).slice(left);
        assert.equal(written.length, 2);
        written.forEach((words) => assert.match(words, new RegExp(`[Ww]iring ${wiring}\\b`), 'of the wiring that it was begun for'));
        assert.match(await logOf(page), /motion: shiver[^]*motion: forward/);
    });
});

test('two windows write at the same moment, and neither entry is lost', async () => {
    /* Neither hears of the other. */
    const before = () => {
        const own = window.addEventListener;
        window.addEventListener = (type, ...rest) => type === 'storage' || own.call(window, type, ...rest);
    };
    await withTool(plain, { before }, async (page, open) => {
        for (const word of ['yes', 'no', 'no']) {
            await answerOne(page, word);
        }
        const other = await open();
        await tap(other, '#answers .write');
        await answerOne(other, '5');
        await tap(other, '#answers .write');
        await tap(page, '#answers .write');
        assert.match(await page.locator('.news').textContent(), /^Another window wrote 2 answers\./);
        assert.equal(await page.locator('#answers .write').count(), 1, 'it is asked again before it is written');
        await tap(page, '#answers .write');
        assert.equal((await logOf(page)).match(/^ {2}- time/gm).length, 3);
    });
});

test('a tap that is made twice is one answer', async () => {
    await withTool(plain, {}, async (page) => {
        for (const word of ['yes', 'no', 'no']) {
            await answerOne(page, word);
        }
        await page.evaluate(() => {
            const write = document.querySelector('#answers .write');
            write.click();
            write.click();
        });
        await calm(page);
        assert.equal(await page.locator('.entries li').count(), 1);
    });
});

test('an earlier answer is changed, and one is dropped', async () => {
    await withTool(plain, {}, async (page) => {
        for (const word of ['yes', 'no', 'no']) {
            await answerOne(page, word);
        }
        await tap(page, '#answers .write');
        const second = await title(page);
        await answerOne(page, '4,9');
        await tap(page, '#answers .write');
        assert.match(await page.locator('.told').first().textContent(), /answer/);
        const fold = () => page.locator('#step summary', { hasText: 'Earlier' }).click();
        await fold();
        await tap(page, '.entries li:nth-child(2) button:has-text("Change")');
        await tap(page, '#answers .said button');
        await answerOne(page, '5,2');
        await tap(page, '#answers .write');
        assert.match(await page.locator('.entries').textContent(), /5\.2/);
        await fold();
        await tap(page, '.entries li:nth-child(2) button:has-text("Drop")');
        assert.equal(await page.locator('.entries li').count(), 1);
        assert.equal(await title(page), second);
        const log = await logOf(page);
        assert.match(log, /supply_v: 4\.9/, 'the lines stay as comments');
    });
});

test('a step that cannot be done is left out, also after a reload', async () => {
    await withTool(plain, {}, async (page) => {
        const before = await title(page);
        await tap(page, 'button:has-text("Cannot do this here")');
        await page.fill('#note-in', 'no beeper');
        await tap(page, '#answers .write');
        const now = await title(page);
        assert.notEqual(now, before);
        await page.reload();
        await calm(page);
        assert.equal(await title(page), now);
        const log = await logOf(page);
        assert.match(log, /left_out:\s+step: pins/);
        assert.match(log, /no beeper/);
        writeFileSync('pages/left.bench.yaml', log);
        const next = execFileSync(process.env.HUBPHASE, ['next', 'pages/plain.yaml', '--log=pages/left.bench.yaml'], { encoding: 'utf8' });
        assert.equal(next.split('\n')[0], `Next: ${now.replace(/^Step \d+\. /, '')}`, 'the program does without it, too');
        await tap(page, 'nav [data-part="bench"]');
        await page.locator('#step summary', { hasText: 'Left out' }).click();
        await tap(page, 'button:has-text("no beeper): can be done after all")');
        assert.equal(await title(page), before);
    });
});

test('a file of another sort is refused with what it is and what opens it', async () => {
    const log = 'hubphase_log: 1\nscenario: plain\nentries:\n';
    const give = async (page, selector, name, content) => {
        await page.locator(selector).setInputFiles({ name, mimeType: 'application/octet-stream', buffer: Buffer.from(content) });
        await calm(page);
        return (await page.locator('#trouble').innerText()).replace(/\s*Close$/, '');
    };
    const photo = [0xff, 0xd8, 0xff, 0xe0, 0, 16, 0x4a, 0x46];
    await withTool(plain, {}, async (page) => {
        await tap(page, 'nav [data-part="files"]');
        assert.equal(await give(page, '#log-in', 'photo.jpg', photo), 'photo.jpg is no text file; a log ends in .bench.yaml.');
        assert.equal(await give(page, '#scenario-in', 'photo.jpg', photo), 'photo.jpg is no text file; a scenario ends in .yaml.');
        assert.match(await give(page, '#log-in', 'zero.yaml', 'hubphase_log: 1\n\0'), /^zero\.yaml is no text file/);
        assert.match(await give(page, '#log-in', 'latin.yaml', [0x23, 0xb5, 10]), /^latin\.yaml is no text file/);
        assert.equal(await give(page, '#log-in', 'barn.bench.yaml', `# mine\n${scenario}`),
            'barn.bench.yaml seems to be a scenario, not a log. Open it under Files with "Open a scenario".');
        assert.equal(await give(page, '#scenario-in', 'barn.yaml', log), 'barn.yaml seems to be a log, not a scenario. Open it under Files with "Open a log".');
        assert.equal(await give(page, '#log-in', 'barn.txt', log), '', 'what fits is opened, whatever it is called, and the complaint goes');
        assert.equal(await logOf(page), log);
    });
    await withTool('pages/tool.html', {}, async (page) => {
        assert.equal(await give(page, '#scenario-in', 'barn.yaml', log),
            'barn.yaml seems to be a log, not a scenario. Open its scenario first, then this log under Files with "Open a log".');
    });
});

test('a file that cannot be read leaves the case as it was', async () => {
    await withTool(plain, {}, async (page) => {
        for (const word of ['yes', 'no', 'no']) {
            await answerOne(page, word);
        }
        await tap(page, '#answers .write');
        const before = await title(page);
        await tap(page, 'nav [data-part="files"]');
        const give = async (selector, text) => {
            await page.locator(selector).setInputFiles({ name: 'bad.yaml', mimeType: 'application/yaml', buffer: Buffer.from(text) });
            await calm(page);
        };
        await give('#log-in', 'hubphase_log: 1\nentries:\n- time: yesterday\n  park: {plus_lead: pink}\n');
        assert.match(await page.locator('#trouble').textContent(), /yesterday/);
        assert.match(await page.locator('#trouble').textContent(), /bad\.yaml:3/, 'told of the file that was opened');
        await give('#scenario-in', 'hubphase: 1\nmotor: {magnets: 47}\n');
        assert.match(await page.locator('#trouble').textContent(), /47/);
        await give('#log-in', '#'.repeat(2 ** 20 + 1));
        assert.match(await page.locator('#trouble').textContent(), /^bad\.yaml /);
        await tap(page, 'nav [data-part="bench"]');
        assert.equal(await title(page), before);
        assert.equal(await page.locator('.entries li').count(), 1);
        await answerOne(page, '5');
        await tap(page, '#answers .write');
        await page.reload();
        await calm(page);
        assert.equal(await page.locator('.entries li').count(), 2, 'kept with the case that it belongs to');
    });
});

test('a number that is out of range is told at its question, and can be mended', async () => {
    await withTool(plain, {}, async (page) => {
        for (const word of ['yes', 'no', 'no']) {
            await answerOne(page, word);
        }
        await tap(page, '#answers .write');
        await answerOne(page, '99999');
        assert.match(await page.locator('#answers .problem').textContent(), /99999/, 'at once');
        await page.reload();
        await calm(page);
        assert.match(await page.locator('#answers .problem').textContent(), /99999/);
        await answerOne(page, '5');
        await tap(page, '#answers .write');
        assert.match(await title(page), /Step 3/);
    });
});

test('a number is taken with a comma and with the unit that stands beside it, and else told how to write it', async () => {
    await withTool(plain, {}, async (page) => {
        for (const word of ['yes', 'no', 'no']) {
            await answerOne(page, word);
        }
        await tap(page, '#answers .write');
        for (const [typed, expected] of [['1.215,5', /write the digits without gaps/], ['4 mV', /give it in V, and write the number alone/], ['five', /must be a number/]]) {
            await answerOne(page, typed);
            assert.match(await page.locator('#answers .problem').textContent(), expected, typed);
        }
        await answerOne(page, '4,9V');
        assert.equal((await page.locator('#answers .said li').first().innerText()).replaceAll('\u00a0', ' ').split('give?').pop().trim(), '4.9 V');
        await tap(page, '#answers .write');
        assert.match(await logOf(page), /supply_v: 4\.9\n/);
    });
});

test('a single code is taken only if it never changed', async () => {
    await withTool(plain, {}, async (page) => {
        await noteTwo(page);
        await page.locator('button:has-text("Drop the last")').click();
        await page.locator('button:has-text("These are all")').click();
        assert.match(await page.locator('#answers .problem').textContent(), /^Only 000 is noted\. Did it stay 000 over a whole turn/);
        assert.match(await question(page), /Which codes/, 'nothing is taken');
        await page.locator('button:has-text("No, I note more")').click();
        assert.deepEqual((await noted(page))[0], ['000']);
        await page.locator('button:has-text("These are all")').click();
        await tap(page, 'button:has-text("Yes, it never changed")');
        assert.doesNotMatch(await question(page), /Which codes/);
    });
});

test('no word of the log is shown raw', async () => {
    await withTool(plain, {}, async (page) => {
        await leaveOutUntilPower(page);
        assert.match((await page.locator('#answers summary', { hasText: 'As advised' }).textContent()).replaceAll('\u00a0', ' '), /^As advised: wiring \d+, throttle \d+ %$/);
        await finish(page, { 'What did the wheel do?': 'forward', 'How did it run?': 'rough', 'What fed the controller?': 'bench_supply' });
    });
    await withTool(plain, {}, async (page) => {
        await tap(page, 'button:has-text("Something else")');
        await tap(page, '#answers .answer[data-word="mend"]');
        await answerOne(page, 'sensor_stuck_low');
        await answerOne(page, 'V');
        assert.match(await page.locator('#answers .said').innerText(), /What was mended\?\s+a sensor that always read 0/);
        await tap(page, 'button:has-text("Leave it")');
        await tap(page, 'button:has-text("Something else")');
        await tap(page, '#answers .answer[data-word="left_out"]');
        await answerOne(page, 'speed_switch');
        const said = await page.locator('#answers .said').innerText();
        assert.match(said, /Which step cannot be done here\?\s+\w+ \w+/);
        assert.doesNotMatch(said, /speed_switch/);
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

test('where the phone can share, log and papers are shared as files', async () => {
    const before = () => {
        window.shared = [];
        navigator.canShare = ({ files }) => files.length === 1;
        navigator.share = async ({ files, title: called }) => {
            window.shared.push([called, files[0].name, files[0].type, await files[0].text()]);
            if (window.shared.length > 1) {
                throw new DOMException('given up', 'AbortError');
            }
        };
    };
    await withTool(plain, { before }, async (page) => {
        for (const word of ['yes', 'no', 'no']) {
            await answerOne(page, word);
        }
        await tap(page, '#answers .write');
        const log = await logOf(page);
        await tap(page, '#files button:has-text("Share")');
        await page.locator('#files button:has-text("Share")').nth(1).click();
        await calm(page);
        const shared = await page.evaluate(() => window.shared);
        assert.deepEqual(shared.map(([called, name, type]) => [called, name, type]),
            [['plain.bench.yaml', 'plain.bench.yaml', 'text/plain'], ['plain.yaml', 'plain.yaml', 'text/plain']]);
        assert.equal(shared[0][3], log);
        assert.equal(shared[1][3], scenario);
        assert.equal(await page.locator('#trouble').textContent(), '', 'one that is given up is no trouble');
    });
    await withTool(plain, { before: () => { navigator.canShare = () => false; navigator.share = () => Promise.reject(new Error('no')); } }, async (page) => {
        await tap(page, 'nav [data-part="files"]');
        assert.equal(await page.locator('#files button:has-text("Share")').count(), 0);
    });
});

/* Parts of the page that look different from one another. */
const views = [
    ['bench', () => {}],
    ['map', async (page) => {
        await tap(page, 'nav [data-part="map"]');
        await tap(page, '.cell[data-number="4"]');
        await page.locator('#map summary', { hasText: 'What if' }).click();
    }],
    ['motion', async (page) => {
        await tap(page, 'nav [data-part="motion"]');
        await page.locator('select[aria-label="beside"]').selectOption('4');
        await calm(page);
    }],
    ['papers', async (page) => {
        await tap(page, 'nav [data-part="papers"]');
        await tap(page, '#papers button');
    }],
    ['files', async (page) => {
        await tap(page, 'nav [data-part="files"]');
        await page.locator('#files summary', { hasText: 'figure' }).click();
    }],
    ['start', async (page) => {
        await tap(page, 'nav [data-part="files"]');
        await tap(page, 'button:has-text("Fill in a form")');
        await tap(page, '#start button.main');
    }],
    ['other', async (page) => {
        await tap(page, 'button:has-text("Something else")');
        await tap(page, '#answers [data-word="trial"]');
    }]
];

test('no width scrolls sideways, also with text twice as large, and what is tapped is large', async () => {
    for (const file of [plain, hostile]) {
        await withTool(file, {}, async (page) => {
            for (const [name, go] of views) {
                await page.setViewportSize({ width: 390, height: 844 });
                await page.evaluate(() => document.documentElement.style.removeProperty('font-size'));
                await tap(page, 'nav [data-part="bench"]');
                await go(page);
                for (const [width, size, height = 844] of [[320, ''], [390, ''], [390, '200%'], [844, '', 390], [844, '200%', 390], [1280, ''], [1920, '']]) {
                    await page.setViewportSize({ width, height });
                    await page.evaluate((text) => { document.documentElement.style.fontSize = text; }, size);
                    const where = `${file} ${name} ${width} ${size}`;
                    assert.ok(await page.evaluate(() => document.documentElement.scrollWidth) <= width, where);
                    const small = await page.evaluate(() => [...document.querySelectorAll('button, select, input:not(.unseen), .button, summary')]
                        .filter((element) => element.getClientRects().length).map((element) => [element.getBoundingClientRect(), element.outerHTML.slice(0, 90)])
                        .filter(([box]) => box.height < 43.5 || box.width < 43.5).map(([box, html]) => `${html} ${box.width}x${box.height}`));
                    assert.deepEqual(small, [], where);
                }
            }
        });
    }
});

test('axe finds nothing, in light and in dark', async () => {
    for (const colorScheme of ['light', 'dark']) {
        await withTool(plain, { colorScheme }, async (page) => {
            await page.evaluate(axe.source);
            for (const [name, go] of views) {
                await tap(page, 'nav [data-part="bench"]');
                await go(page);
                const { violations } = await page.evaluate(() => window.axe.run(document));
                assert.deepEqual(violations.map(({ id, nodes }) => `${name} ${id}: ${nodes[0].html} ${nodes[0].failureSummary}`), []);
            }
        });
    }
});

/* The file behind a button that downloads it. */
async function downloaded(page, selector) {
    const [file] = await Promise.all([page.waitForEvent('download'), page.locator(selector).first().click()]);
    const path = `pages/${file.suggestedFilename()}`;
    await file.saveAs(path);
    return path;
}

test('sheet and list are downloaded as files that open by themselves, and axe finds nothing in them', async () => {
    const files = [];
    await withTool(plain, {}, async (page) => {
        await tap(page, 'nav [data-part="papers"]');
        for (const words of ['sheet', 'list']) {
            await tap(page, `#papers button:has-text("${words}")`);
            files.push(await downloaded(page, 'button:has-text("Download")'));
        }
    });
    assert.deepEqual(files, ['pages/plain-sheet.html', 'pages/plain-steps.html']);
    for (const colorScheme of ['light', 'dark']) {
        for (const file of files) {
            const context = await browser.newContext({ viewport: { width: 390, height: 844 }, colorScheme, bypassCSP: true });
            const page = await context.newPage();
            await page.goto(pathToFileURL(file).href);
            await page.evaluate(axe.source);
            const { violations } = await page.evaluate(() => window.axe.run(document));
            assert.deepEqual(violations.map(({ id, nodes }) => `${file} ${colorScheme} ${id}: ${nodes[0].html} ${nodes[0].failureSummary}`), []);
            assert.ok(await page.evaluate(() => document.documentElement.scrollWidth) <= 390, file);
            await context.close();
        }
    }
});

test('a change is surveyed again and told beside what was', async () => {
    await withTool(plain, {}, async (page) => {
        await tap(page, 'nav [data-part="map"]');
        assert.equal(await page.locator('.cell').count(), 36);
        assert.equal(await page.locator('.cell.correct').count(), 3);
        await page.locator('#map summary', { hasText: 'What if' }).click();
        await page.locator('#change-fault').selectOption({ index: 1 });
        await calm(page);
        assert.ok(await page.locator('.cell.other').count() > 0);
        assert.match(await page.locator('.key').textContent(), /was 3/);
        await tap(page, 'button:has-text("As it was")');
        assert.equal(await page.locator('.cell.other').count(), 0);
    });
});

test('what the program prints and draws beside the step is there, too', async () => {
    const program = (...words) => execFileSync(process.env.HUBPHASE, [...words, '--quiet'], { encoding: 'utf8', cwd: 'pages' }).trimEnd();
    await withTool(plain, { viewport: { width: 1280, height: 800 } }, async (page) => {
        for (const word of ['yes', 'no', 'no']) {
            await answerOne(page, word);
        }
        await tap(page, '#answers .write');
        const log = await logOf(page);
        writeFileSync('pages/plain.bench.yaml', log);
        await tap(page, 'nav [data-part="bench"]');
        await page.locator('#step summary', { hasText: 'Where things stand' }).click();
        await tap(page, 'button:has-text("And why")');
        const why = (await standing(page)).trimEnd();
        assert.equal(why, program('next', 'plain.yaml', '--why'));
        await tap(page, 'nav [data-part="map"]');
        await page.locator('#map summary', { hasText: 'As a table' }).click();
        assert.equal((await page.locator('#map pre.wide').textContent()).trimEnd(), program('survey', 'plain.yaml'));
        await page.locator('#map summary', { hasText: 'Pictures of all 36' }).click();
        const list = page.locator('#map details:has(summary:has-text("Pictures of all 36")) .said button');
        assert.equal(await list.count(), 4);
        for (let k = 0; k < 4; k++) {
            await list.nth(k).click();
            await calm(page);
        }
        assert.equal(await page.locator('#map .picture').count(), 4);
        const path = await downloaded(page, 'button:has-text("Download the picture")');
        assert.match(path, /plain-bars\.svg$/);
        assert.match(readFileSync(path, 'utf8'), /^<svg/);
        await tap(page, '.cell[data-number="6"]');
        await page.locator('#map summary', { hasText: 'More pictures of this wiring' }).click();
        await tap(page, '#map button:has-text("driven at each code")');
        assert.match(await page.locator('#map .picture').first().textContent(), /wiring 6/);
        await tap(page, 'nav [data-part="papers"]');
        await page.locator('#papers select').selectOption('6');
        await tap(page, '#papers button');
        assert.match(await page.evaluate(() => document.querySelector('.paper').shadowRoot.textContent), /wiring 6/);
    });
});

test('an empty page can be looked around with an example', async () => {
    await withTool('pages/tool.html', {}, async (page) => {
        assert.match(await page.locator('#start .safe').textContent(), /^Cautions first\. Battery off/);
        await tap(page, 'button:has-text("Look around")');
        assert.equal(await page.locator('#machine').textContent(), 'An example');
        assert.match(await title(page), /^Step 1/);
    });
});

test('slow motion starts from where it is told to', async () => {
    await withTool(plain, {}, async (page) => {
        await tap(page, 'nav [data-part="motion"]');
        const rotor = async () => parseInt(await page.locator('.moment-words dd').nth(3).textContent(), 10);
        for (const angle of [60, 240]) {
            await page.locator('select[aria-label="shown"]').selectOption('start');
            await page.locator('select[aria-label="from"]').selectOption(String(angle));
            await calm(page);
            assert.equal(await rotor(), angle);
        }
    });
});

test('in slow motion each lead has the colour of its name, and its curve bears the name', async () => {
    const coloured = pageOf('coloured.yaml', `${scenario}\nleads:\n  motor_phases: {U: yellow, V: green, W: blue}\n`);
    await withTool(coloured, {}, async (page) => {
        await tap(page, 'nav [data-part="motion"]');
        const [dots, rows] = await page.evaluate(() => [[...document.querySelectorAll('.dial .lead')].map((dot) => dot.getAttribute('fill')),
            [...document.querySelectorAll('.strip-row')].filter((row) => row.querySelector('.strip-name'))
                .map((row) => [row.textContent, row.querySelector('.curve:not(.edge)').getAttribute('stroke')])]);
        assert.deepEqual(rows.map(([name]) => name), ['yellow', 'green', 'blue']);
        assert.deepEqual(rows.map(([, ink]) => ink), dots);
        const strongest = (ink) => ['red', 'green', 'blue'][[1, 3, 5].map((at) => parseInt(ink.slice(at, at + 2), 16)).reduce((best, value, k, all) => (value > all[best] ? k : best), 0)];
        assert.deepEqual([strongest(dots[1]), strongest(dots[2])], ['green', 'blue']);
    });
});

test('the reason on the map is a sentence, and a figure keeps its unit on its line', async () => {
    await withTool(plain, {}, async (page) => {
        await tap(page, 'nav [data-part="map"]');
        await tap(page, '.cell[data-number="1"]');
        const said = (await page.locator('#map .card .soft').first().textContent()).replaceAll('\u00a0', ' ');
        assert.match(said, /\. Starts \d+ of \d+, takes [\d.]+ times the power it needs \(limit [\d.]+\)\.$/);
        assert.match(await page.locator('#map output').first().textContent(), /^\d+\u00a0%$/);
    });
});

test('slow motion goes by steps, and stands still for those who ask for less motion', async () => {
    await withTool(plain, { reducedMotion: 'reduce' }, async (page) => {
        await tap(page, 'nav [data-part="motion"]');
        assert.equal(await page.locator('#play').count(), 0);
        const code = () => page.locator('.moment-words dd').nth(1).textContent();
        const seen = new Set([await code()]);
        for (let k = 0; k < 6; k++) {
            await page.keyboard.press('ArrowUp');
            seen.add(await code());
        }
        assert.ok(seen.size >= 5, [...seen].join());
    });
    await withTool(plain, {}, async (page) => {
        await tap(page, 'nav [data-part="motion"]');
        const moment = () => page.locator('#moment').inputValue();
        const first = await moment();
        await page.waitForTimeout(300);
        assert.equal(await moment(), first, 'it does not begin by itself');
        await page.locator('#play').click();
        await page.waitForFunction((before) => document.querySelector('#moment').value !== before, first);
        await page.locator('#play').click();
    });
});

test('an empty page asks for the machine, tells problems beside the field, and goes on from there', async () => {
    await withTool('pages/tool.html', {}, async (page) => {
        assert.doesNotMatch(await page.locator('#start').textContent(), /axis it belongs to/, 'names need no reason');
        const fill = (key, text) => page.locator(`[id="essential-${key}"]`).fill(text);
        const problems = async () => (await page.locator('#start .problem').allTextContents()).map((text) => text.replaceAll('\u00a0', ' '));
        const beside = async (key) => (await page.locator(`.field:has([id="essential-${key}"]) .problem`).allTextContents()).join('|').replaceAll('\u00a0', ' ');
        await tap(page, '#start button.main');
        assert.equal((await problems()).length, 4, (await problems()).join('\n'));
        assert.equal(await beside('motor.magnets'), 'Needed. Magnets on the rotor: a whole number from 2 to 200.');
        assert.equal(await beside('motor.resistance_between_leads_ohm'), 'Needed. Resistance between two phase leads: a number above 0 and at most 1000 ohm.');
        assert.match(await beside('motor.no_load_speed_rpm_at_v.speed_rpm'), /^Needed\. Wheel speed at full throttle, lifted: a number above 0/);
        assert.match(await beside('motor.no_load_speed_rpm_at_v.volts'), /^Needed\. Battery volts at that speed: a number above 0/);
        await fill('motor.magnets', '47');
        await fill('motor.no_load_speed_rpm_at_v.speed_rpm', '215');
        const rare = page.locator('.rare:has([id="essential-controller.throttle_percent"])');
        assert.ok(!await page.locator('[id="essential-controller.throttle_percent"]').isVisible(), 'what is seldom known is folded');
        await rare.locator('summary').click();
        await fill('controller.throttle_percent', '400');
        await rare.locator('summary').click();
        await tap(page, '#start button.main');
        assert.ok(await page.locator('[id="essential-controller.throttle_percent"]').isVisible(), 'a problem opens what is folded');
        assert.match(await beside('controller.throttle_percent'), /400|100/);
        assert.match(await beside('motor.magnets'), /47.*even/, 'what is wrong is told beside what is needed');
        assert.match(await beside('motor.no_load_speed_rpm_at_v.volts'), /^Needed/);
        assert.equal(await beside('motor.no_load_speed_rpm_at_v.speed_rpm'), '');
        assert.doesNotMatch((await problems()).join('\n'), /motor\.|is missing/, 'in the words of the form');
        await fill('controller.throttle_percent', '');
        await fill('motor.magnets', '46');
        await fill('motor.resistance_between_leads_ohm', '0,2 ohm');
        await page.reload();
        await calm(page);
        assert.equal(await page.locator('[id="essential-motor.magnets"]').inputValue(), '46', 'what was filled in is kept');
        await fill('motor.no_load_speed_rpm_at_v.speed_rpm', '215');
        await fill('motor.no_load_speed_rpm_at_v.volts', '36V');
        await fill('name', 'Barrow no. 2');
        await tap(page, '#start button.main');
        assert.match(await title(page), /Step 1/);
        await page.reload();
        await calm(page);
        assert.match(await title(page), /Step 1/);
        await tap(page, 'nav [data-part="files"]');
        assert.equal(await page.locator('#files .soft').nth(1).textContent(), 'barrow-no-2.yaml');
        assert.match(await page.locator('#files pre').nth(1).textContent(), /resistance_between_leads_ohm: 0\.2\n[^]*volts: 36\n/);
        assert.match(await page.locator('#files pre').nth(1).textContent(), /known: no/, 'nobody said which lead is which');
        await tap(page, 'nav [data-part="map"]');
        assert.match(await page.locator('#map .told').textContent(), /not known yet/);
    });
});

test('the same figures for another machine begin anew, and the first one is asked about', async () => {
    await withTool('pages/tool.html', {}, async (page) => {
        const fillIn = async () => {
            for (const [key, text] of [['motor.magnets', '46'], ['motor.resistance_between_leads_ohm', '0.2'],
                ['motor.no_load_speed_rpm_at_v.speed_rpm', '215'], ['motor.no_load_speed_rpm_at_v.volts', '36']]) {
                await page.locator(`[id="essential-${key}"]`).fill(text);
            }
            await tap(page, '#start button.main');
        };
        const another = async () => {
            await tap(page, 'nav [data-part="files"]');
            await tap(page, 'button:has-text("Fill in a form")');
            await fillIn();
        };
        const name = async () => {
            await tap(page, 'nav [data-part="files"]');
            const text = await page.locator('#files .soft').nth(1).textContent();
            await tap(page, 'nav [data-part="bench"]');
            return text;
        };
        await fillIn();
        assert.equal(await name(), 'machine.yaml');
        for (const word of ['yes', 'no', 'no']) {
            await answerOne(page, word);
        }
        await tap(page, '#answers .write');
        await another();
        assert.match(await page.locator('#trouble').innerText(), /begun before: machine\.yaml, \d{4}-\d\d-\d\d \d\d:\d\d, 1 answer\. Go on/);
        await tap(page, '#trouble button:has-text("another machine")');
        assert.match(await title(page), /^Step 1/, 'none of the first one\'s answers');
        assert.equal(await name(), 'machine-2.yaml');
        await page.reload();
        await calm(page);
        assert.match(await title(page), /^Step 1/);
        await another();
        await tap(page, '#trouble button:has-text("Go on with it")');
        assert.match(await title(page), /^Step 2/);
        assert.equal(await name(), 'machine.yaml');
        await tap(page, 'nav [data-part="files"]');
        assert.match(await page.locator('#files').innerText(), /machine-2\.yaml, \d/);
        await page.locator('#scenario-in').setInputFiles({ name: 'barrow.yaml', mimeType: 'text/yaml', buffer: Buffer.from(scenario) });
        await calm(page);
        for (const word of ['yes', 'no', 'no']) {
            await answerOne(page, word);
        }
        await tap(page, '#answers .write');
        await tap(page, 'nav [data-part="files"]');
        await page.locator('#scenario-in').setInputFiles({ name: 'barrow.yaml', mimeType: 'text/yaml', buffer: Buffer.from(scenario) });
        await page.locator('#trouble button:has-text("another machine")').click();
        await calm(page);
        assert.match(await title(page), /^Step 1/, 'of a scenario that is opened, too');
        assert.equal(await name(), 'barrow-2.yaml');
    });
});

test('what the form said is changed later, and the answers stay', async () => {
    await withTool('pages/tool.html', {}, async (page) => {
        const fill = (key, text) => page.locator(`[id="essential-${key}"]`).fill(text);
        for (const [key, text] of [['motor.magnets', '46'], ['motor.resistance_between_leads_ohm', '0.2'],
            ['motor.no_load_speed_rpm_at_v.speed_rpm', '215'], ['motor.no_load_speed_rpm_at_v.volts', '36']]) {
            await fill(key, text);
        }
        await tap(page, '#start button.main');
        for (const word of ['yes', 'no', 'no']) {
            await answerOne(page, word);
        }
        await tap(page, '#answers .write');
        await tap(page, 'nav [data-part="files"]');
        await tap(page, 'button:has-text("say more about the machine")');
        assert.equal(await page.locator('[id="essential-motor.magnets"]').inputValue(), '46');
        await fill('motor.magnets', '45');
        await tap(page, '#start button.main');
        assert.match(await page.locator('#start .problem').first().textContent(), /even/);
        await fill('motor.magnets', '46');
        await fill('controller.battery_current_limit_a', '17');
        await tap(page, '#start button.main');
        assert.match(await title(page), /Step 2/, 'the answers stay');
        /* Other names go through the log; one name for two leads does not. */
        await tap(page, 'button:has-text("Something else")');
        await tap(page, '#answers .answer[data-word="park"]');
        await answerOne(page, 'V');
        await finish(page, { 'Did a current flow?': 'yes', 'Which code do the Hall sensors show where the rotor holds?': '110' });
        await tap(page, 'nav [data-part="files"]');
        await tap(page, 'button:has-text("Change it, or say more")');
        await fill('leads.motor_phases.U', 'thin');
        await fill('leads.motor_phases.V', 'thin');
        await tap(page, '#start button.main');
        assert.match((await page.locator('#start .problem').allTextContents()).join(), /thin/);
        await fill('leads.motor_phases.U', '');
        await fill('name', 'Barrow');
        await tap(page, '#start button.main');
        assert.match(await title(page), /Step 3/);
        assert.match((await page.locator('.entries').textContent()), /thin/);
        const log = await logOf(page);
        assert.match(log, /scenario: Barrow\n[^]*motor_phases: \[U, thin, W\][^]*plus_lead: thin\n/);
        await tap(page, 'nav [data-part="bench"]');
        await page.reload();
        await calm(page);
        assert.match(await title(page), /Step 3/);
        await tap(page, 'nav [data-part="files"]');
        assert.match(await page.locator('#files pre').nth(1).textContent(), /battery_current_limit_a: 17/);
        await tap(page, 'button:has-text("Fill in a form")');
        assert.equal(await page.locator('[id="essential-motor.magnets"]').inputValue(), '', 'another machine begins empty');
    });
});

test('log and scenario are changed by hand, and what cannot be read leaves them as they were', async () => {
    await withTool(plain, {}, async (page) => {
        for (const word of ['yes', 'no', 'no']) {
            await answerOne(page, word);
        }
        await tap(page, '#answers .write');
        const now = await title(page);
        const edit = async (which, text) => {
            await tap(page, 'nav [data-part="files"]');
            const section = page.locator(`#files section:has(h3:has-text("${which}"))`);
            if (!await section.locator('textarea').isVisible()) {
                await section.locator('summary', { hasText: 'by hand' }).click();
            }
            const field = section.locator('textarea');
            const before = await field.inputValue();
            await field.fill(text(before));
            return [before, section];
        };
        const [log, section] = await edit('The log', (text) => text.replace('yes', 'perhaps'));
        await page.reload();
        await calm(page);
        await tap(page, 'nav [data-part="files"]');
        assert.match(await section.locator('textarea').inputValue(), /perhaps/, 'what is typed is kept');
        await section.locator('button', { hasText: 'Use it so' }).click();
        await calm(page);
        assert.match(await page.locator('#trouble').textContent(), /plain\.bench\.yaml:\d+.*perhaps/s);
        await section.locator('button', { hasText: 'As it was' }).click();
        assert.equal(await section.locator('textarea').inputValue(), log);
        await tap(page, 'nav [data-part="bench"]');
        assert.equal(await title(page), now);
        const [, other] = await edit('The scenario', (text) => `${text}\ncontroller: {battery_current_limit_a: 17}\n`);
        await page.evaluate(() => document.getElementById('trouble').append('Not yet settled'));
        await other.locator('button', { hasText: 'Use it so' }).click();
        await calm(page);
        assert.equal(await title(page), now);
        assert.equal(await page.locator('#trouble').textContent(), '');
        await tap(page, 'nav [data-part="files"]');
        assert.ok((await page.locator('#files pre').nth(1).textContent()).endsWith('battery_current_limit_a: 17}\n'));
    });
});

test('every step can be left out, trials too, until it says what to try first where there is power', async () => {
    const nobody = pageOf('nobody.yaml', `${readFileSync('pages/plain.yaml', 'utf8')}leads: {known: no}\n`);
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

test('what takes long shows how far it is, can be stopped, and leaves the rest of the page at work', async () => {
    await withTool(pageOf('own.yaml', readFileSync('pages/own.yaml', 'utf8')), { calm: false }, async (page) => {
        await page.waitForFunction(() => document.querySelector('#progress').value > 0 && !document.querySelector('#patience').hidden);
        await page.locator('#stop').click();
        await calm(page);
        assert.match(await page.locator('#trouble').textContent(), /Stopped/);
        await tap(page, 'nav [data-part="map"]');
        assert.equal(await page.locator('.cell.correct').count(), 3);
        await page.locator('nav [data-part="bench"]').click();
        await page.locator('#patience').waitFor();
    });
});

test('the map is there while motors like this one are simulated, whose table is the one that the program makes', async () => {
    await withTool(pageOf('own.yaml', readFileSync('pages/own.yaml', 'utf8')), { calm: false }, async (page) => {
        await page.waitForFunction(() => document.querySelector('#progress').value > 0);
        await page.locator('nav [data-part="map"]').click();
        await page.locator('.cell.correct').first().waitFor();
        const now = await page.evaluate(() => [document.getElementById('bench').hasAttribute('aria-busy'), document.querySelectorAll('.cell.correct').length]);
        assert.deepEqual(now, [true, 3], 'the map, and the table not yet');
        await calm(page);
        assert.equal(await page.evaluate(() => document.body.dataset.part), 'map', 'where the reader is');
        const kept = await page.evaluate(() => localStorage.getItem(Object.keys(localStorage).find((key) => key.endsWith('table'))));
        const given = JSON.parse(readFileSync('pages/written-own.html', 'utf8').match(/<script[^>]*id="case"[^>]*>([^]*?)<\/script>/)[1]);
        assert.equal(JSON.parse(kept), given.table);
        await tap(page, 'nav [data-part="bench"]');
        assert.match(await title(page), /Step 1/);
    });
});

test('nothing of one machine stands under the name of another while that one is simulated', async () => {
    await withTool(plain, {}, async (page) => {
        for (const word of ['yes', 'no', 'no']) {
            await answerOne(page, word);
        }
        await tap(page, '#answers .write');
        assert.match(await title(page), /^Step 2/);
        await tap(page, 'nav [data-part="files"]');
        await page.locator('#scenario-in').setInputFiles('pages/own.yaml');
        await page.waitForFunction(() => document.querySelector('#progress').value > 0 && document.body.dataset.part === 'bench');
        const seen = await page.evaluate(() => ['step', 'answers'].map((part) => document.getElementById(part).textContent));
        assert.deepEqual(seen, ['', ''], 'neither step nor answers of the machine before');
        await calm(page);
        assert.match(await title(page), /^Step 1\. /);
        assert.equal(await page.locator('.entries li').count(), 0, 'its own answers: none');
        await tap(page, 'nav [data-part="files"]');
        await tap(page, 'button:has-text("Go on with it")');
        assert.match(await title(page), /^Step 2/, 'and the first one goes on where it was');
    });
});

test('whether the parts go together is told line by line, with its pictures', async () => {
    await withTool(plain, {}, async (page) => {
        await tap(page, 'nav [data-part="checks"]');
        await tap(page, '#check-fit');
        await tap(page, '#checks button:has-text("Work it out")');
        const lines = await page.locator('#checks .lines > li').allInnerTexts();
        assert.equal(lines.length, 21);
        assert.match(lines.join('\n'), /not known Fuse\. Not stated: fuse\.rated_a, cable\.battery_mm2\./);
        assert.match(lines.join('\n'), /ok Speed on the level: battery full \d+/);
        assert.equal(await page.locator('#checks figure svg').count(), 2);
        assert.match(await page.locator('#checks pre').textContent(), /Sources/);
        const { width } = await page.locator('#checks .result').boundingBox();
        assert.ok(width <= page.viewportSize().width, 'no wider than the phone');
    });
});

test('the wiring sheet is printed by itself', async () => {
    await withTool(plain, {}, async (page) => {
        await tap(page, 'nav [data-part="papers"]');
        await tap(page, '#papers button');
        await page.pdf({ path: 'pages/tool-printed.pdf', preferCSSPageSize: true });
        const text = execFileSync('pdftotext', ['-layout', 'pages/tool-printed.pdf', '-'], { encoding: 'utf8' });
        assert.match(text, /Wiring sheet/);
        assert.match(text, /Which lead goes where/);
        assert.doesNotMatch(text, /Motion|Download/);
        assert.ok(text.split('\f').filter((one) => one.trim()).length <= 3, 'pages');
    });
});

/* Whether Helvetica or one of its width is there: in wider letters it takes more room. */
const isNarrow = !/DejaVu/.test(execFileSync('fc-match', ['Arial'], { encoding: 'utf8' }));

test('the likeliest steps are printed as a numbered list on two pages, with how they are done behind it', async () => {
    await withTool(plain, { colorScheme: 'dark' }, async (page) => {
        await tap(page, 'nav [data-part="papers"]');
        await tap(page, '#papers button:has-text("list")');
        await page.pdf({ path: 'pages/tool-list.pdf', preferCSSPageSize: true });
        const pages = execFileSync('pdftotext', ['-layout', 'pages/tool-list.pdf', '-'], { encoding: 'utf8' }).split('\f');
        const [steps, lost] = await page.evaluate(() => {
            const room = document.querySelector('.paper').shadowRoot;
            const links = [...room.querySelectorAll('a[href^="#"]')].map((link) => link.getAttribute('href').slice(1));
            return [room.querySelectorAll('.steps > li').length, links.filter((id) => !room.getElementById(id))];
        });
        assert.ok(steps >= 20, `${steps} steps`);
        assert.deepEqual(lost, []);
        const pageOf = (words) => pages.findIndex((text) => text.includes(words));
        const sorts = pageOf('How each sort of step is done');
        assert.equal(pageOf('The plan as a numbered list'), 0);
        assert.ok(sorts >= 0 && sorts <= 1, `the list ends before page ${sorts + 1}`);
        assert.ok(pages.filter((text) => text.trim()).length <= (isNarrow ? 2 : 3), 'list and how each sort is done');
        const whole = pages.join('\f');
        const list = whole.slice(0, whole.indexOf('How each sort of step is done'));
        assert.match(list, /Cautions/);
        const numbers = [...list.matchAll(/(?:^|\s{2,})(\d+)\. [A-Z]/gm)].map((found) => Number(found[1]));
        const jumps = [...list.matchAll(/go\sto\s(\d+)\b/g)].map((found) => Number(found[1]));
        assert.deepEqual(numbers.sort((a, b) => a - b), [...Array(steps).keys()].map((k) => k + 1));
        assert.ok(jumps.length >= 20, `${jumps.length} jumps`);
        jumps.forEach((number) => assert.ok(numbers.includes(number), `go to ${number}`));
        assert.doesNotMatch(pages.join('\n'), /Motion|Download/);
    });
});

test('works where nothing can be kept, and says so', async () => {
    const before = () => Object.defineProperty(window, 'localStorage', {
        get() { throw new Error('not allowed here'); }
    });
    await withTool(plain, { before }, async (page) => {
        assert.ok(await page.locator('#unkept').isVisible());
        for (const word of ['yes', 'no', 'no']) {
            await answerOne(page, word);
        }
        await tap(page, '#answers .write');
        assert.match(await title(page), /Step 2/);
        const asked = [];
        page.on('dialog', (dialog) => asked.push(dialog.type()));
        await tap(page, 'nav [data-part="files"]');
        await downloaded(page, '#files button:has-text("Download")');
        await page.reload();
        await calm(page);
        assert.deepEqual(asked, [], 'what is in a file is not lost');
        await answerOne(page, 'yes');
        await page.reload();
        await calm(page);
        assert.deepEqual(asked, ['beforeunload'], 'asked before what was said is lost');
    });
    await withTool(plain, {}, async (page) => {
        const asked = [];
        page.on('dialog', (dialog) => asked.push(dialog.type()));
        await answerOne(page, 'yes');
        await page.reload();
        await calm(page);
        assert.deepEqual(asked, [], 'not where it is kept');
    });
    await withTool('pages/tool.html', { before }, async (page) => {
        const asked = [];
        page.on('dialog', (dialog) => asked.push(dialog.type()));
        await page.locator('[id="essential-motor.magnets"]').fill('46');
        await page.reload();
        await calm(page);
        assert.deepEqual(asked, ['beforeunload'], 'a form that is filled in');
    });
});

test('what is kept and damaged is not taken up', async () => {
    await withTool(plain, {}, async (page) => {
        const key = await page.evaluate(() => Object.keys(localStorage).find((name) => name.startsWith('hubphase ') && !name.endsWith('table')));
        for (const junk of ['{', 'null', '[1]', '{"form":1}', '{"form":1,"name":"x","scenario":1,"log":null,"seen":[],"titles":[]}']) {
            await page.evaluate(([name, text]) => localStorage.setItem(name, text), [key, junk]);
            await page.reload();
            await calm(page);
            assert.match(await title(page), /Step 1/, junk);
        }
    });
});

test('markup in every text of a scenario and in a note stays text', async () => {
    await withTool(hostile, {}, async (page) => {
        for (const word of ['yes', 'no', 'no']) {
            await answerOne(page, word);
        }
        await page.locator('#note-in').fill('</script><img src=x onerror=alert(1)> "quoted" \'single\' & <b>');
        await tap(page, '#answers .write');
        for (const [name, go] of views) {
            await tap(page, 'nav [data-part="bench"]');
            await go(page);
            const found = await page.evaluate(() => ({
                taken: window.taken, odd: document.querySelectorAll('img, iframe, object, embed, link, base, main b b, [onclick], [onload], [onerror]').length,
                inside: [...document.querySelectorAll('.paper')].map((host) => host.shadowRoot.querySelectorAll('img, iframe, script, [onerror]').length)
            }));
            assert.equal(found.taken, undefined, name);
            assert.equal(found.odd, 0, name);
            assert.ok(found.inside.every((count) => count === 0), name);
        }
        assert.match(await page.locator('#machine').textContent(), /<img src=x onerror=alert\(1\)>/);
        writeFileSync('pages/hostile.bench.yaml', await logOf(page));
        const list = execFileSync(process.env.HUBPHASE, ['log', 'hostile.yaml'], { encoding: 'utf8', cwd: 'pages' });
        assert.match(list.replace(/\s+/g, ' '), /<img src=x onerror=alert\(1\)> "quoted" 'single' & <b>/);
    });
});

test('a library that falls over is told in words, and the work goes on', async () => {
    const before = () => {
        const Own = window.Worker;
        window.Worker = class extends Own {
            postMessage(message, ...more) {
                if (message.text && window.breakIt) {
                    window.breakIt = false;
                    this.onmessage({ data: { failed: 'unreachable' } });
                } else {
                    super.postMessage(message, ...more);
                }
            }
        };
    };
    await withTool(plain, { before }, async (page) => {
        await answerOne(page, 'yes');
        await page.evaluate(() => { window.breakIt = true; });
        await answerOne(page, 'no');
        assert.match(await page.locator('#trouble').textContent(), /kept/);
        await page.locator('#trouble button').click();
        for (const word of ['no', 'no']) {
            await answerOne(page, word);
        }
        await tap(page, '#answers .write');
        assert.match(await title(page), /Step 2/);
    });
});

test('the whole page is small enough for a telephone', () => {
    assert.ok(readFileSync('pages/tool.html').length < 1.5e6);
});

test('the policy lets in nothing but the page', async () => {
    await withTool(plain, { complaints: true }, async (page) => {
        const outcome = await page.evaluate(async () => {
            const script = document.createElement('script');
            script.textContent = 'window.taken = 1';
            document.body.append(script);
            const image = new Image();
            image.src = 'data:image/gif;base64,R0lGODlhAQABAAAAACwAAAAAAQABAAA=';
            document.body.append(image);
            const fetched = await fetch('https://example.org/').then(() => true, () => false);
            await new Promise((resolve) => setTimeout(resolve, 100));
            return { taken: window.taken, loaded: image.naturalWidth, fetched };
        });
        assert.deepEqual(outcome, { taken: undefined, loaded: 0, fetched: false });
    });
});
