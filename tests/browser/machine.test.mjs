/* The whole machine in the page: what its form says of controls, battery, leads and axle, and what is made of it. */
import test, { after } from 'node:test';
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import axe from 'axe-core';
import { browser, calm, pageOf, tap, title, withTool, answerOne } from './tool.mjs';

after(() => browser.close());

/* As tool.sh has it. */
const empty = 'tool.html';
process.env.TOOL_PAGE = empty;

const plain = pageOf('plain.yaml', readFileSync('pages/plain.yaml', 'utf8'));
const field = (page, key) => page.locator(`[id="essential-${key}"]`);
const scenarioOf = (page) => page.locator('#files pre').nth(1).textContent();

/* No wider than the screen, and nothing that axe finds. */
async function isClean(page) {
    assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth), 'no wider than the screen');
    await page.evaluate(axe.source);
    const { violations } = await page.evaluate(() => window.axe.run(document));
    assert.deepEqual(violations.map(({ id, nodes }) => [id, nodes[0].html]), []);
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
        await field(page, 'fuse.rated_a').fill('20 amps');
        await tap(page, '#start button.main');
        assert.match(await page.locator('#start .problem').first().textContent(), /20 amps/);
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

for (const [width, colorScheme] of [[320, 'light'], [390, 'dark'], [1280, 'light'], [1280, 'dark']]) {
    test(`the form is clean and fits at ${width}, ${colorScheme}`, async () => {
        await withTool(empty, { viewport: { width, height: 844 }, colorScheme }, async (page) => {
            await page.evaluate(() => document.querySelectorAll('#start details').forEach((one) => {
                one.open = true;
            }));
            await isClean(page);
        });
    });
}
