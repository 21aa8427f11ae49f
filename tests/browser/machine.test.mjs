/* The whole machine in the page: what its form says of controls, battery, leads and axle, and what is made of it. */
import test, { after } from 'node:test';
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import axe from 'axe-core';
import { answerOne, browser, calm, downloaded, pageOf, reach, tap, title, withTool } from './tool.mjs';

after(() => browser.close());

const empty = 'tool.html';

const plain = pageOf('plain.yaml', readFileSync('pages/plain.yaml', 'utf8'));
const field = (page, key) => page.locator(`[id="essential-${key}"]`);
const scenarioOf = (page) => page.locator('#files pre').nth(1).textContent();

/* No wider than the screen, and nothing that axe finds. */
async function isClean(page) {
    const small = await page.evaluate(() => [...document.querySelectorAll('button, select, input:not(.unseen), .button, summary')]
        .filter((element) => element.getClientRects().length).map((element) => [element.getBoundingClientRect(), element.outerHTML.slice(0, 90)])
        .filter(([box]) => box.height < 43.5 || box.width < 43.5).map(([, html]) => html));
    assert.deepEqual(small, [], 'too small to tap');
    assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth), 'no wider than the screen');
    await page.evaluate(axe.source);
    const { violations } = await page.evaluate(() => window.axe.run(document));
    assert.deepEqual(violations.map(({ id, nodes }) => [id, nodes[0].html]), []);
}

async function isCleanEverywhere(page) {
    for (const [width, colorScheme] of [[320, 'light'], [390, 'dark'], [1280, 'light']]) {
        await page.setViewportSize({ width, height: 844 });
        await page.emulateMedia({ colorScheme });
        await isClean(page);
    }
}

async function unfold(page, words) {
    const fold = page.locator(`#start details.rare:has(summary:has-text("${words}"))`);
    if (!await fold.evaluate((one) => one.open)) {
        await fold.locator('summary').click();
    }
}

async function beginWith(page, values) {
    const all = {
        'motor.magnets': '46', 'motor.resistance_between_leads_ohm': '0,2',
        'motor.no_load_speed_rpm_at_v.speed_rpm': '215', 'motor.no_load_speed_rpm_at_v.volts': '36'
    };
    for (const [key, text] of Object.entries(all)) {
        await field(page, key).fill(text);
    }
    for (const [words, key, text] of values) {
        await unfold(page, words);
        const own = field(page, key);
        await (await own.evaluate((one) => one.localName) === 'select' ? own.selectOption(text) : own.fill(text));
    }
    await tap(page, '#start button.main');
}

test('a new machine is told with its fuse, grip, steps and ride as a person would write them', async () => {
    await withTool(empty, {}, async (page) => {
        assert.equal(await page.locator('#start details[open]').count(), 0, 'all that is not needed is folded');
        await beginWith(page, [['Fuse and plugs', 'fuse.rated_a', '20'], ['Throttle grip', 'controls.throttle.rest_v', '0,9'],
            ['Brake levers', 'controls.brake.switch', 'normally_closed'], ['Speed switch', 'controller.speed_steps_percent', '50, 75, 100'],
            ['Road and hill', 'vehicle.ride', '2000 m at 0 %; 300,5 m at 8 %']]);
        assert.match(await title(page), /Step 1/);
        await tap(page, 'nav [data-part="files"]');
        assert.equal(await scenarioOf(page), `hubphase: 1
motor:
  magnets: 46
  resistance_between_leads_ohm: 0.2
  no_load_speed_rpm_at_v:
    speed_rpm: 215
    volts: 36
controller:
  speed_steps_percent:
    - 50
    - 75
    - 100
leads:
  known: no
controls:
  throttle:
    rest_v: 0.9
  brake:
    switch: normally_closed
vehicle:
  ride:
    - 2000 m at 0 %
    - 300.5 m at 8 %
fuse:
  rated_a: 20
`);
    });
});

