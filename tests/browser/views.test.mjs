/* What is looked at: map, slow motion, papers, checks; in every width, light and dark, as text and nothing else. In
   Chromium; run by tool.sh. */
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { after, test } from 'node:test';
import { pathToFileURL } from 'node:url';
import axe from 'axe-core';
import { answerOne, browser, calm, downloaded, logOf, pageOf, standing, tap, withTool } from './tool.mjs';

const scenario = readFileSync('pages/plain.yaml', 'utf8');
const plain = pageOf('plain.yaml', scenario);
const hostile = pageOf('hostile.yaml', readFileSync('pages/hostile.yaml', 'utf8'));

after(() => browser.close());

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
    const program = (...words) => execFileSync(process.env.HUBPHASE, [...words, '--quiet'], { encoding: 'utf8', cwd: 'pages' }).trimEnd()
        /* The page has no options to name. */
        .replace(/:\n +--show-parameters says where it comes from/, '').replace('; --json has them', '');
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

test('the reason on the map is a sentence, and a figure keeps its unit on its line', async () => {
    await withTool(plain, {}, async (page) => {
        await tap(page, 'nav [data-part="map"]');
        await tap(page, '.cell[data-number="1"]');
        const said = (await page.locator('#map .card .soft').first().textContent()).replaceAll('\u00a0', ' ');
        assert.match(said, /\. Starts \d+ of \d+, takes [\d.]+ times the power it needs \(limit [\d.]+\)\.$/);
        assert.match(await page.locator('#map output').first().textContent(), /^\d+\u00a0%$/);
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

test('slow motion tells the field ahead or behind in the way in which the rotor turns, as the wall does and as it is drawn', async () => {
    const drawnAhead = () => {
        const angleOf = (x, y) => Math.atan2(100 - y, x - 100) * 180 / Math.PI;
        const north = document.querySelector('.dial .north');
        const [x, y] = document.querySelector('.dial .field-arrow').getAttribute('d').match(/L(-?[\d.]+),(-?[\d.]+)/).slice(1).map(Number);
        return angleOf(x, y) - angleOf(Number(north.getAttribute('x2')), Number(north.getAttribute('y2')));
    };
    await withTool(plain, {}, async (page) => {
        await tap(page, 'nav [data-part="motion"]');
        /* Correct, reverse, and one that turns backward and roughly. */
        for (const [number, sense] of [[1, 1], [15, -1], [4, -1]]) {
            await page.locator('select[aria-label="This one"]').selectOption(String(number));
            await calm(page);
            const ways = new Set();
            for (let k = 0; k < 12; k++) {
                const told = await page.locator('.moment-words dd').nth(4).textContent();
                if (told !== 'no current') {
                    const [, degrees, way, backward] = told.match(/^(\d+)\u00b0 (ahead(?= of)|behind(?= the))(?: of)? the rotor(, which turns backward)?$/);
                    assert.ok(degrees <= 180 && Boolean(backward) === sense < 0, `wiring ${number}: ${told}`);
                    const off = ((sense * await page.evaluate(drawnAhead) - (way === 'ahead' ? 1 : -1) * degrees) % 360 + 540) % 360 - 180;
                    assert.ok(Math.abs(off) < 1, `wiring ${number}: told ${told}, drawn ${off} further`);
                    ways.add(way);
                }
                /* Just after a jump, and where the field has come up to it. */
                for (const key of k % 2 ? ['ArrowUp'] : Array(15).fill('ArrowRight')) {
                    await page.keyboard.press(key);
                }
            }
            assert.ok(ways.has('ahead') && ways.has('behind') === (number === 4), `wiring ${number}: ${[...ways]}`);
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

test('whether the parts go together is told line by line, with its pictures', async () => {
    await withTool(plain, {}, async (page) => {
        await tap(page, 'nav [data-part="checks"]');
        await tap(page, '#check-fit');
        await tap(page, '#checks button:has-text("Work it out")');
        const lines = await page.locator('#checks .lines > li').allInnerTexts();
        assert.equal(lines.length, 22);
        assert.ok(!/not known Fuse\. Not stated: .*fuse\.rated_a/.test(lines.join('\n')), 'a key where nobody has seen one');
        assert.match(lines.join('\n'), /not known Fuse\. Not stated: [A-Z]/);
        const summary = await page.locator('#checks .result > p').first().innerText();
        const states = lines.map((one) => one.match(/^(STOP|LOOK|not known|ok)/)[1]);
        const order = ['STOP', 'LOOK', 'not known', 'ok'];
        assert.deepEqual(states, [...states].sort((a, b) => order.indexOf(a) - order.indexOf(b)), 'what needs somebody stands first');
        const counts = summary.replaceAll('\u00a0', ' ').match(/^(\d+) of 22 lines are ok, (\d+) to look at, (\d+) to stop for, (\d+) not known/).slice(1).map(Number);
        assert.deepEqual(counts, ['ok', 'LOOK', 'STOP', 'not known'].map((state) => states.filter((one) => one === state).length));
        assert.match(lines.join('\n'), /ok Speed on the level: battery full \d+/);
        assert.equal(await page.locator('#checks figure svg').count(), 2);
        assert.match(await page.locator('#checks pre').textContent(), /Sources/);
        const { width } = await page.locator('#checks .result').boundingBox();
        assert.ok(width <= page.viewportSize().width, 'no wider than the phone');
    });
});

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
