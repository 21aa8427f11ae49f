/* Practice in the page: by keyboard alone on a phone's screen, left and taken up again, to the end. */
import { test, after } from 'node:test';
import assert from 'node:assert/strict';
import axe from 'axe-core';
import { browser, calm, withTool } from './tool.mjs';

after(() => browser.close());

const PAGE = 'tool.html';
const SHOW = 'Practise on a hidden machine';

/* Goes by Tab to what bears this name, and presses Enter. */
async function press(page, name) {
    for (let k = 0; k < 80; k++) {
        await page.keyboard.press('Tab');
        const text = await page.evaluate(() => document.activeElement.textContent.trim());
        if (text.startsWith(name)) {
            await page.keyboard.press('Enter');
            await calm(page);
            return;
        }
    }
    assert.fail(`no Tab leads to "${name}"`);
}

const heading = (page) => page.evaluate(() => document.querySelector('#practise h2').textContent);

/* The choices that matter stand on the screen without scrolling. */
async function fits(page, what) {
    const bottom = await page.evaluate(() => Math.max(...[...document.querySelectorAll('#practise .answers button, #practise .row .main')]
        .map((one) => one.getBoundingClientRect().bottom)));
    assert.ok(bottom <= 844, `${what}: the lowest choice ends at ${bottom} of 844 pixels`);
}

async function isAccessible(page, what) {
    await page.evaluate(axe.source);
    const { violations } = await page.evaluate(() => window.axe.run(document));
    assert.deepEqual(violations.map(({ id, nodes }) => `${what}: ${id} ${nodes[0].html}`), []);
}

async function begin(page, seed, level) {
    await calm(page);
    await page.getByRole('button', { name: SHOW }).click();
    await calm(page);
    await page.fill('#practise-seed', String(seed));
    await page.locator(`#practise [data-word=${level}]`).click();
    await calm(page);
}

test('a machine is found by keyboard alone, and both paths stand beside one another', async () => {
    await withTool(PAGE, {}, async (page) => {
        await calm(page);
        await press(page, SHOW);
        await isAccessible(page, 'levels');
        await fits(page, 'levels');
        await page.focus('#practise-seed');
        await page.keyboard.press('Control+A');
        await page.keyboard.type('8');
        await press(page, 'Sound');
        assert.equal(await heading(page), 'Level sound, seed 8');
        await fits(page, 'the bench');
        await press(page, 'Hand turn');
        assert.equal(await heading(page), 'Hand turn');
        await press(page, 'Trial');
        await page.focus('#practise-wiring');
        await page.keyboard.type('3');
        await page.keyboard.press('Enter');
        await fits(page, 'feeds');
        await press(page, 'Limited');
        await fits(page, 'after a trial with two risks');
        assert.equal(await page.locator('#practise .warned').count(), 2);
        await isAccessible(page, 'after a trial');
        await press(page, 'Say what you found');
        await press(page, 'Wiring');
        await page.focus('#practise-wiring');
        await page.keyboard.type('14');
        await page.keyboard.press('Enter');
        await calm(page);
        assert.equal(await heading(page), 'Right');
        assert.match(await page.locator('.paths').innerText(), /wiring 14 is correct[^]*wiring 33 is correct/);
        assert.equal(await page.locator('.beside ol').first().locator('li').count(), 2);
        assert.ok(await page.locator('.beside ol').last().locator('li').count() >= 5);
        await isAccessible(page, 'the end');
    });
});

test('an evening that was left goes on where it was, and an entry that is wrong is taken out', async () => {
    await withTool(PAGE, {}, async (page) => {
        await begin(page, 3, 'slip');
        await fits(page, 'a log that was left');
        await page.locator('[data-word=park]').click();
        await page.locator('[data-word=green]').click();
        await calm(page);
        await page.reload();
        await calm(page);
        await page.getByRole('button', { name: SHOW }).click();
        await page.getByRole('button', { name: 'Go on with slip, seed 3: 1 step' }).click();
        await calm(page);
        await page.getByText('The log: 9').click();
        await page.getByRole('button', { name: 'Take entry 3 out of the log' }).click();
        await calm(page);
        assert.match(await page.locator('#practise').innerText(), /Entry 3 is taken out/);
        await page.getByRole('button', { name: 'Say what you found' }).click();
        await page.locator('[data-word=wiring]').click();
        /* Wiring 10 by its leads: Hall order UWV, phase order VWU (model/wiring.h). */
        for (const [id, lead] of [['hall-0', 'white'], ['hall-1', 'brown'], ['hall-2', 'grey'], ['phase-0', 'green'], ['phase-1', 'blue'], ['phase-2', 'yellow']]) {
            await page.selectOption(`#practise-${id}`, lead);
        }
        await page.getByRole('button', { name: 'Take these leads' }).click();
        await calm(page);
        assert.equal(await heading(page), 'Right');
        assert.match(await page.locator('.shown').innerText(), /wrong entry, number 3, had been taken out/);
    });
});

test('a faulty part is named with its lead, in the dark too, and a seed that is none is refused', async () => {
    await withTool(PAGE, { colorScheme: 'dark' }, async (page) => {
        await calm(page);
        await page.getByRole('button', { name: SHOW }).click();
        await calm(page);
        await page.fill('#practise-seed', '1.5');
        await page.locator('[data-word=fault]').click();
        assert.ok(await page.locator('#practise .problem').isVisible());
        await page.fill('#practise-seed', '4');
        await page.locator('[data-word=fault]').click();
        await calm(page);
        await page.locator('[data-word=hand_turn]').click();
        await calm(page);
        await page.getByRole('button', { name: 'Hint' }).click();
        await calm(page);
        assert.match(await page.locator('#practise').innerText(), /Hint: Find out with a beeper/);
        await page.getByRole('button', { name: 'Say what you found' }).click();
        await page.locator('[data-word=fault]').click();
        await fits(page, 'faults');
        await page.locator('[data-word=hall_inverted]').click();
        await page.locator('[data-word=white]').click();
        await calm(page);
        assert.equal(await heading(page), 'Right');
        await isAccessible(page, 'the end in the dark');
    });
});