test('a scenario written by hand is said more of: its remarks, its log and what was not touched stay', async () => {
    const text = `# from a fair\n${readFileSync('pages/plain.yaml', 'utf8')}fuse: {rated_v: 58} # blade\n`;
    await withTool(pageOf('plain-more.yaml', text), {}, async (page) => {
        for (const word of ['yes', 'no', 'no']) {
            await answerOne(page, word);
        }
        await tap(page, '#answers .write');
        assert.match(await title(page), /Step 2/);
        await tap(page, 'nav [data-part="files"]');
        const log = await page.locator('#files pre').first().textContent();
        await tap(page, 'button:has-text("say more about the machine")');
        assert.match(await page.locator('#start summary', { hasText: 'Fuse' }).textContent(), /1 stated/);
        await unfold(page, 'Fuse');
        assert.equal(await field(page, 'fuse.rated_v').inputValue(), '58');
        assert.equal(await field(page, 'pack.full_v').getAttribute('placeholder'), 'from the rest: 42');
        await field(page, 'fuse.rated_a').fill('20 volts');
        await tap(page, '#start button.main');
        assert.match(await page.locator('#start .problem').first().textContent(), /20 volts/);
        await field(page, 'fuse.rated_a').fill('17,5');
        await field(page, 'fuse.rated_v').fill('');
        await tap(page, '#start button.main');
        assert.match(await title(page), /Step 2/, 'the answers stay');
        await page.reload();
        await calm(page);
        await tap(page, 'nav [data-part="files"]');
        assert.equal(await scenarioOf(page), text.replace('{rated_v: 58}', '{rated_a: 17.5}'));
        assert.equal(await page.locator('#files pre').first().textContent(), log);
    });
});

test('nothing changed leaves the scenario as it is, and what is usual is not stated', async () => {
    await withTool(plain, {}, async (page) => {
        await tap(page, 'nav [data-part="files"]');
        const before = await scenarioOf(page);
        await tap(page, 'button:has-text("say more about the machine")');
        await tap(page, '#start button.main');
        await tap(page, 'nav [data-part="files"]');
        assert.equal(await scenarioOf(page), before);
    });
});

test('the form is clean and fits, narrow and wide, light and dark', async () => {
    await withTool(empty, {}, async (page) => {
        await page.evaluate(() => document.querySelectorAll('#start details').forEach((one) => {
            one.open = true;
        }));
        await isCleanEverywhere(page);
    });
});

/* ---- checks ------------------------------------------------------------------------------------ */

async function goTo(page, check) {
    await tap(page, 'nav [data-part="checks"]');
    if (await page.locator('button:has-text("All checks")').count()) {
        await tap(page, 'button:has-text("All checks")');
    }
    await tap(page, `#check-${check}`);
}

/* What the program prints. */
const program = (...options) => execFileSync(process.env.HUBPHASE, options, { encoding: 'utf8' });

/* The text of the file that a button downloads. */
const textBehind = async (page, words) => readFileSync(await downloaded(page, `button:has-text("${words}")`), 'utf8');

test('what the fit lacks is filled in from its own line, and it is worked out anew', async () => {
    await withTool(plain, {}, async (page) => {
        await goTo(page, 'fit');
        await tap(page, '#checks button:has-text("Work it out")');
        await tap(page, 'button:has-text("Fill in: Capacity")');
        assert.equal(await page.evaluate(() => document.activeElement.id), 'essential-pack.capacity_ah', 'one is where one can type');
        await page.keyboard.type('10,5');
        await page.keyboard.press('Enter');
        await calm(page);
        assert.equal(await page.locator('#checks h2').textContent(), 'Do the parts go together?', 'back where one came from');
        assert.equal(await page.locator('#checks .lines').count(), 0, 'what was worked out before no longer holds');
        await tap(page, '#checks button:has-text("Work it out")');
        assert.doesNotMatch(await page.locator('#checks .lines').innerText(), /pack\.capacity_ah/);
        assert.match(await page.locator('#checks .lines').innerText(), /Range on the level: /);
        await tap(page, 'nav [data-part="map"]');
        await tap(page, 'nav [data-part="checks"]');
        assert.equal(await page.locator('#checks .lines > li').count(), 22, 'what was worked out is still there');
    });
});

