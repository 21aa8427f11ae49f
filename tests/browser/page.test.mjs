/* The page for the bench in Chromium. Run by run.sh, which makes the pages. */
import assert from 'node:assert/strict';
import { execFileSync, spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { after, test } from 'node:test';
import axe from 'axe-core';
import { answer, browser, pathTo, pathsOf, planOf, withPage } from './bench.mjs';

const plain = 'pages/plain.html';
const hostile = 'pages/hostile.html';
const moved = 'pages/moved.html'; /* its log has a wiring joined */
const plan = planOf(plain);
const movedPlan = planOf(moved);
const paths = pathsOf(plan);
const toTrial = pathTo(plan, (step) => step.kind === 'try');
const toMove = pathTo(movedPlan, (step) => step.kind === 'try' && ![0, step.wiring].includes(movedPlan.joined));
const toDone = pathTo(plan, (step) => step.kind === 'done');
const toCut = pathTo(plan, (step) => step.cut);
const toRepair = pathTo(plan, (step) => step.kind === 'repair');
const heading = (page) => page.locator('#step h3').textContent();

after(() => browser.close());

test('the plan of the test holds every kind of place', () => {
    assert.ok(paths.length > 100, `${paths.length} paths`);
    for (const path of [toTrial, toMove, toDone, toCut, toRepair]) {
        assert.ok(path);
    }
});

test('no two buttons of a step say the same', () => {
    for (const step of plan.steps) {
        const labels = step.answers.map((answer) => answer.label);
        assert.deepEqual(labels, [...new Set(labels)], step.title);
    }
});

test('every path is walked to its end', async () => {
    await withPage(plain, {}, async (page) => {
        const store = await page.evaluate(() => `hubphase-${document.body.dataset.key}`);
        /* Real clicks take too long for so many; these go through the same handlers. */
        const walked = await page.evaluate(([steps, key]) => {
            const problems = [];
            let ends = 0;
            const check = (fine, what) => fine || problems.push(what);
            const visit = (at, path) => {
                const step = steps[at];
                const card = document.getElementById('step');
                const buttons = [...card.querySelectorAll('.answer:not(.rare)')];
                const where = `at ${path.join(',')}: `;
                check(card.querySelector('h3').textContent === `Step ${path.length + 1}. ${step.title}`, `${where}title`);
                check(card.textContent.includes(step.reason), `${where}reason`);
                check(path.length === 0 || document.activeElement === card.querySelector('h3'), `${where}focus`);
                check(buttons.length === step.answers.length, `${where}${buttons.length} buttons`);
                check(card.querySelector('h3 + .cautions p').textContent.length > 0, `${where}not safe`);
                check(card.querySelectorAll('.care').length > 0, `${where}no caution`);
                check(card.textContent.includes('The plan on this page ends here') === Boolean(step.cut), `${where}cut`);
                const picture = step.kind === 'try' || step.kind === 'look' || step.kind === 'done' || step.kind === 'probably';
                check(Boolean(card.querySelector('svg.moves')) === picture, `${where}picture`);
                check(JSON.parse(localStorage.getItem(key) || '[]').length === path.length, `${where}progress`);
                ends += step.answers.length === 0;
                step.answers.forEach((answer, k) => {
                    const button = card.querySelectorAll('.answer:not(.rare)')[k];
                    check(button.firstChild.textContent === answer.label, `${where}label ${k}`);
                    button.click();
                    visit(answer.to, [...path, k]);
                    document.getElementById('back').click();
                });
            };
            visit(0, []);
            return { problems, ends };
        }, [plan.steps, store]);
        assert.deepEqual(walked.problems.slice(0, 10), []);
        assert.equal(walked.ends, paths.length);
    });
});

test('progress survives a reload; back and start again work', async () => {
    await withPage(plain, {}, async (page) => {
        await answer(page, toDone);
        const end = await heading(page);
        assert.match(end, /is correct/);
        await page.reload();
        assert.equal(await heading(page), end);
        assert.equal(await page.locator('#given li').count(), toDone.length);
        await page.locator('#back').click();
        assert.match(await heading(page), new RegExp(`^Step ${toDone.length}\\.`));
        await page.locator('#restart').click();
        assert.match(await heading(page), /^Step 1\./);
        await page.reload();
        assert.match(await heading(page), /^Step 1\./);
        assert.ok(await page.locator('#back').isDisabled());
    });
});

test('another plan does not take over kept answers, and damaged ones are dropped', async () => {
    await withPage(plain, {}, async (page) => {
        await answer(page, [0]);
        for (const junk of ['[{"answer":99,"time":"x"}]', '[{"answer":0}]', '{', 'null', '[1]']) {
            await page.evaluate((text) => localStorage.setItem(`hubphase-${document.body.dataset.key}`, text), junk);
            await page.reload();
            assert.match(await heading(page), /^Step 1\./, junk);
        }
    });
    assert.notEqual(planOf(hostile).texts.join(), plan.texts.join());
});

test('works where nothing can be kept', async () => {
    const before = () => Object.defineProperty(window, 'localStorage', {
        get() { throw new Error('not allowed here'); }
    });
    await withPage(plain, { before }, async (page) => {
        await answer(page, toDone);
        assert.match(await heading(page), /is correct/);
    });
});

test('a rare answer says plainly what to do', async () => {
    await withPage(plain, {}, async (page) => {
        await answer(page, [0]);
        await page.locator('.answer.rare').click();
        const text = await page.locator('#step').textContent();
        assert.match(text, /does not hold that answer/);
        assert.match(text, /hubphase next plain\.yaml/);
        assert.match(text, /plain\.bench\.yaml/);
        await page.locator('#back').click();
        assert.match(await heading(page), /^Step 2\./);
        assert.equal(await page.locator('.answer.rare').count(), 1);
    });
});

test('the copied log is read by hubphase next, which advises the page\'s own step', async () => {
    const chosen = [toTrial, toDone, toRepair, toCut, paths[Math.floor(paths.length / 2)], []];
    for (const path of chosen) {
        await withPage(plain, { permissions: ['clipboard-read', 'clipboard-write'] }, async (page) => {
            await answer(page, path);
            await page.locator('#copy').click();
            await page.locator('#copied', { hasText: 'Copied.' }).waitFor();
            const text = await page.evaluate(() => navigator.clipboard.readText());
            assert.equal(text, await page.locator('#log').inputValue());
            assert.ok(!text.includes(plan.log.time), 'the time was put in');
            assert.equal((text.match(/^ +- time: /gm) || []).length, path.length);
            writeFileSync('pages/copied.yaml', text);
            const next = spawnSync(process.env.HUBPHASE,
                ['next', 'pages/plain.yaml', '--log', 'pages/copied.yaml', '--json'], { encoding: 'utf8' });
            assert.equal(next.status, 0, next.stderr);
            assert.equal(await heading(page), `Step ${path.length + 1}. ${JSON.parse(next.stdout).advice.title}`);
        });
    }
});

test('pins noted by their places go into the log, and are read there', async () => {
    const shapes = [
        ['round', Array.from({ length: 8 }, (_, k) => (k === 7 ? ['centre', ''] : [`${k + 1} o'clock`, k < 4 ? 'outer' : 'inner'])),
            /looking into the motor's half.*1 o'clock outer.*controller's half.*11 o'clock outer/s],
        ['square', Array.from({ length: 8 }, (_, k) => [`row ${1 + Math.floor(k / 4)}`, `column ${1 + k % 4}`]),
            /row 1 column 1.*row 1 column 4/s]];
    for (const [plug, places, told] of shapes) {
        await withPage(plain, {}, async (page) => {
            await page.locator('details.more summary', { hasText: 'Note which pin' }).click();
            const choose = (label, value) => page.locator(`select[aria-label="${label}"]`).selectOption(value);
            const status = () => page.locator('details [role=status]').textContent();
            await choose('The plug is', plug);
            assert.equal(await status(), 'None is noted.');
            const rows = await page.locator('.pins li').all();
            for (const [k, [first, second]] of places.entries()) {
                await rows[k].locator('select').nth(0).selectOption(first);
                if (second) {
                    await rows[k].locator('select').nth(1).selectOption(second);
                }
            }
            assert.match(await status(), /Say into which half/);
            await choose('You look into the half of', 'motor');
            assert.match(await status(), /Noted/);
            await page.locator('.answer').first().click();
            writeFileSync('pages/pins.yaml', await page.locator('#log').inputValue());
            const list = spawnSync(process.env.HUBPHASE,
                ['log', 'pages/plain.yaml', '--log', 'pages/pins.yaml'], { encoding: 'utf8' });
            assert.equal(list.status, 0, list.stderr);
            assert.match(list.stdout.replace(/\s+/g, ' '), told);
        });
    }
});

test('places that are not whole stay out of the log', async () => {
    await withPage(plain, {}, async (page) => {
        await page.locator('details.more summary', { hasText: 'Note which pin' }).click();
        const rows = await page.locator('.pins li').all();
        await rows[0].locator('select').nth(0).selectOption('centre');
        await rows[1].locator('select').nth(0).selectOption('centre');
        assert.match(await page.locator('details [role=status]').textContent(), /6 of the 8/);
        await page.locator('.answer').first().click();
        assert.doesNotMatch(await page.locator('#log').inputValue(), /phase_pins/);
    });
});

test('the picture shows what moves, and the list says it', async () => {
    await withPage(plain, {}, async (page) => {
        await answer(page, toTrial);
        assert.equal(await page.locator('.moves .tag').count(), 0);
        assert.equal(await page.locator('.moves + p').textContent(), 'Join all six:');
    });
    await withPage(moved, {}, async (page) => {
        await answer(page, toMove);
        const moving = await page.locator('.moves .moves-now').count();
        assert.ok(moving > 0 && moving < 6, `${moving} leads move`);
        assert.equal(await page.locator('.moves .tag').count(), moving);
        assert.equal(await page.locator('.moves .was').count(), moving);
        assert.equal(await page.locator('#step > ul:not(.answers) li').count(), moving);
    });
});

test('a square of the map opens its wiring, with pictures', async () => {
    await withPage(plain, {}, async (page) => {
        assert.equal(await page.locator('.cell').count(), 36);
        for (let number = 1; number <= 36; number++) {
            const cell = page.locator('.cell').nth(number - 1);
            const verdict = await cell.locator('span').textContent();
            await cell.click();
            const detail = page.locator('.detail:visible');
            assert.equal(await detail.count(), 1);
            assert.equal(await detail.getAttribute('id'), `wiring-${number}`);
            assert.ok((await detail.locator('h3').textContent()).includes(verdict));
            assert.ok((await detail.locator('p').first().textContent()).length > 60, 'sentences why');
            assert.equal(await page.locator('.pictures:visible svg').count(), 2);
            assert.equal(await cell.getAttribute('aria-current'), 'true');
            assert.ok(await detail.locator('h3').evaluate((element) => element === document.activeElement));
        }
    });
});

test('the keyboard alone is enough', async () => {
    await withPage(plain, {}, async (page) => {
        const tabTo = async (wanted) => {
            for (let k = 0; k < 40; k++) {
                await page.keyboard.press('Tab');
                if (await page.evaluate((selector) => document.activeElement.matches(selector), wanted)) {
                    return;
                }
            }
            assert.fail(`${wanted} is not reached`);
        };
        await page.keyboard.press('Tab');
        assert.ok(await page.evaluate(() => document.activeElement.matches('.skip')));
        assert.ok((await page.locator('.skip').boundingBox()).height >= 40, 'the skip link shows itself');
        for (let k = 0; k < toDone.length; k++) {
            await tabTo('.answer');
            for (let j = 0; j < toDone[k]; j++) {
                await page.keyboard.press('Tab');
            }
            await page.keyboard.press(k % 2 ? 'Enter' : 'Space');
            assert.match(await heading(page), new RegExp(`^Step ${k + 2}\\.`));
        }
        await tabTo('#back');
        await page.keyboard.press('Enter');
        await tabTo('.cell');
        await page.keyboard.press('ArrowDown');
        await page.keyboard.press('ArrowRight');
        await page.keyboard.press('Enter');
        assert.equal(await page.locator('.detail:visible').getAttribute('id'), 'wiring-8');
    });
});

const widths = [320, 390, 1280];

/* Places of the page that look different from one another. */
const views = [
    ['first', () => {}],
    ['try', (page) => answer(page, toTrial)],
    ['done', (page) => answer(page, toDone)],
    ['cut', (page) => answer(page, toCut)],
    ['repair', (page) => answer(page, toRepair)],
    ['rare', (page) => page.locator('.answer.rare').click()],
    ['list', (page) => page.locator('#whole').click()],
    ['wiring', (page) => page.locator('.cell').nth(3).click()]
];

const movedViews = [['move', (page) => answer(page, toMove)]];

test('no width scrolls sideways, and targets are large', async () => {
    for (const file of [plain, hostile, moved]) {
        for (const [name, go] of file === plain ? views : file === moved ? movedViews : views.slice(-2)) {
            await withPage(file, {}, async (page) => {
                await go(page);
                for (const width of widths) {
                    await page.setViewportSize({ width, height: 700 });
                    const where = `${file} ${width} ${name}`;
                    assert.ok(await page.evaluate(() => document.documentElement.scrollWidth) <= width, where);
                    const small = await page.evaluate(() => [...document.querySelectorAll('button, .cell, nav a, a.button')]
                        .filter((element) => element.getClientRects().length)
                        .map((element) => element.getBoundingClientRect())
                        .filter((box) => box.height < 48 || box.width < 48)
                        .map((box) => `${box.width} x ${box.height}`));
                    assert.deepEqual(small, [], where);
                }
            });
        }
    }
});

test('axe-core finds nothing, in light and in dark', async () => {
    const look = async (page, where, options) => {
        const found = await page.evaluate((wanted) => window.axe.run(wanted), options);
        assert.deepEqual(found.violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.html.slice(0, 90))}`), [], where);
    };
    for (const [name, go] of views) {
        await withPage(plain, {}, async (page) => {
            await go(page);
            /* What is hidden is not looked at, only walked through, at length. */
            await page.evaluate(() => document.querySelectorAll('.machine').forEach((machine) =>
                machine.getClientRects()[0].height || machine.remove()));
            await page.evaluate(axe.source);
            await look(page, `light ${name}`, { resultTypes: ['violations'] });
            /* Only colours differ in the dark. */
            await page.emulateMedia({ colorScheme: 'dark' });
            await look(page, `dark ${name}`, { resultTypes: ['violations'], runOnly: ['color-contrast'] });
        });
    }
});

/* Text of each page of the printed document. */
async function printed(file, options, go = () => {}) {
    let pages = [];
    await withPage(file, options, async (page) => {
        await go(page);
        await page.pdf({ path: 'pages/printed.pdf', preferCSSPageSize: true });
        pages = execFileSync('pdftotext', ['-layout', 'pages/printed.pdf', '-'], { encoding: 'utf8' }).split('\f');
    });
    return pages;
}

test('on paper the plan is a numbered list on at most two pages', async () => {
    const ways = [[{}], [{ javaScriptEnabled: false }], [{ colorScheme: 'dark' }, (page) => answer(page, toTrial)],
        [{}, (page) => page.locator('.cell').nth(3).click()]];
    for (const [options, go] of ways) {
        const pages = await printed(plain, options, go);
        const pageOf = (words) => pages.findIndex((text) => text.includes(words));
        const sorts = pageOf('How each sort of step is done');
        const map = pageOf('Map of the 36 wirings');
        assert.equal(pageOf('The plan as a numbered list'), 0);
        assert.ok(sorts >= 1 && sorts <= 2, `the list ends before page ${sorts + 1}`);
        assert.ok(map > sorts && pages.length <= map + 3, 'how it is done and the map come after it');
        const list = pages.slice(0, sorts).join('\n');
        assert.match(list, /Cautions/);
        const numbers = [...list.matchAll(/(?:^|\s{2,})(\d+)\. [A-Z]/gm)].map((found) => Number(found[1]));
        const jumps = [...list.matchAll(/go to\s+(\d+)/g)].map((found) => Number(found[1]));
        assert.ok(numbers.length >= 20, `${numbers.length} steps`);
        assert.deepEqual(numbers.sort((a, b) => a - b), numbers.map((_, k) => k + 1));
        assert.ok(jumps.length >= 20, `${jumps.length} jumps`);
        jumps.forEach((number) => assert.ok(numbers.includes(number), `go to ${number}`));
        assert.match(pages[map], /correct/);
    }
});

test('without scripts the list and the map are there', async () => {
    await withPage(plain, { javaScriptEnabled: false }, async (page) => {
        assert.ok(await page.locator('#flow').isVisible());
        assert.ok(!(await page.locator('#next').isVisible()));
        assert.ok(await page.locator('.unscripted').isVisible());
        await page.locator('.cell').nth(6).click();
        assert.ok(await page.locator('#wiring-7').isVisible());
        assert.equal(await page.locator('.pictures:visible svg').count(), 2);
    });
});

test('the policy holds', async () => {
    await withPage(plain, { complaints: 1 }, async (page) => {
        const outcome = await page.evaluate(async () => {
            const stopped = [];
            document.addEventListener('securitypolicyviolation', (event) => stopped.push(event.effectiveDirective));
            const script = document.createElement('script');
            script.textContent = 'window.taken = 1';
            document.body.append(script);
            const link = document.createElement('div');
            link.setAttribute('style', 'position: fixed');
            document.body.append(link);
            const image = new Image();
            image.src = 'data:image/gif;base64,R0lGODlhAQABAAAAACwAAAAAAQABAAA=';
            document.body.append(image);
            const base = document.createElement('base');
            base.href = 'https://example.org/';
            document.head.append(base);
            const fetched = await fetch('https://example.org/').then(() => true, () => false);
            const form = document.createElement('form');
            form.action = 'https://example.org/';
            document.body.append(form);
            form.submit();
            await new Promise((resolve) => setTimeout(resolve, 200));
            return {
                taken: window.taken, fixed: getComputedStyle(link).position, fetched, loaded: image.naturalWidth,
                base: document.baseURI, stopped: [...new Set(stopped)].sort()
            };
        });
        assert.equal(outcome.taken, undefined);
        assert.equal(outcome.fixed, 'static');
        assert.equal(outcome.fetched, false);
        assert.equal(outcome.loaded, 0);
        assert.match(outcome.base, /^file:/);
        assert.deepEqual(outcome.stopped,
            ['base-uri', 'connect-src', 'form-action', 'img-src', 'script-src-elem', 'style-src-attr']);
    });
});

test('markup in every text of a scenario stays text', async () => {
    const expected = planOf(hostile);
    await withPage(hostile, {}, async (page) => {
        const path = pathTo(expected, (step) => step.kind === 'try') || [0, 0];
        for (const go of [() => {}, () => answer(page, path), () => page.locator('#whole').click(),
            () => page.locator('.cell').nth(8).click()]) {
            await go();
            const found = await page.evaluate(() => ({
                taken: window.taken,
                scripts: document.scripts.length,
                odd: document.querySelectorAll('img, iframe, object, embed, link, base, form, main b b, [onclick], [onload], [onerror]').length,
                links: [...document.links].filter((link) => !link.getAttribute('href').startsWith('#')).length,
                title: document.title
            }));
            assert.deepEqual(found, {
                taken: undefined, scripts: 2, odd: 0, links: 0,
                title: '<img src=x onerror=alert(1)>: which lead goes where'
            });
        }
        assert.equal(await page.locator('h1').textContent(), '<img src=x onerror=alert(1)>');
        const text = await page.locator('body').innerText();
        for (const words of ['</p></header><script>window.taken = 1</script> & "quotes" \'single\' <b>bold</b>',
            '<svg onload=alert(2)>', '<iframe src=//example.org>', '&lt;blue&amp;', '</script><script>window.taken=4</script>']) {
            assert.ok(text.includes(words), words);
        }
        const log = await page.locator('#log').inputValue();
        writeFileSync('pages/hostile-copied.yaml', log);
        const next = spawnSync(process.env.HUBPHASE,
            ['next', 'pages/hostile.yaml', '--log', 'pages/hostile-copied.yaml', '--json'], { encoding: 'utf8' });
        assert.equal(next.status, 0, next.stderr);
    });
});
