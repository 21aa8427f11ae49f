/* Log and scenario in and out: both are the files that the program reads and writes. */
const files = (function () {
    /* What the files of the machine in hand begin with: the name of its scenario. */
    const base = () => held.state.name.replace(/\.ya?ml$/i, '');
    const logName = () => `${base()}.bench.yaml`;

    function download(name, text, type) {
        const address = URL.createObjectURL(new Blob([text], {type}));
        const link = dom.make('a', {href: address, download: name});
        document.body.append(link);
        link.click();
        link.remove();
        setTimeout(() => URL.revokeObjectURL(address), 10000);
    }

    function canShare(file) {
        try {
            return Boolean(navigator.share && navigator.canShare && navigator.canShare({files: [file]}));
        } catch (problem) {
            return false;
        }
    }

    function share(name, text, type = 'text/plain') {
        const file = new File([text], name, {type});
        return canShare(file) ? dom.button('Share', () => navigator.share({files: [file], title: name}).catch(() => {})) : null;
    }

    /* ---- what is opened ------------------------------------------------------------------------- */

    const scenario = {id: 'scenario-in', words: 'Open a scenario', sort: 'scenario', ends: '.yaml'};
    const log = {id: 'log-in', words: 'Open a log', sort: 'log', ends: '.bench.yaml'};

    /* The file's text, or null when it holds none. */
    async function textOf(file) {
        try {
            const text = new TextDecoder('utf-8', {fatal: true}).decode(await file.arrayBuffer());
            return text.includes('\0') ? null : text;
        } catch (problem) {
            return null;
        }
    }

    /* Which button opens what was opened with the other. */
    function other(name, found) {
        if (found === scenario.sort) {
            return `${name} seems to be a scenario, not a log. Open it under Files with "${scenario.words}".`;
        }
        const first = held.state.scenario === null ? 'Open its scenario first, then this log' : 'Open it';
        return `${name} seems to be a log, not a scenario. ${first} under Files with "${log.words}".`;
    }

    /* Hands name and text on, or tells the reader why it does not. */
    async function open(one, file, take) {
        const text = await textOf(file);
        if (text === null) {
            held.complain(`${file.name} is no text file; a ${one.sort} ends in ${one.ends}.`, []);
            return;
        }
        const seems = await held.work({do: 'sort', text});
        if (seems && seems.sort && seems.sort !== one.sort) {
            held.complain(other(file.name, seems.sort), []);
        } else if (seems) {
            await take(file.name, text);
        }
    }

    const opener = (one, take) => {
        const field = dom.make('input', {
            type: 'file', id: one.id, accept: '.yaml,.yml,text/*', class: 'unseen', onchange: async () => {
                const [file] = field.files;
                field.value = ''; /* so that the same file can be opened again once it is mended */
                if (file) {
                    await open(one, file, take);
                }
            }
        });
        return dom.make('span', {}, field, dom.make('label', {for: one.id, class: 'button'}, one.words));
    };

    const openScenario = () => opener(scenario, (name, text) => held.begin(name, text, null, {asks: true}));
    const openLog = () => opener(log, (name, text) => held.begin(held.state.name, held.state.scenario, text, {logName: name, asks: true}));

    /* ---- what is shown -------------------------------------------------------------------------- */

    function text(title, name, what, ...more) {
        const content = held.state[what] || '';
        return dom.make('section', {}, dom.make('h3', {}, title), dom.make('p', {class: 'soft'}, name),
            dom.make('div', {class: 'row'}, dom.button('Download', () => {
                download(name, content, 'application/yaml');
                held.isFiled(content);
            }), share(name, content), ...more),
            dom.fold('Show it', false, dom.make('pre', {tabindex: '0'}, content)), content ? editor(title, what, content) : null);
    }

    /* The text changed by hand, as on a computer; what is typed is kept until it is used or given up. */
    function editor(title, what, content) {
        const {edits} = held.state;
        const begun = edits && typeof edits[what] === 'string' ? edits[what] : null;
        const field = dom.make('textarea', {
            'aria-label': title, rows: 12, spellcheck: false, autocapitalize: 'none', autocomplete: 'off', oninput: () => {
                held.state.edits = {...held.state.edits, [what]: field.value};
                held.save();
            }
        });
        field.value = begun === null ? content : begun;
        return dom.fold('Change it by hand', begun !== null, field, dom.make('div', {class: 'row'},
            dom.button('Use it so', () => held.restate({[what]: field.value}), {class: 'main'}),
            dom.button('As it was', () => {
                held.state.edits = {...held.state.edits, [what]: null};
                held.save();
                show();
            })));
    }

    /* Every figure that is reckoned with, the usual ones marked as such. */
    function figures() {
        const {parameters} = held;
        return parameters.length ? dom.fold('Every figure, and where it comes from', false, dom.make('dl', {}, parameters.flatMap(({key, value, origin, why}) =>
            [dom.make('dt', {}, `${key}: ${value}`), dom.make('dd', {class: 'soft'}, origin === 'scenario' ? 'from the scenario' : `${origin}: ${why}`)]))) : null;
    }

    /* All that this browser keeps, the newest first. */
    function keptList() {
        const list = keep.keys().map((key) => ({key, state: keep.read(key)}))
            .filter(({key, state}) => held.isState(state) && key !== held.key)
            .sort((a, b) => (a.state.time < b.state.time ? 1 : -1));
        return list.length ? dom.make('section', {}, dom.make('h3', {}, 'Others kept in this browser'), dom.make('ul', {}, list.map(({key, state}) =>
            dom.make('li', {}, `${held.describe(state)} `, dom.make('div', {class: 'row'},
                dom.button('Go on with it', () => held.take(state, key)),
                dom.button('Forget it', () => {
                    if (window.confirm('Forget this scenario and its log? Download them first if you may want them.')) {
                        keep.remove(key);
                        keep.remove(`${key} table`);
                        show();
                    }
                })))))) : null;
    }

    function show() {
        const {state} = held;
        const place = dom.byId('files');
        dom.byId('start').replaceChildren(); /* it opens scenarios by a field of the same name */
        const parts = state.scenario === null ? [] : [
            text('The log', logName(), 'log', openLog()),
            text('The scenario', state.name, 'scenario', dom.button('Change it, or say more about the machine', () => start.change())), figures()];
        place.replaceChildren(...[dom.make('h2', {tabindex: '-1'}, 'Files'),
            dom.make('p', {}, 'Log and scenario stay in this browser and nowhere else. Download them to keep them for good: the program on a computer reads the same files.'),
            ...parts, dom.make('section', {}, dom.make('h3', {}, 'Another machine'), dom.make('div', {class: 'row'},
                openScenario(), dom.button('Fill in a form', start.fill), dom.button('Practise on a hidden machine', () => held.go('practise')))), keptList(),
            dom.make('p', {class: 'soft'}, 'What only the program on a computer does: simulate every edge of the switching, write a survey as CSV or JSON, and pictures as PNG or PDF.'),
            dom.fold('Notices: who made what this page holds', false, dom.make('pre', {tabindex: '0', class: 'notices'}, dom.byId('notices').textContent))].filter(Boolean));
    }

    return {show, opener, openScenario, download, share, base, logName};
}());