const reversed = pageOf('reversed.yaml', `${readFileSync('pages/plain.yaml', 'utf8')}
controls:
  brake: {switch: normally_closed, expects: normally_open}
`);

test('a brake of the other sort hides the other cases: none of them is called good, the dangerous ones stand first', async () => {
    await withTool(reversed, {}, async (page) => {
        await goTo(page, 'ride');
        await tap(page, 'button:has-text("Try every case")');
        const lines = (await page.locator('#checks .lines').first().locator('> li').allInnerTexts()).map((line) => line.replaceAll('\u00a0', ' '));
        const hidden = lines.filter((line) => line.startsWith('untested'));
        assert.ok(lines[0].startsWith('STOP Brake lever pulled while the motor runs: it works the wrong way round'), lines[0]);
        assert.equal(hidden.length, 9);
        hidden.forEach((line) => assert.match(line, /cannot be told: the brake input holds the drive off; put that right first/));
        const rest = lines.find((line) => line.startsWith('untested Ground lead of the throttle comes off, grip let go'));
        assert.match(rest, /With the brake right \(simulated\), stop: it starts by itself and runs up to \d+ rev\/min\./);
        const kinds = hidden.map((line) => line.match(/\(simulated\), (\w+):/)[1]);
        assert.deepEqual(kinds, [...kinds].sort((one, other) => ['stop', 'look', 'good'].indexOf(one) - ['stop', 'look', 'good'].indexOf(other)));
        assert.equal(lines.filter((line) => line.includes('Put the brake right first')).length, 1, 'said once');
        assert.ok(lines.filter((line) => line.startsWith('good')).every((line) => line.startsWith('good Brake switch of the other sort')));
        await isCleanEverywhere(page);
        await tap(page, 'button[aria-label="Draw it: Ground lead of the throttle comes off, grip let go"]');
        assert.match(await page.locator('#checks figure svg').textContent(), /Finding: untested, cannot be told/);
        assert.match(await page.locator('#checks h3').last().textContent(), /grip let go \(with the brake mended\)$/);
    });
});

test('grip, brake and lost leads: every case, one drawn, and a course of one\'s own', async () => {
    await withTool(plain, {}, async (page) => {
        await goTo(page, 'ride');
        await tap(page, 'button:has-text("Try every case")');
        const lines = await page.locator('#checks .lines').first().locator('> li').allInnerTexts();
        const said = JSON.parse(program('controls', 'pages/plain.yaml', '--json', '--quiet'));
        assert.equal(lines.length, said.what_if.length);
        said.what_if.forEach(({ title: name, words }) => assert.ok(lines.some((line) => line.replaceAll('\u00a0', ' ').includes(`${name}: ${words}.`)), name));
        assert.match(lines[0], /^STOP/, 'the worst first');
        await tap(page, 'button[aria-label^="Draw it: Ground lead of the throttle comes off while"]');
        assert.equal(await page.locator('#checks figure svg').count(), 1);
        await page.locator('summary', { hasText: 'course of your own' }).click();
        await page.locator('[aria-label="Grip to, action 1"]').fill('37,5');
        await page.locator('[aria-label="Second of action 2"]').fill('1,5');
        await tap(page, 'button:has-text("One more action")');
        await page.locator('[aria-label="Action 3"]').selectOption('key');
        await tap(page, 'button:has-text("Simulate it")');
        assert.equal(await page.locator('#checks h3').last().textContent(), 'Your own course');
        const text = await page.locator('#checks pre').last().textContent();
        assert.match(text, /0\.30 s {3}grip to 37\.5 %/);
        assert.match(text, /1\.50 s {3}brake lever pulled/);
        assert.match(text, /key off/);
        await page.locator('[aria-label="Grip to, action 1"]').fill('150');
        await tap(page, 'button:has-text("Simulate it")');
        assert.match(await page.locator('#checks .problem').textContent(), /150/);
        assert.equal(await page.locator('#checks h3').last().textContent(), 'Your own course', 'what was drawn stays');
    });
});

