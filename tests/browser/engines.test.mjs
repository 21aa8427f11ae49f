/* The page in three engines: it opens from disk under its policy without a complaint, says what the program
   says, takes an answer, loses nothing by a reload, surveys, draws. Run by tool.sh. */
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { test } from 'node:test';
import { casePage } from './case_page.mjs';
import { complaintsAtLoad } from './engine_webkit.mjs';
import { missing, names, until, withEngine } from './engines.mjs';

const address = casePage('plain.yaml');

/* What the program prints of the same scenario, and of a log. */
function program(...words) {
    const run = spawnSync(process.env.HUBPHASE, words, { encoding: 'utf8', cwd: 'pages' });
    assert.equal(run.status, 0, run.stderr);
    return run.stdout;
}

/* Without where lines end, and the mark that a command goes on in the next one. */
const inOneLine = (text) => text.replace(/[\s\\]+/g, ' ').trim();

/* These run in the page. */
const headingOf = () => { const heading = document.querySelector('#step h2'); return heading && heading.textContent; };
const adviceText = () => [...document.querySelectorAll('#step pre')].map((element) => element.textContent)[0];
const squares = () => { const cells = [...document.querySelectorAll('.cell')].map((cell) => cell.textContent); return cells.length && cells; };
const figures = () => document.querySelectorAll('#map .picture svg[role=img] path, #map .picture svg[role=img] polyline').length;
const logText = () => [...document.querySelectorAll('#files pre')].map((element) => element.textContent)[0];
const isAsked = (text) => document.getElementById('question') && document.getElementById('question').textContent.includes(text);

async function answerPins(view) {
    for (const [question, word] of [['all three pairs', 'Yes'], ['to the axle', 'No'], ['to a Hall lead', 'No'], ['Is that what', 'Yes, write it down']]) {
        await until(view, question, isAsked, question);
        await view.click('button', word);
    }
}

for (const name of names) {
    test(`the page in ${name}`, { skip: missing(name), timeout: 60000 }, async () => {
        const json = JSON.parse(program('next', 'plain.yaml', '--json'));
        await withEngine(name, async (engine) => {
            const began = Date.now();
            const view = await engine.open(address);
            assert.equal(await until(view, 'the first step', headingOf), `Step 1. ${json.advice.title}`);
            console.log(`${name}: the first step stood there ${Date.now() - began} ms after the page was asked for`);
            /* The page's lines are as wide as its screen. */
            assert.equal(inOneLine(await view.evaluate(adviceText)), inOneLine(program('next', 'plain.yaml')));

            await answerPins(view);
            const second = await until(view, 'the second step', () => {
                const heading = document.querySelector('#step h2').textContent;
                return heading.startsWith('Step 2. ') && heading;
            });
            await view.click('button', 'Files');
            const log = await until(view, 'the log', logText);
            writeFileSync(`pages/${name}.bench.yaml`, log);
            const next = JSON.parse(program('next', 'plain.yaml', '--log', `${name}.bench.yaml`, '--json'));
            assert.equal(second, `Step 2. ${next.advice.title}`);

            await view.reload();
            assert.equal(await until(view, 'the step after the reload', headingOf), second);
            await view.click('button', 'Files');
            assert.equal(await until(view, 'the log after the reload', logText), log);

            await view.click('button', 'Map');
            const survey = JSON.parse(program('survey', 'plain.yaml', '--json', '--quiet'));
            const said = await until(view, 'the map', squares);
            assert.equal(said.length, 36);
            survey.wirings.forEach(({ number, verdict }, k) => assert.match(said[k], new RegExp(`\\b${number}\\b.*${verdict}`, 's')));
            await view.click('button', 'Wiring 12');
            await until(view, 'wiring 12', () => document.getElementById('chosen') !== null);
            await view.click('button', 'Where the field stands');
            assert.ok(await until(view, 'a picture', figures) > 3);
            await view.screenshot(`pages/${name}.png`);
            assert.deepEqual(await view.complaints(), []);
            console.log(`${name}: ${((Date.now() - began) / 1000).toFixed(1)} s in all`);
        });
    });
}

test('webkit has nothing to complain of while the page loads', { skip: missing('webkit'), timeout: 60000 }, async () => {
    /* A page that does complain, to hear that complaints are heard, refusals of a policy, too. */
    writeFileSync('pages/complains.html', `<!DOCTYPE html><meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src 'unsafe-inline'">` +
        '<title>complains</title><img src="https://example.org/refused.png"><script>setTimeout(() => console.warn("this is heard"), 500)</script>');
    const complains = pathToFileURL('pages/complains.html').href;
    const told = await complaintsAtLoad(process.env.WEBKIT, [address, complains], 'this is heard', 3000);
    assert.ok(told && told.some((line) => line.includes('refused.png')), `what is heard: ${told}`);
    assert.deepEqual(told.filter((line) => !line.includes('refused.png')), []);
});
