/* What is answered: in which words and numbers, changed and mended, and not lost by a reload, a second window or a
   library that falls over. In Chromium; run by tool.sh. */
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { after, test } from 'node:test';
import { answerOne, benchOf, browser, calm, finish, leaveOutUntilPower, logOf, pageOf, personAt, question, tap, title, withTool } from './tool.mjs';

const scenario = readFileSync('pages/plain.yaml', 'utf8');
const plain = pageOf('plain.yaml', scenario);
const cross = personAt(benchOf([1, 0, 2], [2, 0, 1]));

after(() => browser.close());

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