test('once no step is left, the bench says what commissioning ends with, and what wants mending, before all else', async () => {
    const names = JSON.parse(program('commission', 'pages/plain.yaml', '--json')).steps.map(({ name }) => name);
    const logOf = (left) => `hubphase_log: 1\nscenario: plain\nentries:
  - time: 2026-11-29T14:00:00+01:00
    pins: {continuity: {U-V: yes, V-W: yes, W-U: yes}, touches_shell: no, phase_touches_sensor: no}
  - time: 2026-11-29T14:01:00+01:00
    sensor_supply: {supply_v: 4.9}
${[[35, 0.12, 77], [35, 0.12, 77], [100, 0.35, 222]].map(([throttle, amperes, rpm]) => `  - time: 2026-11-29T14:02:00+01:00
    trial: {wiring: 1, throttle_percent: ${throttle}, motion: forward, feel: smooth, starts: 6, starts_tried: 6, battery_a: ${amperes}, wheel_speed_rpm: ${rpm}, cut_out: no, warm: no}\n`).join('')}  - time: 2026-11-29T15:00:00+01:00
    left_out: {step: hall_plug}
  - time: 2026-11-29T15:01:00+01:00
    hub: {pricks: none, bearings: rough}
${left.map((name) => `  - time: 2026-11-29T15:02:00+01:00\n    left_out: {step: ${name}}\n`).join('')}`;
    const others = names.filter((name) => name !== 'hub');
    const show = async (log, work) => withTool(pageOf('plain.yaml', readFileSync('pages/plain.yaml', 'utf8'), log), {}, work);
    writeFileSync('pages/plain.bench.yaml', logOf(others));
    const said = JSON.parse(program('commission', 'pages/plain.yaml', '--json'));
    rmSync('pages/plain.bench.yaml');
    assert.equal(said.next, null);
    await show(logOf(others), async (page) => {
        const ending = page.locator('#step .ending');
        await ending.locator('li').first().waitFor();
        const flat = (text) => text.replaceAll('\u00a0', ' ');
        /* The end is the title, and each reason has a line. */
        const [end, ...reasons] = said.why_words.split(/(?<=\.) (?=[A-Z])/);
        assert.equal(`${flat(await title(page))}.`, end);
        assert.match(end, /^Not ready: every step that can be done here is done/);
        assert.match(await ending.locator('h3').textContent(), /is correct/);
        const marked = said.steps.filter(({ finding }) => finding === 'look');
        assert.equal(marked.length, 1);
        assert.deepEqual((await ending.locator('li').allTextContents()).map(flat), [...reasons, ...marked.map((one) => `look ${one.title}. ${one.means} ${one.otherwise}`.trim())]);
        assert.equal(await page.evaluate(() => document.querySelector('#step').children[1].className), 'ending');
        await isClean(page);
    });
    await show(logOf(others.slice(1)), async (page) => {
        await page.waitForFunction(() => /\w/.test([...document.querySelectorAll('#step pre')].map((one) => one.textContent).join('')));
        assert.equal(await page.locator('#step .ending li').count(), 0, 'an end while a step is left');
    });
    /* Where parts do not go together, the first button leads to the check that says which. */
    const narrow = `${readFileSync('pages/plain.yaml', 'utf8')}\naxle: {diameter_mm: 12, flats_mm: 10, engaged_mm: 1}\n`;
    await withTool(pageOf('plain.yaml', narrow, logOf(others)), {}, async (page) => {
        await page.locator('#step .ending li').first().waitFor();
        assert.match(await title(page), /^Do not ride: every step that can be done here is done, but the parts do not go together$/);
        assert.match(await page.locator('#step .ending li').first().textContent(), /^Fit says stop: Axle/);
        await tap(page, '#answers .main');
        assert.match(await page.locator('#checks h2').textContent(), /Do the parts go together/);
    });
});

