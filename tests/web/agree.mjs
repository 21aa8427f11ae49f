/*
 * The library as WebAssembly against the same library natively: the same requests give the same
 * answers. Logs are made by answering the forms at random, scenarios by drawing what is asked for first.
 *
 *   node agree.mjs HUBPHASE_FACE hubphase.wasm library.js LOGS SCENARIOS [SEED]
 *
 * Texts, verdicts, bytes of logs and of likelihood tables are the same, and so is every number that is
 * simulated. Numbers of an advice are within 1e-9 of each other (relative, or absolute below 1): their
 * logarithms come from two C libraries. Exit status 1 when more differs. At the end it says how far
 * numbers differed, and the processor time that both took.
 */
import { spawn } from "node:child_process";
import { readFileSync } from "node:fs";
import { createInterface } from "node:readline";

const [, , native, wasm, script, logs, scenarios, seed = "1"] = process.argv;
const source = "data:text/javascript;base64," + readFileSync(script).toString("base64");
const { openLibrary } = await import(source);

const TOLERANCE = 1e-9;
/* What only a simulation gives. */
const SIMULATED = new Set(["survey", "explain", "trace", "table", "picture", "compose", "lesson", "amend", "spread", "controls"]);
/* One drawn scenario in so many has its likelihood table built too. */
const TABLE_EVERY = 20;
/* ... and makes an evening, the first among them. */
const LESSON_EVERY = 10;
/* One in so many is surveyed as two motors a little different, and its controls are tried. */
const SPREAD_EVERY = 4;

/* ---- the two --------------------------------------------------------------------------------- */

const child = spawn(native, { stdio: ["pipe", "pipe", "inherit"] });
const lines = createInterface({ input: child.stdout })[Symbol.asyncIterator]();
const library = await openLibrary(readFileSync(wasm));
const took = { native: {}, wasm: {} };

/* Processor time [ms]; the native one in ticks of ten, which add up. */
function nativeTime() {
    const stat = readFileSync(`/proc/${child.pid}/stat`, "utf8").split(") ")[1].split(" ");
    return 10 * (Number(stat[11]) + Number(stat[12]));
}
function ownTime() {
    const used = process.cpuUsage();
    return (used.user + used.system) / 1000;
}

async function both(request) {
    const text = JSON.stringify(request), kind = request.do;
    const started = nativeTime();
    child.stdin.write(text + "\n");
    const here = await lines.next();
    took.native[kind] = (took.native[kind] ?? 0) + (here.done ? 0 : nativeTime() - started);
    const before = ownTime();
    const there = library.callText(text);
    took.wasm[kind] = (took.wasm[kind] ?? 0) + ownTime() - before;
    if (here.done)
        throw new Error("the native face ended at " + text);
    const answer = JSON.parse(here.value);
    if (here.value !== there)
        compare(answer, JSON.parse(there), kind, text);
    return answer;
}

/* ---- comparing ------------------------------------------------------------------------------- */

const counted = {};
let failures = 0, numbers = 0, farthest = 0, farthestAt = "nowhere";

function differ(path, a, b, request) {
    counted[path.replace(/\.\d+/g, ".N")] = (counted[path.replace(/\.\d+/g, ".N")] ?? 0) + 1;
    if (++failures <= 10)
        console.error(`${path}: native ${JSON.stringify(a)?.slice(0, 400)}, WebAssembly ${JSON.stringify(b)?.slice(0, 400)}\n    at ${request.slice(0, 4000)}`);
}

function compare(a, b, path, request) {
    if (typeof a === "number" && typeof b === "number") {
        const off = Math.abs(a - b) / Math.max(1, Math.abs(a));
        if (off > farthest)
            [farthest, farthestAt] = [off, path];
        if (!(off <= (SIMULATED.has(path.split(".")[0]) ? 0 : TOLERANCE)))
            differ(path, a, b, request);
    } else if (a && b && typeof a === "object" && typeof b === "object") {
        const names = new Set([...Object.keys(a), ...Object.keys(b)]);
        for (const name of names)
            compare(a[name], b[name], `${path}.${name}`, request);
    } else if (a !== b) {
        differ(path, a, b, request);
    }
}

/* ---- chance ---------------------------------------------------------------------------------- */

/* Mulberry32: small, and the same everywhere. */
let state = Number(seed) >>> 0;
function chance() {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
}
const pick = (list) => list[Math.floor(chance() * list.length)];
const between = (low, high) => low + (high - low) * chance();
const three = () => [0, 0, 0].map(() => (chance() < 0.5 ? "0" : "1")).join("");

function number(q) {
    if (q.open && chance() < 0.1)
        return "open";
    /* Small ones mostly, as meters show. */
    const span = Math.min(q.max - q.min, pick([0.5, 5, 50, 500]));
    const value = Math.min(q.max, Math.max(q.min, 0) + span * chance());
    return q.whole ? String(Math.min(q.max, Math.round(value) + (q.above ? 1 : 0))) : value.toPrecision(3);
}

