/* Holds the case in hand: its texts, what the browser keeps of them, what the library said of them.
   Begins the page and goes from one of its parts to another. */
const held = (function () {
    const fresh = () => ({
        form: 1, name: '', scenario: null, log: null, seen: [], draft: null, told: null, titles: [], time: '', edits: {}
    });
    let state = fresh();
    let key = null;
    /* The texts as they were read or written last: another window may write others meanwhile. */
    let known = null;
    /* What another window wrote meanwhile, in words. */
    let news = '';
    let isKept = keep.works();
    /* Texts that are in a file, too. */
    const filed = new Set();
    let machine = null;
    let parameters = [];
    let entries = [];
    let about = {kinds: []};
    let table = null;
    /* What is worked on, oldest first: {words, aside, due}. */
    let waits = [];
    let isTool = false;
    let wantsTable = false;
    /* The table of likelihoods while it is built, or null. */
    let building = null;
    /* What the page came with. */
    const given = JSON.parse(dom.byId('case').textContent);
    /* Why there is no advice for this scenario, or null. */
    let without = null;
    /* Which of its numbers make it slow to simulate, or null. */
    let slow = null;

    /* Local time with its offset, as the log writes it. */
    function now(time = new Date()) {
        const two = (number) => String(number).padStart(2, '0');
        const offset = -time.getTimezoneOffset();
        const away = Math.abs(offset);
        return `${time.getFullYear()}-${two(time.getMonth() + 1)}-${two(time.getDate())}` +
               `T${two(time.getHours())}:${two(time.getMinutes())}:${two(time.getSeconds())}` +
               `${offset < 0 ? '-' : '+'}${two(Math.floor(away / 60))}:${two(away % 60)}`;
    }

    /* ---- keeping -------------------------------------------------------------------------------- */

    const textsIn = ({log, scenario}) => ({log, scenario});
    const isSame = (one, other) => one.log === other.log && one.scenario === other.scenario;

    /* What each window has half said, without those named and with what this one has now. */
    function draftsWith(drafts, gone) {
        const others = Object.entries(drafts || {}).filter(([name]) => name !== keep.me && name !== gone);
        const own = state.draft && !state.draft.idle ? [[keep.me, {...state.draft, time: now()}]] : [];
        return Object.fromEntries([...others, ...own]);
    }

    /* What another window wrote is never written over: then what is half said here is kept beside it.
       `gone`: the window whose half entry goes on here. */
    function save(gone = null) {
        if (!key) {
            return;
        }
        state.time = now();
        state.answers = entries.length;
        const kept = keep.read(key);
        const there = isState(kept) ? kept : null;
        const behind = there && known && !isSame(there, known);
        const {draft, ...rest} = behind ? there : state;
        if (!behind) {
            known = textsIn(state);
        }
        isKept = keep.write(key, {...rest, drafts: draftsWith(there && there.drafts, gone)});
        dom.byId('unkept').hidden = isKept;
    }

    /* What would be lost with the page: nothing of it is kept, and it is in no file. */
    const wouldLose = () => !isKept && (start.isBegun() || Boolean(state.draft && !state.draft.idle) ||
        Object.values(state.edits || {}).some(Boolean) || [state.scenario, state.log].some((text) => text && !filed.has(text)));

    function askBeforeLeaving(event) {
        if (wouldLose()) {
            event.preventDefault();
            event.returnValue = ''; /* for browsers of before 2024 */
        }
    }

    const isState = (kept) => Boolean(kept) && kept.form === 1 && typeof kept.scenario === 'string' &&
        typeof kept.name === 'string' && ['seen', 'titles'].every((list) => Array.isArray(kept[list])) &&
        (kept.log === null || typeof kept.log === 'string');

    const isDraft = (draft) => Boolean(draft) && typeof draft.kind === 'string' && Array.isArray(draft.order) &&
        Boolean(draft.values) && typeof draft.values === 'object' && typeof draft.note === 'string' &&
        (draft.number === null || typeof draft.number === 'number') && (!draft.under || isDraft(draft.under));

    /* [window, what is half said]: this window's own, or else the newest that one has left. */
    function halfSaid({draft, drafts}) {
        const all = Object.entries(drafts || {}).filter(([, one]) => isDraft(one));
        const newest = () => all.sort(([, one], [, next]) => (one.time < next.time ? 1 : -1))[0];
        return all.find(([name]) => name === keep.me) || newest() || [null, isDraft(draft) ? draft : null];
    }

    /* ---- asking, with patience shown ------------------------------------------------------------ */

    function complain(title, problems) {
        const place = dom.byId('trouble');
        place.replaceChildren(dom.make('h2', {}, title), ...problems.map((text) => dom.make('pre', {}, text)),
            dom.button('Close', () => place.replaceChildren()));
        place.scrollIntoView({block: 'nearest'});
    }

    const textsOf = (reply) => (reply.problems || []).map(({text, show}) => show || text).filter(Boolean);

    const setBusy = (element, on) => (on ? element.setAttribute('aria-busy', 'true') : element.removeAttribute('aria-busy'));

    /* What waits aside holds up its own part of the page alone. */
    function showPatience() {
        const due = waits.filter((wait) => wait.due);
        const named = due.find(({words}) => words);
        dom.byId('waiting').textContent = named ? named.words : 'Working it out';
        dom.byId('patience').hidden = !due.length;
        if (!due.length) {
            dom.byId('progress').removeAttribute('value');
        }
        setBusy(document.body, waits.some(({aside}) => !aside));
        parts.forEach((part) => setBusy(dom.byId(part), waits.some(({aside}) => aside === part)));
    }

    /* The answer, or null when there is none: the reader has been told why. An answer with problems is
       handed on when `judged` says that the caller tells them. `words`: what the wait is for. `aside`: the
       part of the page that waits for it, while the others go on. A `request` that is a function asks itself. */
    async function work(request, {judged = false, words = '', aside = null} = {}) {
        const wait = {words, aside, due: false};
        waits = [...waits, wait];
        showPatience();
        const timer = setTimeout(() => {
            wait.due = true;
            showPatience();
        }, 700);
        try {
            const reply = await (typeof request === 'function' ? request() : aside ? face.askAside(request) : face.ask(request));
            if (reply.ok || judged) {
                return reply;
            }
            complain(reply.summary || 'That did not work.', textsOf(reply));
        } catch (reason) {
            if (reason.stopped) {
                complain('Stopped.', []);
            } else if (!reason.left) {
                complain('The program in this page fell over. Your log and scenario are kept. Please try again; if it ' +
                    'happens again, download them under Files.', [String(reason.crashed || reason.message || reason)]);
            }
        } finally {
            clearTimeout(timer);
            waits = waits.filter((one) => one !== wait);
            showPatience();
        }
        return null;
    }

    /* ---- opening -------------------------------------------------------------------------------- */

    const opening = () => (state.scenario === null ? null
        : {do: 'open', name: state.name, scenario: state.scenario, log: state.log, table});

    /* Opens what `state` holds, its log from a file of this name where it is given; gets the table of likelihoods where it is none that is shipped. */
    async function open(logName) {
        face.leave();
        table = keep.read(`${key} table`) || given.table || null;
        const reply = await work({...opening(), do: 'open', log_name: logName || null}, {judged: true});
        if (!reply || !reply.ok) {
            if (reply) {
                complain(reply.summary, textsOf(reply));
            }
            return false;
        }
        ({machine, parameters, entries, slow} = reply);
        dom.byId('machine').textContent = machine.name || state.name;
        document.title = `${machine.name || state.name}: which lead goes where`;
        document.body.classList.add('opened');
        without = reply.no_advice;
        wantsTable = reply.table === 'wanted';
        return true;
    }

    /* What motors like this one show is simulated once, before the first advice. False: not done, and the
       reader knows. */
    async function build() {
        const itsKey = key;
        const made = await work({do: 'table'}, {words: 'Simulating motors like this one, once', aside: 'bench'});
        if (!made || key !== itsKey) {
            return;
        }
        table = made.text;
        keep.write(`${key} table`, table);
        wantsTable = !await work(opening());
    }

    async function ready() {
        if (wantsTable) {
            building = building || build();
            await building;
            building = null;
        }
        return !wantsTable;
    }

    /* Takes up a case: texts that are new, or what is kept under a key. Where it cannot be opened, what
       was there stays, and the texts of the other are still where they came from. */
    async function take(next, itsKey, logName) {
        const before = {state, key, known};
        const [from, draft] = halfSaid(next);
        state = {...fresh(), ...next, draft};
        key = itsKey;
        known = null;
        news = '';
        if (!await open(logName)) {
            if (before.key) {
                ({state, key, known} = before);
            }
            await go('files');
            return;
        }
        dom.byId('trouble').replaceChildren(); /* what was said of an earlier try is settled */
        save(from);
        if (isTool) {
            keep.write('last', key);
        }
        /* Before the wait that it explains. */
        if (slow) {
            complain('This machine takes long to simulate, and runs that take too many steps are given up.', [slow.trim()]);
        }
        await go(without ? 'map' : 'bench');
        if (without) {
            complain('There is no advice for this machine, but the map and the rest are there.', [without]);
        }
    }

    const keyOf = (scenario, log) => keep.mark(`${scenario}\n\n${log || ''}`);

    /* Of a case that is kept: what it is called, and when it was worked on. */
    const describe = ({name, time, answers}) => `${name}, ${time.slice(0, 16).replace('T', ' ')}` +
        (answers ? `, ${answers} ${answers === 1 ? 'answer' : 'answers'}` : '');

    /* A name that no other case bears: "barrow.yaml" becomes "barrow-2.yaml". */
    function freeName(name) {
        const taken = new Set(keep.keys().map(keep.read).filter(isState).map((one) => one.name));
        const numbered = (number) => (number > 1 ? name.replace(/(\.ya?ml)?$/i, `-${number}$1`) : name);
        let number = 1;
        while (taken.has(numbered(number))) {
            number += 1;
        }
        return numbered(number);
    }

    /* Puts a question above the page; resolves with the value of the button that is tapped. */
    function choose(title, text, choices) {
        const place = dom.byId('trouble');
        return new Promise((resolve) => {
            const buttons = choices.map(([words, value, attributes]) => dom.button(words, () => {
                place.replaceChildren();
                resolve(value);
            }, attributes));
            place.replaceChildren(dom.make('div', {class: 'asked'}, dom.make('h2', {tabindex: '-1'}, title), dom.make('p', {}, text),
                dom.make('div', {class: 'row'}, buttons)));
            place.scrollIntoView({block: 'nearest'});
            place.querySelector('h2').focus({preventScroll: true});
        });
    }

    /* New texts. What is kept of the same texts goes on, unless somebody who `asks` for another machine says
       that this is one. `isComposed`: the scenario comes from the form, and is in no file. */
    async function begin(name, scenario, log, {logName = null, isComposed = false, asks = false} = {}) {
        const itsKey = keyOf(scenario, log);
        const kept = keep.read(itsKey);
        const goesOn = isState(kept);
        const isOther = asks && goesOn && (kept.log || '') !== (log || '') && await choose('Go on with what is there?',
            `The same was begun before: ${describe(kept)}. Go on with it, or is this another machine of the same sort?`,
            [['Go on with it', false, {class: 'main'}], ['It is another machine', true]]);
        if (!isComposed) {
            [scenario, log].filter(Boolean).forEach((text) => filed.add(text));
        }
        if (goesOn && !isOther) {
            await take(kept, itsKey, logName);
        } else {
            await take({name: isComposed || isOther ? freeName(name) : name, scenario, log},
                isOther ? keyOf(scenario, `${log || ''}\n${now()}`) : itsKey, logName);
        }
    }

    /* The case in hand with its scenario or log said otherwise; where they cannot be opened, it stays as it
       was, and the reader has been told why. */
    async function restate(texts) {
        if (await catchUp()) {
            await go('files');
            complain(`${news} Look at it, and say again what you want to change: what you typed is kept.`, []);
            return;
        }
        const before = state;
        const named = texts.scenario && state.log && !texts.log ? await work({do: 'rename', scenario: texts.scenario}) : {log: state.log};
        if (!named) {
            return;
        }
        state = {...state, told: null, log: named.log, ...texts};
        if (!await open()) {
            state = before;
            return;
        }
        dom.byId('trouble').replaceChildren();
        state.edits = {};
        map.forget();
        save();
        await go(without ? 'map' : 'bench');
    }

    /* ---- parts of the page ---------------------------------------------------------------------- */

    const parts = ['bench', 'map', 'motion', 'checks', 'papers', 'files', 'start', 'practise'];

    async function go(part) {
        parts.forEach((one) => {
            dom.byId(one).hidden = one !== part;
        });
        document.querySelectorAll('nav button').forEach((tab) => {
            if (tab.dataset.part === part) {
                tab.setAttribute('aria-current', 'page');
            } else {
                tab.removeAttribute('aria-current');
            }
        });
        document.body.dataset.part = part;
        const show = {bench: bench.show, map: map.show, motion: motion.show, checks: checks.show, papers: papers.show, files: files.show, start: start.show, practise: practise.show};
        await show[part](true);
    }

    /* ---- other windows -------------------------------------------------------------------------- */

    /* What another window wrote, beside what was there before. */
    function tell(before, scenario) {
        const isMore = entries.length > before.length && before.every(({words}, k) => entries[k].words === words);
        const count = entries.length - before.length;
        const what = scenario !== state.scenario ? 'changed what is said of the machine'
            : !isMore ? 'changed the answers'
                : count > 1 ? `wrote ${count} answers` : `wrote answer ${entries.length}: ${entries[entries.length - 1].words}`;
        return `Another window ${what}${what.endsWith('.') ? '' : '.'}` +
            (state.draft && !state.draft.idle ? ' What you have begun here is kept.' : '');
    }

    /* Takes up what another window wrote; what is half said here stays. False: none did. */
    async function catchUp() {
        const kept = key ? keep.read(key) : null;
        if (!isState(kept) || !known || isSame(kept, known)) {
            return false;
        }
        const {draft, edits, scenario} = state;
        const before = entries;
        state = {...fresh(), ...kept, draft, edits, told: null};
        known = textsIn(kept);
        await open();
        news = tell(before, scenario);
        save();
        return true;
    }

    function hearOthers(event) {
        const part = {bench, files}[document.body.dataset.part];
        if (key && event.key === keep.named(key)) {
            catchUp().then((fresher) => {
                if (fresher) {
                    dom.say(news);
                }
                return fresher && part ? part.show(false) : null;
            });
        }
    }

    async function run() {
        document.documentElement.classList.add('scripted');
        document.querySelectorAll('nav button').forEach((tab) => tab.addEventListener('click', () => {
            dom.byId('trouble').replaceChildren();
            go(tab.dataset.part);
        }));
        dom.byId('stop').addEventListener('click', face.stop);
        window.addEventListener('storage', hearOthers);
        window.addEventListener('beforeunload', askBeforeLeaving);
        face.opensWith(opening);
        face.listen((done, total) => {
            const bar = dom.byId('progress');
            bar.max = total;
            bar.value = done;
        });
        if (typeof WebAssembly === 'undefined' || typeof DecompressionStream === 'undefined') {
            complain('This browser is too old for this page: it takes one of 2023 or later.', []);
            return;
        }
        about = await work({do: 'about'}) || about;
        isTool = given.scenario === null;
        if (!isTool) {
            await begin(given.name, given.scenario, given.log);
            return;
        }
        const last = keep.read('last');
        const kept = typeof last === 'string' ? keep.read(last) : null;
        if (isState(kept)) {
            await take(kept, last);
        } else {
            await go('start');
        }
    }

    return {
        run, go, begin, take, restate, ready, work, save, catchUp, now, complain, textsOf, isState, describe,
        /* The text is in a file now. */
        isFiled: (text) => filed.add(text),
        get news() { return news; },
        set news(text) { news = text; },
        get state() { return state; },
        get key() { return key; },
        get machine() { return machine; },
        get parameters() { return parameters; },
        get about() { return about; },
        get entries() { return entries; },
        set entries(list) { entries = list; }
    };
}());