test('an earlier log beside the one in hand, as compare says it', async () => {
    const entry = (amps) => `hubphase_log: 1\nscenario: plain\nentries:\n  - time: 2026-11-29T15:04:05+01:00\n    no_load: {full_v: 37.4, full_speed_rpm: 223, full_a: ${amps}}\n`;
    writeFileSync('pages/then.bench.yaml', entry('0.6'));
    writeFileSync('pages/now.bench.yaml', entry('1.1'));
    await withTool(pageOf('plain.yaml', readFileSync('pages/plain.yaml', 'utf8'), entry('1.1')), {}, async (page) => {
        await goTo(page, 'earlier');
        await page.locator('#then-in').setInputFiles('pages/then.bench.yaml');
        await page.locator('#checks pre').waitFor();
        const flat = (text) => text.replace(/\s+/g, ' ').trim();
        /* What the terminal has an option for stands here to be ticked. */
        const said = flat(program('compare', 'pages/plain.yaml', 'pages/then.bench.yaml', 'pages/now.bench.yaml'))
            .replace('say so (--same-meters):', 'tick that they were, and open the earlier log again:');
        assert.equal(flat(await page.locator('#checks pre').textContent()), said);
        await page.locator('label[for="same-meters"]').waitFor();
        await page.locator('#then-in').setInputFiles('pages/plain.yaml');
        await page.locator('#trouble h2').waitFor();
        assert.match(await page.locator('#trouble').innerText(), /scenario/);
        assert.equal(await page.locator('#checks pre').count(), 1, 'what was compared stays');
        await tap(page, 'button:has-text("The scenario with these figures")');
        rmSync('pages/learnt.yaml', { force: true });
        program('commission', 'pages/plain.yaml', '--log=pages/now.bench.yaml', '--write=pages/learnt.yaml');
        const bare = (text) => text.replaceAll('now.bench.yaml', 'plain.bench.yaml').replace(/print: .*/, '');
        assert.equal(bare(await textBehind(page, 'Download')), bare(readFileSync('pages/learnt.yaml', 'utf8')));
    });
});

test('many motors: the bytes that spread writes, progress, and a stop', async () => {
    await withTool(plain, {}, async (page) => {
        await goTo(page, 'many');
        await page.fill('#many-motors', 'ten');
        await tap(page, 'button:has-text("Survey them")');
        assert.match(await page.locator('#checks .problem').textContent(), /"ten".*from 1 to 10000/);
        await page.fill('#many-motors', '3');
        await page.fill('#many-seed', '7');
        await tap(page, 'button:has-text("Survey them")');
        assert.equal(await page.locator('#checks figure svg').count(), 2);
        const options = ['spread', 'pages/plain.yaml', '--motors=3', '--seed=7', '--quiet'];
        assert.equal((await textBehind(page, 'as JSON')).replace('"plain.yaml"', '"pages/plain.yaml"'), program(...options, '--json'));
        assert.equal(await textBehind(page, 'as CSV'), program(...options, '--csv'));
        /* Stopped, what is done is told with its number, and goes on; in the end it is as if it never was. */
        await page.fill('#many-motors', '9');
        await page.locator('button:has-text("Survey them")').click();
        await page.waitForFunction(() => document.querySelector('#progress').value > document.querySelector('#progress').max / 9 && document.querySelector('#progress').max > 1);
        await page.locator('nav [data-part="map"]').click();
        await page.locator('.cell').first().waitFor();
        await page.locator('#stop').click();
        await calm(page);
        await tap(page, 'nav [data-part="checks"]');
        const [, first] = (await page.locator('#checks h3').last().textContent()).match(/^The first (\d) of 9 motors, seed 7$/);
        assert.ok(first >= 1 && first < 9);
        assert.equal(await page.locator('#checks figure svg').count(), 2);
        const part = JSON.parse(await textBehind(page, 'as JSON'));
        assert.deepEqual([part.ensemble.motors, part.ensemble.motors_wanted], [Number(first), 9]);
        assert.match(await page.locator('#checks pre').last().textContent(), new RegExp(`Stopped +after the first ${first}`));
        await tap(page, 'button:has-text("Go on to all 9")');
        assert.equal(await page.locator('#checks h3').last().textContent(), '9 motors, seed 7');
        assert.equal(await page.locator('#checks button:has-text("Go on")').count(), 0);
        assert.equal(await textBehind(page, 'as CSV'), program('spread', 'pages/plain.yaml', '--motors=9', '--seed=7', '--quiet', '--csv'));
        /* A second tap on Stop waits for nothing. */
        await page.fill('#many-motors', '2000');
        await page.locator('button:has-text("Survey them")').click();
        await page.waitForFunction(() => document.querySelector('#progress').max > 9 * 36 && document.querySelector('#progress').value > document.querySelector('#progress').max / 2000);
        await page.evaluate(() => {
            document.querySelector('#stop').click();
            document.querySelector('#stop').click();
        });
        await calm(page);
        assert.match(await page.locator('#trouble').innerText(), /Stopped/);
        assert.equal(await page.locator('#checks h3').last().textContent(), '9 motors, seed 7', 'what was there before stays');
        assert.ok(await page.locator('button:has-text("Survey them")').isEnabled());
    });
});

