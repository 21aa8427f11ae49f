/* Holds the case in hand: its texts, what the browser keeps of them, what the library said of them.
   Begins the page and goes from one of its parts to another. */
const held = (function () {
    const fresh = () => ({
        form: 1, name: '', scenario: null, log: null, without: [], seen: [], draft: null, told: null, titles: [], time: '',
        values: null, edits: {}
    });
    let state = fresh();
    let key = null;
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

    /* Local time with its offset, as the log writes it. */
    function now() {
        const time = new Date();
        const two = (number) => String(number).padStart(2, '0');
        const offset = -time.getTimezoneOffset();
        const away = Math.abs(offset);
        return `${time.getFullYear()}-${two(time.getMonth() + 1)}-${two(time.getDate())}` +
               `T${two(time.getHours())}:${two(time.getMinutes())}:${two(time.getSeconds())}` +
               `${offset < 0 ? '-' : '+'}${two(Math.floor(away / 60))}:${two(away % 60)}`;
    }

    /* ---- keeping -------------------------------------------------------------------------------- */

    function save() {
        if (!key) {
            return;
        }
        state.time = now();
        const kept = keep.write(key, state);
        dom.byId('unkept').hidden = kept;
    }

    const isState = (kept) => Boolean(kept) && kept.form === 1 && typeof kept.scenario === 'string' &&
        typeof kept.name === 'string' && ['without', 'seen', 'titles'].every((list) => Array.isArray(kept[list])) &&
        (kept.log === null || typeof kept.log === 'string');

    const isDraft = (draft) => Boolean(draft) && typeof draft.kind === 'string' && Array.isArray(draft.order) &&
        Boolean(draft.values) && typeof draft.values === 'object' && typeof draft.note === 'string' &&
        (draft.number === null || typeof draft.number === 'number');

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
       part of the page that waits for it, while the others go on. */
    async function work(request, {judged = false, words = '', aside = null} = {}) {
        const wait = {words, aside, due: false};
        waits = [...waits, wait];
        showPatience();
        const timer = setTimeout(() => {
            wait.due = true;
            showPatience();
        }, 700);
        try {
            const reply = await (aside ? face.askAside(request) : face.ask(request));
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
        : {do: 'open', name: state.name, scenario: state.scenario, log: state.log, table, without: state.without});

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
        ({machine, parameters, entries} = reply);
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
        const before = {state, key};
        state = {...fresh(), ...next};
        if (!isDraft(state.draft)) {
            state.draft = null;
        }
        key = itsKey;
        if (!await open(logName)) {
            if (before.key) {
                ({state, key} = before);
            }
            await go('files');
            return;
        }
        save();
        if (isTool) {
            keep.write('last', key);
        }
        await go(without ? 'map' : 'bench');
        if (without) {
            complain('There is no advice for this machine, but the map and the rest are there.', [without]);
        }
    }

    const keyOf = (scenario, log) => keep.mark(`${scenario}\n\n${log || ''}`);

    /* New texts; what is kept of the same texts goes on. `values`: of the form that made the scenario. */
    function begin(name, scenario, log, logName, values) {
        const itsKey = keyOf(scenario, log);
        const kept = keep.read(itsKey);
        return take(isState(kept) ? kept : {name, scenario, log, values: values || null}, itsKey, logName);
    }

    /* The case in hand with its scenario or log said otherwise; where they cannot be opened, it stays as it
       was, and the reader has been told why. */
    async function restate(texts) {
        const before = state;
        state = {...state, draft: null, told: null, ...texts};
        if (!await open()) {
            state = before;
            return;
        }
        state.edits = {};
        map.forget();
        save();
        await go(without ? 'map' : 'bench');
    }

    /* ---- parts of the page ---------------------------------------------------------------------- */

    const parts = ['bench', 'map', 'motion', 'papers', 'files', 'start'];

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
        const show = {bench: bench.show, map: map.show, motion: motion.show, papers: papers.show, files: files.show, start: start.show};
        await show[part](true);
    }

    /* Another window changed what is kept. */
    function hearOthers(event) {
        if (key && event.key === keep.named(key) && event.newValue) {
            const kept = keep.read(key);
            if (isState(kept) && (kept.log !== state.log || kept.scenario !== state.scenario)) {
                state = {...fresh(), ...kept};
                open().then((fine) => fine && document.body.dataset.part === 'bench' && bench.show(false));
            }
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
        run, go, begin, take, restate, ready, work, save, now, complain, textsOf, isState,
        get state() { return state; },
        get key() { return key; },
        get machine() { return machine; },
        get parameters() { return parameters; },
        get about() { return about; },
        get entries() { return entries; },
        set entries(list) { entries = list; }
    };
}());