const ANSWERS = {
    number, whole: number, pair: number, code: three,
    codes: () => Array.from({ length: 1 + Math.floor(chance() * 9) }, three).join(" "),
    wiring: () => String(1 + Math.floor(chance() * 36)),
    row: (q, names) => (chance() < 0.1 ? "off" : [...names].sort(() => chance() - 0.5).slice(0, 2).join(" > ")),
    pin: () => String(1 + Math.floor(chance() * 99)),
    words: () => Array.from({ length: 1 + Math.floor(chance() * 3) }, () => `${pick(["red", "black", "b2"])}=${pick(["0", "4.96", "0.8/4.2"])}`).join(pick([" ", ", "])),
};

/* ---- logs ------------------------------------------------------------------------------------ */

let minute = 0;
function time() {
    minute++;
    return new Date(Date.UTC(2026, 10, 29, 8) + 60000 * minute).toISOString().slice(0, 19) + "+00:00";
}

/* Answers a form until nothing is asked any more. */
async function fill(kind, names) {
    const values = {};
    for (let round = 0; round < 20; round++) {
        const form = await both({ do: "form", kind, values });
        const open = form.questions.filter((q) => !(q.key in values) && (q.required || chance() < 0.7));
        if (!open.length)
            break;
        for (const q of form.questions)
            if (!(q.key in values))
                values[q.key] = open.includes(q) ? (q.choices ? pick(q.choices).word : (ANSWERS[q.type] ?? ANSWERS.words)(q, names)) : "";
    }
    return values;
}

async function entry(kinds, names) {
    const advice = await both({ do: "advice", columns: pick([79, 60, 100]), why: pick([false, true]) });
    if (!advice.ok)
        return;
    const kind = advice.form && chance() < 0.6 ? advice.form.kind : pick(kinds);
    const values = await fill(kind, names);
    await both({ do: "answer", kind, values, time: time(), note: chance() < 0.2 ? "\u00e4 note: # 'x'" : "", typical: chance() < 0.3 });
}

const MACHINE = "hubphase: 1\nname: Drawn\nmotor: {magnets: 46, resistance_between_leads_ohm: 0.2, no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}}\n";

async function oneLog(kinds) {
    const stand = chance() < 0.2 ? "bench: {meters: {ammeter: no}, first_power: lamp}\n" : "";
    const opened = await both({ do: "open", name: "drawn.yaml", scenario: MACHINE + stand });
    const names = opened.machine.leads.output.map((lead) => lead.label);
    const entries = 1 + Math.floor(chance() * 8);
    for (let k = 0; k < entries; k++)
        await entry(kinds, names);
    const last = await both({ do: "advice" });
    let log = null;
    const count = last.json.log.entries.length;
    if (count > 0)
        ({ log } = await both({ do: "drop", number: 1 + Math.floor(chance() * count), time: time() }));
    if (chance() < 0.1)
        await both({ do: "sheet" });
    if (last.connect)
        await both({ do: "picture", name: "connect", shape: pick(["phone", "wall", "a4"]) });
    if (log) {
        await both({ do: "compare", then: log });
        await spoilt(MACHINE + stand, log);
    }
}

/* ---- texts that are wrong -------------------------------------------------------------------- */

/* Cut, doubled, or with characters changed, some of which no file should hold. */
const ODD = ["\u0001", "\u00e9", "\u{1f6b2}", "\u202e", ":", "-", "{", "}", "[", "\"", "#", "\n", "\t", " ", "&a", "*a", "!x", "%", "9", "e", "36,5"];
function spoil(text) {
    for (let k = Math.floor(chance() * 4); k >= 0; k--) {
        const at = Math.floor(chance() * text.length), length = Math.floor(chance() * 12);
        text = pick([
            () => text.slice(0, at) + pick(ODD) + text.slice(at + 1),
            () => text.slice(0, at) + text.slice(at + length),
            () => text.slice(0, at) + text.slice(at, at + length) + text.slice(at),
        ])();
    }
    return text;
}

async function spoilt(scenario, log) {
    await both({ do: "open", name: "spoilt.yaml", scenario: spoil(scenario), log });
    await both({ do: "amend", values: stated() });
    await both({ do: "open", name: "spoilt.yaml", scenario, log: spoil(log) });
}

/* Keys of the form, some of them taken out, some that are no key or no value. */
function stated() {
    const some = {
        "fuse.rated_a": pick(["20", "17.5", ""]), "supply.battery_v": pick(["36", "48.5", "36 V", ""]), "vehicle.tyre": pick(["47-559", "26 inch"]),
        "controller.speed_steps_percent": pick([["50", "100"], ["0"], ""]), "controls.brake.switch": pick(["none", "normally_open"]),
        "name": pick(["a: b # c", "\u00e4", ""]), "pack.colour": "red", "vehicle.ride": [pick(["500 m at 6 %", "500 m"])],
    };
    return Object.fromEntries(Object.entries(some).filter(() => chance() < 0.3));
}