test('what makes a machine slow to simulate is said as it is opened, before the wait', async () => {
    const slow = readFileSync('pages/plain.yaml', 'utf8') + 'stand: {wheel_inertia_kg_m2: 0.000001}\nrun: {tolerance: 1e-10}\n';
    await withTool(pageOf('slow.yaml', slow), { calm: false }, async (page) => {
        await page.locator('#trouble', { hasText: 'takes long to simulate' }).waitFor();
        assert.match(await page.locator('#trouble').innerText(), /slow\.yaml:\d+: stand\.wheel_inertia_kg_m2 is 1e-06: with/);
    });
});

test('checks are clean and fit, narrow and wide, light and dark', async () => {
    await withTool(plain, {}, async (page) => {
        await tap(page, 'nav [data-part="checks"]');
        await isCleanEverywhere(page);
        for (const [check, ...buttons] of [['fit', 'Work it out'], ['ride', 'Try every case', 'Draw it'], ['earlier'], ['many', 'Survey them']]) {
            await goTo(page, check);
            if (check === 'many') {
                await page.fill('#many-motors', '1');
            }
            for (const words of buttons) {
                await tap(page, `#checks button:has-text("${words}")`);
            }
            await page.evaluate(() => document.querySelectorAll('#checks details').forEach((one) => {
                one.open = true;
            }));
            await isCleanEverywhere(page);
        }
    });
});

test('checks by the keyboard alone', async () => {
    await withTool(plain, {}, async (page) => {
        for (const selector of ['nav [data-part="checks"]', '#check-ride', '#checks button:has-text("Try every case")', '#checks button:has-text("Draw it")']) {
            await reach(page, selector);
            await page.keyboard.press('Enter');
            await calm(page);
        }
        assert.equal(await page.locator('#checks figure svg').count(), 1);
    });
});

test('an entry bears the time that one says, and another one later', async () => {
    /* A machine of its own: what others wrote of the plain one is kept in this browser. */
    const timed = pageOf('timed.yaml', `# timed\n${readFileSync('pages/plain.yaml', 'utf8')}`);
    await withTool(timed, {}, async (page) => {
        for (const word of ['yes', 'no', 'no']) {
            await answerOne(page, word);
        }
        await page.locator('#answers summary', { hasText: 'When was that' }).click();
        await page.fill('#when-in', '2026-11-01T09:05');
        await tap(page, '#answers .write');
        const log = async () => {
            await tap(page, 'nav [data-part="files"]');
            const text = await page.locator('#files pre').first().textContent();
            await tap(page, 'nav [data-part="bench"]');
            return text;
        };
        assert.match(await log(), /time: "?2026-11-01T09:05:00[+-]/);
        await page.locator('#step summary', { hasText: 'Earlier answers' }).click();
        await tap(page, '[aria-label="Change answer 1"]');
        await page.locator('#answers summary', { hasText: 'When was that' }).click();
        assert.equal(await page.locator('#when-in').inputValue(), '2026-11-01T09:05');
        await page.fill('#when-in', '2026-11-02T10:00');
        await tap(page, '#answers .write');
        assert.match(await log(), /^ {2}- time: "?2026-11-02T10:00:00[+-]/m);
    });
});
