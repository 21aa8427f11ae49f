/* The plans of docs/teaching.md walked through on the wall, key by key and with a clock. Each section's keys are
   pressed as the page has them; after each the wall stands where the page says, and none does nothing. What was
   shown is talk, at so many words a minute; guesses and looks take what the page says of them, slow motion what the
   wall shows. A section fits its minutes, and the table of all this on the page is what was measured: with TELL=1
   it is printed. Run by tool.sh, after wall.test.mjs. */
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { after, test } from 'node:test';
import { browser } from './tool.mjs';
import { calm, closeWalls, goTo, press, scenes, withWall, wordsNow } from './wall.mjs';

after(() => browser.close());

const page = readFileSync(process.env.TEACHING, 'utf8');
const machines = ['barrow', 'trike'];
const wordsAMinute = 130;

/* ---- what the page says ------------------------------------------------------------------------- */

const sectionOf = (heading) => page.split(/^## /m).find((text) => text.startsWith(`${heading}\n`));
const rowsOf = (text) => text.split('\n').filter((line) => line.startsWith('| ')).map((line) => line.split('|').slice(1, -1).map((cell) => cell.trim()));
const countWords = (text) => text.split(/\s+/).filter(Boolean).length;
/* The titles of the scenes by their numbers. */
const titles = new Map(rowsOf(sectionOf('Walked through with the clock')).filter(([number]) => /^[1-9]$/.test(number)));
const quotedWords = (text) => [...text.matchAll(/"([^"]*)"/g)].reduce((sum, [, words]) => sum + countWords(words), 0);

/* Minutes that the clock counts for what is no talk, by how the page calls it. */
const clock = new Map(rowsOf(sectionOf('How a scene goes')).filter(([, minutes]) => /^[\d.]+$/.test(minutes)).map(([what, minutes]) => [what, Number(minutes)]));

function minutesFor(what) {
    assert.ok(clock.has(what), `the page does not say how long it takes: ${what}`);
    return clock.get(what);
}

/* Of a section: the keys in order, and what then is so: "`→` look", "`↑` 6 times step", "`→` on to usual idea". */
function stepsOf(cell) {
    const [once, each] = cell.split(/;?\s*each group:\s*/);
    const parse = (text) => (text === '-' ? [] : text.split(/;\s*/).map((item) => {
        const found = item.match(/^((?:`[^`]+`(?:-| number )?\s*)+)(?:(\d+) times )?(on to )?(.+)$/);
        assert.ok(found, `no key and what it does: ${item}`);
        return { keys: [...found[1].matchAll(/`([^`]+)`/g)].map(([, key]) => key), times: Number(found[2] || 1), onTo: Boolean(found[3]), then: found[4] };
    }));
    return { once: once ? parse(once) : [], each: each ? parse(each) : [] };
}

function planOf(heading) {
    return rowsOf(sectionOf(heading)).filter(([at]) => /^\d:\d\d$/.test(at)).map(([at, minutes, scene, happens, keys, say]) => ({
        plan: heading, at, minutes: Number(minutes), scene, happens, ...stepsOf(keys), said: quotedWords(say)
    }));
}

const plans = ['Sixty minutes', 'Twenty minutes'].map(planOf);

/* What a leader says of how people guess. */
const rounds = ['Whole round', 'Vote, neighbour', 'Show of hands', 'Each group'];

function minutesOfGuess({ happens, each }, groups) {
    const round = rounds.find((name) => happens.startsWith(name));
    return round ? minutesFor(round) * (each.length ? groups : 1) : 0;
}

/* ---- what the answers and the bench card say ---------------------------------------------------- */

const handout = (machine, name) => readFileSync(`walls/${machine}/${name}.html`, 'utf8');

/* Per group the wirings of its work sheet with what the leader's page says of them. */
const groupsOf = (machine) => handout(machine, 'answers').split(/>Group \d+ of \d+, [^<]*work sheet</).slice(1)
    .map((text) => [...text.matchAll(/>\d\. Wiring (\d+): ([^<]*)</g)].map(([, number, told]) => ({ number: Number(number), told })));

/* ---- what the wall shows ------------------------------------------------------------------------ */

const headings = { guess: 'Guess first', look: 'Now look', answer: 'The answer', sentences: 'What it shows', 'usual idea': 'Many people think', cautions: 'Before anybody touches a hub' };
const names = { '→': 'ArrowRight', '←': 'ArrowLeft', '↑': 'ArrowUp', '↓': 'ArrowDown', '−': '-', Space: ' ' };

/* The words of a page that can be read aloud. */
const readable = () => [...document.querySelectorAll('#words p, #words .choice > span:not(.hands), #wall .cautions li')].map((one) => one.innerText.replace(/[“”]/g, ''));

const look = (own) => own.evaluate(() => ({
    words: (document.querySelector('#words') || document.querySelector('#wall')).innerText, title: document.querySelector('#title').innerText,
    place: document.querySelector('#place').innerText, bar: document.querySelector('#keys').innerText, picture: (document.querySelector('#picture') || { innerHTML: '' }).innerHTML,
    wall: document.querySelector('#wall').className, hands: [...document.querySelectorAll('.hands')].map((one) => parseInt(one.textContent, 10))
}));

/* Whether the picture changes by itself: in several frames, and in the time of several moments of the slowest motion. */
const runs = (own) => own.evaluate(() => new Promise((done) => {
    const pictureNow = () => (document.querySelector('#picture') || { innerHTML: '' }).innerHTML;
    const first = pictureNow();
    const begun = performance.now();
    let frames = 0;
    const wait = () => {
        frames += 1;
        if (pictureNow() !== first) {
            done(true);
        } else if (frames > 8 && performance.now() - begun > 250) {
            done(false);
        } else {
            requestAnimationFrame(wait);
        }
    };
    requestAnimationFrame(wait);
}));

const secondsShown = (place) => Number((place.match(/slower: (\d+)\s*s/) || [0, NaN])[1]);
const choicesShown = (own) => own.locator('#words .choice').count();

/* What the page's words for it mean on the wall, beside the headings: before the key and after it. */
const meanings = {
    hands: async (own, before, now) => assert.deepEqual(now.hands, Array(await choicesShown(own)).fill(1 + (before.hands[0] || 0))),
    stands: async (own) => assert.ok(!await runs(own), 'it does not stand'),
    step: async (own, before, now) => assert.ok(now.picture !== before.picture && !await runs(own), 'no step, or it runs'),
    turned: async (own, before, now) => assert.notEqual(now.picture, before.picture),
    sorted: async (own, before, now) => assert.notEqual(now.picture, before.picture),
    faster: async (own, before, now) => assert.ok(secondsShown(now.place) < secondsShown(before.place)),
    called: async (own, before, now, { number }) => {
        assert.ok(now.words.startsWith(headings.guess) && now.words.includes(`beside wiring ${number},`), now.words);
        assert.ok(/ two$/.test(now.wall), now.wall);
    }
};

/* ---- walking ------------------------------------------------------------------------------------ */

/* One walk of one plan on one wall. */
class Walk {
    constructor(own, machine) {
        Object.assign(this, { own, machine, pressed: 0, groups: groupsOf(machine), used: new Set([0]) });
    }

    async key(key) {
        /* What moves by itself has not been moved by the key: by steps it stands, and by the space bar it stands or goes. */
        const state = async () => ({ ...await look(this.own), runs: key === 'Space' && await runs(this.own) });
        const before = await state();
        await press(this.own, names[key] || key);
        this.pressed += 1;
        const now = await state();
        const kept = key === 'Space' ? ['runs'] : /^[\u2191\u2193]$/.test(key) ? ['picture'] : ['words', 'place', 'title', 'bar'];
        assert.ok(kept.some((one) => now[one] !== before[one]), `${key} does nothing`);
    }

    async listen() {
        for (const text of await this.own.evaluate(readable)) {
            if (!this.heard.has(text)) {
                this.heard.add(text);
                this.spoken += countWords(text);
            }
        }
    }

    async heading() {
        const words = await this.own.evaluate(wordsNow);
        return Object.keys(headings).find((name) => words.startsWith(headings[name])) || words.slice(0, 40);
    }

    /* A look lasts until it is left. */
    async leaveLook() {
        if (await this.heading() === 'look') {
            const { place } = await look(this.own);
            const seconds = secondsShown(place);
            this.looked += Number.isNaN(seconds) ? minutesFor('look where nothing runs') : seconds / 60;
        }
    }

    async step({ keys, times, onTo, then }, called) {
        const before = await look(this.own);
        if (keys.some((key) => ['→', 'N', 'Z', 'A'].includes(key))) {
            await this.leaveLook();
        }
        for (let k = 0; k < times; k++) {
            if (then === 'hands') {
                for (let hand = 1; hand <= await choicesShown(this.own); hand++) {
                    await this.key(String(hand));
                }
            } else if (then === 'called') {
                await this.key(keys[0]);
                await this.own.keyboard.type(String(called.number));
                this.pressed += String(called.number).length;
                await press(this.own, keys[1]);
                await this.own.waitForFunction((text) => document.querySelector('#words').innerText.includes(text), `beside wiring ${called.number},`);
                await calm(this.own);
                this.pressed += 1;
            } else if (onTo) {
                do {
                    await this.key(keys[0]);
                    await this.listen();
                } while (await this.heading() === 'sentences');
            } else {
                for (const key of keys) {
                    await this.key(key);
                }
            }
        }
        await this.listen();
        const now = await look(this.own);
        if (headings[then]) {
            assert.equal(await this.heading(), then);
        } else {
            assert.ok(meanings[then], `nobody knows what this means: ${then}`);
            await meanings[then](this.own, before, now, called);
        }
        if (then === 'look' && !Number.isNaN(secondsShown(now.place))) {
            assert.ok(await runs(this.own), 'slow motion does not run');
        }
    }

    /* A wiring of this group's sheet that was not up yet; and what the wall says of it is what the leader's page says. */
    calledBy(group) {
        const line = group.find(({ number }) => !this.used.has(number));
        this.used.add(line.number);
        return line;
    }

    async section(section) {
        Object.assign(this, { heard: new Set(), spoken: section.said, looked: 0, pressed: 0 });
        for (const step of section.once) {
            await this.step(step);
        }
        if (section.each.length) {
            assert.equal(this.groups.length, 4);
        }
        for (const group of section.each.length ? this.groups : []) {
            const called = this.calledBy(group);
            for (const step of section.each) {
                await this.step(step, called);
            }
            await this.sameAsAnswers(called);
        }
        const shown = await look(this.own);
        if (section.scene === '-') {
            assert.ok(!section.once.length || section.once.at(-1).then === 'cautions', 'which scene is it?');
        } else {
            assert.ok(shown.place.endsWith(`${section.scene} of ${scenes.length}`), `the wall is at ${shown.place}`);
            assert.equal(shown.title, titles.get(section.scene));
        }
        return { keys: this.pressed, talk: this.spoken / wordsAMinute, guess: minutesOfGuess(section, this.groups.length), look: this.looked };
    }

    async sameAsAnswers({ number, told }) {
        const words = (await this.own.evaluate(wordsNow)).replaceAll('\u00a0', ' ');
        const sentence = words.split('\n').find((line) => line.startsWith(`Wiring ${number} `) && / A[,.]/.test(line));
        assert.ok(sentence, words);
        const [amperes] = told.match(/[\d.]+ A/);
        assert.ok(sentence.includes(` ${amperes}`), `${sentence} / ${told}`);
        const smooth = { correct: 'smoothly forward', reverse: 'smoothly backward', rough: 'rough', stalled: 'does not get round' };
        assert.ok(sentence.includes(smooth[told.split(',')[0]]), `${sentence} / ${told}`);
    }
}

const measured = new Map();

for (const machine of machines) {
    for (const plan of plans) {
        test(`${plan[0].plan} with the ${machine}, key by key: the wall stands where the page says, and each section fits`, async () => {
            await withWall(machine, {}, async (own) => {
                const walk = new Walk(own, machine);
                const late = [];
                for (const section of plan) {
                    const where = `${section.plan}, ${section.at}, ${machine}`;
                    const row = await walk.section(section).catch((reason) => {
                        reason.message = `${where}: ${reason.message}`;
                        throw reason;
                    });
                    const together = row.talk + row.guess + row.look;
                    if (together > section.minutes) {
                        late.push(`${where}: ${together.toFixed(1)} of ${section.minutes} minutes`);
                    }
                    measured.set(`${section.plan} ${section.at} ${machine}`, row);
                }
                assert.deepEqual(late, []);
            });
        });
    }
}

/* ---- the page's table --------------------------------------------------------------------------- */

const pairOf = (values) => [...new Set(values)].join(' / ');

function tableOf(plan) {
    const lines = ['| at | scene | keys | talk | guess | look | sum | of |', '|---|---|---|---|---|---|---|---|'];
    const sums = machines.map(() => ({ keys: 0, talk: 0, guess: 0, look: 0 }));
    const cells = (list, together, minutes) => [pairOf(list.map(({ keys }) => keys)), ...['talk', 'guess', 'look'].map((what) => pairOf(list.map((one) => one[what].toFixed(1)))), together.toFixed(1), minutes];
    const all = ({ talk, guess, look: looked }) => talk + guess + looked;
    for (const section of plan) {
        const list = machines.map((machine) => measured.get(`${section.plan} ${section.at} ${machine}`));
        list.forEach((one, k) => Object.keys(sums[k]).forEach((what) => { sums[k][what] += one[what]; }));
        lines.push(`| ${[section.at, section.scene, ...cells(list, Math.max(...list.map(all)), section.minutes)].join(' | ')} |`);
    }
    lines.push(`| ${['all', '-', ...cells(sums, Math.max(...sums.map(all)), plan.reduce((sum, { minutes }) => sum + minutes, 0))].join(' | ')} |`);
    return lines;
}

test('the page’s tables are what was measured', () => {
    const told = sectionOf('Walked through with the clock').replace(/ +/g, ' ');
    const tables = plans.map((plan) => tableOf(plan).join('\n'));
    if (process.env.TELL) {
        console.log(tables.join('\n\n'));
    }
    tables.forEach((table) => assert.ok(told.includes(table), `the page has it otherwise; measured:\n${table}`));
});

/* ---- what else the page ties together ----------------------------------------------------------- */

test('the seconds beside the pace are those that pass', async () => {
    await withWall('barrow', {}, async (own) => {
        await goTo(own, 'One place off', 'Now look');
        let seconds = 100;
        while (seconds > 12) {
            await press(own, '+');
            seconds = secondsShown(await own.locator('#place').innerText());
        }
        /* The line in the curve goes from 0 to 300 in these seconds. */
        const [first, last, passed] = await own.evaluate(() => new Promise((done) => {
            const at = () => Number(document.querySelector('.curves .moment').getAttribute('x1'));
            const wait = () => {
                if (at() > 30) {
                    requestAnimationFrame(wait);
                    return;
                }
                const begun = performance.now();
                const from = at();
                setTimeout(() => requestAnimationFrame(() => done([from, at(), (performance.now() - begun) / 1000])), 2000);
            };
            wait();
        }));
        const measuredSeconds = 300 / (last - first) * passed;
        assert.ok(Math.abs(measuredSeconds - seconds) < 0.15 * seconds + 0.5, `${measuredSeconds.toFixed(1)} s pass, ${seconds} s are shown`);
    });
});

test('limits of the cautions are the bench card’s and the wall’s; the card fits a sheet', async () => {
    const cautions = sectionOf('Cautions for a room full of people');
    const [, card] = cautions.match(/\(([\d.]+) A for the barrow\)/);
    const [, wall] = cautions.match(/Scene 7\s+says less \(([\d.]+) A\)/);
    assert.ok(handout('barrow', 'bench-card').includes(`limited to ${card} A`), card);
    for (const machine of machines) {
        assert.ok(handout(machine, 'bench-card').split('<div class="page">').length - 1 <= 2, machine);
    }
    await withWall('barrow', {}, async (own) => {
        await goTo(own, 'The trap', 'What it shows');
        assert.ok((await own.evaluate(wordsNow)).replaceAll('\u00a0', ' ').includes(`set the supply to ${wall} A`), wall);
    });
});

test('the leader’s six-step table is what scene 1 shows', async () => {
    for (const machine of machines) {
        const told = [...handout(machine, 'answers').matchAll(/>([01]{3})<\/text>\s*<text[^>]*>[UVW]\+ [UVW]- ([^<,]+), ([^<]+)</g)].map(([, ...row]) => row.map((one) => one.trim()).join(' '));
        assert.equal(told.length, 6);
        await withWall(machine, {}, async (own) => {
            await goTo(own, 'Turn it by hand', 'Now look');
            const seen = new Set();
            for (let k = 0; k < 60; k++) {
                const [, code, high, low] = (await own.locator('#picture .readout').innerText()).match(/code ([01]{3})\s+(.+) to plus\s+(.+) to minus/);
                seen.add(`${code} ${high} ${low}`);
                await own.keyboard.press('ArrowUp');
            }
            assert.deepEqual([...seen].sort(), told.sort(), machine);
        });
    }
});

test('nothing was fetched, and no page complained', closeWalls);
