/* Hidden machines, led to their correct wiring: what the advice says is done at the machine of
   tests/hidden_bench, and what was seen there is answered.

     node hidden.mjs SURFACE COUNT [FAMILY CASE]

   SURFACE is "face" (the library's face, natively) or "page" (taps in a browser). The machines are spread
   over the families with one nuisance at a time; a family and a case tell that one as a story. In the
   environment: PERSON, the program hidden_person; FACE, the program hubphase_face; PAGE, an empty page;
   CHROMIUM. The status is 1 when the page offered no fitting answer, or ended without a reason, or when more
   machines than one in fifty came to a wrong end. */
import { talkTo } from './lines.mjs';
import { answerTo, seenIn } from './person.mjs';

const stepsMost = 60;

/* {end, powered, steps, why}: what came of one machine. */
async function lead(bench, surface, family, index, tell) {
    const drawn = await bench.ask({ do: 'draw', family, case: index });
    await surface.begin(drawn.scenario);
    for (let steps = 0; steps < stepsMost; steps++) {
        const advice = await surface.advice();
        const done = await bench.ask({ do: 'step', advice });
        tell(`${advice.title}\n${done.entry || ''}`);
        if (done.error) {
            throw new Error(done.error);
        }
        if (done.entry === null) {
            return { end: done.ending, powered: done.powered, steps, reason: advice.reason };
        }
        const seen = seenIn(done.entry);
        const put = new Set();
        const misfit = await surface.write(seen.kind, (question) => {
            put.add(question.key.split('.')[0]);
            const text = answerTo(question, seen.values);
            tell(`    ${question.text} ${text === null ? 'NONE FITS' : text}`);
            return text;
        });
        /* What did not move started from none: that need not be asked. */
        const unasked = Object.keys(seen.values).filter((key) => !put.has(key.split('.')[0]) && !(key === 'starts' && seen.values[key] === '0'));
        if (misfit) {
            return { end: 'fell_off', powered: 0, steps, why: misfit };
        }
        if (unasked.length) {
            tell(`    not asked: ${unasked.join(', ')}`);
        }
        unasked.forEach((key) => missed.set(`${seen.kind} ${key}`, (missed.get(`${seen.kind} ${key}`) || 0) + 1));
    }
    return { end: 'none', powered: 0, steps: stepsMost };
}

/* What was seen and the form did not ask for, and how often. */
const missed = new Map();

const [where, count, onlyFamily, onlyCase] = process.argv.slice(2);
const { open } = await import(where === 'face' ? './surface_face.mjs' : './surface_page.mjs');
const bench = talkTo(process.env.PERSON);
const surface = await open();
const { families } = await bench.ask({ do: 'list' });
/* For another drive than the usual one the likelihoods are simulated first, for a minute: not here. */
const alone = families.map((family, k) => ({ ...family, number: k + 1 })).filter(({ alone: one, plain_drive: plain }) => one && plain);
const ends = {};
const powered = [];
const taps = [];
let failed = 0;
let wrong = 0;
const began = Date.now();
if (onlyFamily) {
    console.log(await lead(bench, surface, Number(onlyFamily), Number(onlyCase), console.log));
} else {
    for (let k = 0; k < Number(count); k++) {
        const family = alone[k % alone.length];
        const index = Math.floor(k / alone.length);
        const before = surface.taps();
        const one = await lead(bench, surface, family.number, index, () => {});
        ends[one.end] = (ends[one.end] || 0) + 1;
        powered.push(one.powered);
        taps.push(surface.taps() - before);
        if (!['right', 'probably'].includes(one.end)) {
            console.log(`family ${family.number} (${family.name}) case ${index}: ${one.end}${one.why ? `, ${one.why}` : ''}`);
        }
        wrong += ['false_done', 'false_probably', 'good_part', 'gave_up_on', 'stopped'].includes(one.end) ? 1 : 0;
        failed += one.end === 'fell_off' || one.end === 'none' || (one.end !== 'fell_off' && !one.reason) ? 1 : 0;
    }
    const mean = (list) => (list.reduce((sum, value) => sum + value, 0) / list.length).toFixed(1);
    console.log(`${count} machines through the ${where}: ${Object.entries(ends).map(([end, times]) => `${end} ${times}`).join(', ')}; ` +
        `powered trials ${mean(powered)}, taps ${mean(taps)} on average; ${((Date.now() - began) / 1000).toFixed(0)} s`);
    [...missed].forEach(([key, times]) => console.log(`seen and not asked for: ${key}, ${times} times`));
}
bench.end();
await surface.end();
process.exitCode = failed || wrong > 1 + Number(count) / 50 ? 1 : 0;