/* ---- scenarios ------------------------------------------------------------------------------- */

async function oneScenario(number) {
    const geared = chance() < 0.3;
    const made = await both({
        do: "compose", name: `drawn-${number}.yaml`, values: {
            name: `Drawn ${number}`,
            "motor.pole_pairs": String(Math.round(between(4, 30))),
            "motor.resistance_between_leads_ohm": between(0.05, 0.6).toPrecision(3),
            "motor.inductance_between_leads_mh": between(0.1, 1.2).toPrecision(3),
            "motor.no_load_speed_rpm_at_v.speed_rpm": between(150, 400).toPrecision(3),
            "motor.no_load_speed_rpm_at_v.volts": between(24, 60).toPrecision(3),
            "motor.backemf.shape": pick(["trapezoidal", "sinusoidal"]),
            "sensors.placement_error_deg.U": between(-6, 6).toPrecision(2),
            "sensors.placement_error_deg.V": between(-6, 6).toPrecision(2),
            "controller.throttle_percent": between(20, 100).toPrecision(3),
            "supply.battery_v": between(24, 60).toPrecision(3),
            "stand.gear_ratio": geared ? between(3, 5).toPrecision(3) : "1",
            "stand.clutch": geared && chance() < 0.5 ? "yes" : "no",
            "motor.rotor_inertia_kg_m2": geared ? "0.001" : "",
            "sensors.faults.U": chance() < 0.1 ? "stuck_high" : "",
            "run.starts": "2",
            "run.seconds": "1",
        },
    });
    if (!made.ok)
        throw new Error("a drawn scenario is wrong: " + JSON.stringify(made.problems));
    await both({ do: "open", name: `drawn-${number}.yaml`, scenario: made.scenario });
    await both({ do: "amend", values: stated() });
    const survey = await both({ do: "survey" });
    numbers += survey.json.wirings.length * Object.values(survey.json.wirings[0]).filter(Number.isFinite).length;
    const wiring = 1 + Math.floor(chance() * 36);
    await both({ do: "explain", wiring });
    const traced = await both({ do: "trace", wiring, start_deg: Math.floor(chance() * 360), points: 500 });
    numbers += Object.values(traced).flat(2).filter(Number.isFinite).length;
    /* A drawn machine may have no wiring that runs: then both say so. */
    if (number % LESSON_EVERY === 1)
        await both({ do: "lesson", left: wiring, right: 37 - wiring, fault: number % 3 });
    if (number % SPREAD_EVERY === 1) {
        await both({ do: "spread", motors: 2, seed: Math.floor(chance() * 1e6) });
        await both({ do: "controls", wiring });
    }
    if (number % TABLE_EVERY === 0)
        await both({ do: "table" });
}

/* ---- practice -------------------------------------------------------------------------------- */

/* A hidden machine that is asked at random, to the end. */
async function oneEvening(number) {
    const begun = await both({ do: "practise", level: ["sound", "fault", "slip"][number % 3], seed: number + 1, time: time() });
    for (let k = 0; k < 5; k++) {
        const { kind, by_lead: byLead, trial } = pick(begun.choices);
        await both({
            do: "practise_take", kind, time: time(), ...(byLead ? { lead: pick(begun.leads.phase) } : {}),
            ...(trial ? { wiring: String(1 + Math.floor(chance() * 36)), feed: pick(begun.feeds).feed } : {}),
        });
    }
    await both({ do: "practise_hint" });
    await both({ do: "practise_drop", number: 2, time: time() });
    await both({ do: "practise_end", claim: "wiring", wiring: String(1 + Math.floor(chance() * 36)) });
}

/* ---- all ------------------------------------------------------------------------------------- */

const about = await both({ do: "about" });
await both({ do: "essentials" });
await both({ do: "sort", text: "# mine\nhubphase_log: 1\n" });
const kinds = about.kinds.map((kind) => kind.kind);
for (let k = 0; k < Number(logs); k++)
    await oneLog(kinds);
for (let k = 0; k < Number(scenarios); k++)
    await oneScenario(k + 1);
for (let k = 0; k < Math.min(60, Number(logs)); k++)
    await oneEvening(k);
child.stdin.end();
console.log(`${logs} logs, ${scenarios} scenarios with ${numbers} simulated numbers: ${failures} differences; ` +
    `the farthest two numbers ${farthest.toExponential(1)} apart (${farthestAt})`);
for (const path of Object.keys(counted))
    console.log(`    ${path}: ${counted[path]}`);
console.log("processor time:");
for (const kind of Object.keys(took.wasm))
    if (took.native[kind] > 100)
        console.log(`    ${kind}: native ${(took.native[kind] / 1000).toFixed(2)} s, WebAssembly ${(took.wasm[kind] / 1000).toFixed(2)} s, ` +
            `${(took.wasm[kind] / took.native[kind]).toFixed(2)} times`);
process.exit(failures ? 1 : 0);
