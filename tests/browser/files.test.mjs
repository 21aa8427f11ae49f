/* Scenarios, logs and forms: opened, filled in, changed by hand, kept, shared; and a machine that is simulated first.
   In Chromium; run by tool.sh, which makes the pages of a machine with another battery. */
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { after, test } from 'node:test';
import { answerOne, browser, calm, downloaded, finish, logOf, pageOf, standing, tap, title, withTool } from './tool.mjs';

const scenario = readFileSync('pages/plain.yaml', 'utf8');
const plain = pageOf('plain.yaml', scenario);

after(() => browser.close());

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
    await withTool('tool.html', {}, async (page) => {
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

test('an empty page can be looked around with an example', async () => {
    await withTool('tool.html', {}, async (page) => {
        assert.match(await page.locator('#start .safe').textContent(), /^Cautions first\. Battery off/);
        await tap(page, 'button:has-text("Look around")');
        assert.equal(await page.locator('#machine').textContent(), 'An example');
        assert.match(await title(page), /^Step 1/);
    });
});

test('an empty page asks for the machine, tells problems beside the field, and goes on from there', async () => {
    await withTool('tool.html', {}, async (page) => {
        assert.doesNotMatch(await page.locator('#start').textContent(), /axis it belongs to/, 'names need no reason');
        const fill = (key, text) => page.locator(`[id="essential-${key}"]`).fill(text);
        const problems = async () => (await page.locator('#start .problem').allTextContents()).map((text) => text.replaceAll('\u00a0', ' '));
        const beside = async (key) => (await page.locator(`.field:has([id="essential-${key}"]) .problem`).allTextContents()).join('|').replaceAll('\u00a0', ' ');
        await tap(page, '#start button.main');
        assert.equal((await problems()).length, 4, (await problems()).join('\n'));
        assert.equal(await beside('motor.magnets'), 'Needed. Magnets on the rotor: a whole number from 2 to 200.');
        assert.equal(await beside('motor.resistance_between_leads_ohm'), 'Needed. Resistance between two phase leads: a number above 0 and at most 20 ohm.');
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
    await withTool('tool.html', {}, async (page) => {
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
    await withTool('tool.html', {}, async (page) => {
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

test('another machine is simulated: nothing of the one before stands under its name, the map is there, and the table is the one that the program makes', async () => {
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
        assert.match(await title(page), /^Step 1\. /);
        assert.equal(await page.locator('.entries li').count(), 0, 'its own answers: none');
        await tap(page, 'nav [data-part="files"]');
        await tap(page, 'button:has-text("Go on with it")');
        assert.match(await title(page), /^Step 2/, 'and the first one goes on where it was');
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
    await withTool('tool.html', { before }, async (page) => {
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

test('the whole page is small enough for a telephone', () => {
    assert.ok(readFileSync('tool.html').length < 1.5e6);
});
