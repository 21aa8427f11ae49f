/* The map of the 36 wirings, simulated here and now, and what changes when something else is changed. */
const map = (function () {
    const ways = {forward: '\u2192', backward: '\u2190', both: '\u2194'};
    const orders = [[0, 1, 2], [0, 2, 1], [1, 0, 2], [1, 2, 0], [2, 0, 1], [2, 1, 0]];
    const none = {};
    /* Surveys by what was changed: the same one is not run twice. */
    let surveys = new Map();
    let opened = null;
    let changes = none;
    let chosen = null;

    /* Pictures that have a place of their own. */
    const placed = new Set(['map', 'lead-angle', 'joints']);

    const marked = (what) => JSON.stringify(what);
    const sheet = () => dom.byId('map');

    /* For those who hear the page, and for those who see it. */
    const hidden = (text) => dom.make('span', {class: 'unseen'}, text);
    const shown = (text) => dom.make('span', {'aria-hidden': 'true'}, text);

    /* ---- squares -------------------------------------------------------------------------------- */

    function square(one, before) {
        const {number, verdict} = one;
        const other = before && before.verdict !== verdict;
        return dom.make('button', {
            type: 'button', class: `cell ${verdict}${other ? ' other' : ''}`, tabindex: number === (chosen || 1) ? '0' : '-1',
            'aria-current': number === chosen ? 'true' : null, 'data-number': String(number),
            onclick: () => choose(number)
        }, dom.make('b', {}, hidden('Wiring '), String(number)), dom.make('span', {}, shown(`${moment.signs[verdict]} `), verdict),
        verdict === 'rough' ? dom.make('span', {}, hidden(`${one.kind ? `, field too ${one.kind}` : ''}, ${one.direction}`), shown(`${one.kind || ''} ${ways[one.direction] || ''}`)) : null,
        other ? hidden(`, was ${before.verdict}`) : null);
    }

    function walk(event) {
        const steps = {ArrowRight: 1, ArrowLeft: -1, ArrowDown: 6, ArrowUp: -6};
        const cells = [...sheet().querySelectorAll('.cell')];
        const to = cells[cells.indexOf(event.target) + steps[event.key]];
        if (to) {
            event.preventDefault();
            cells.forEach((cell) => {
                cell.tabIndex = cell === to ? 0 : -1;
            });
            to.focus();
        }
    }

    const names = (leads, order) => order.map((k) => leads[k].label);

    function grid(list, first) {
        const {phase, sensor} = held.machine.leads;
        const parts = orders.map((order) => dom.make('div', {class: 'heads', 'aria-hidden': 'true'},
            ...names(phase, order).map((name) => dom.make('span', {}, name))));
        list.forEach((one, k) => {
            if (k % 6 === 0) {
                parts.push(dom.make('div', {class: 'row-head'}, names(sensor, orders[k / 6]).join(', ')));
            }
            parts.push(square(one, first ? first[k] : null));
        });
        return dom.make('div', {class: 'map', role: 'group', 'aria-label': 'The 36 wirings', onkeydown: walk}, parts);
    }

    /* ---- what is changed ------------------------------------------------------------------------ */

    const valueOf = (key) => {
        const found = held.parameters.find((one) => one.key === key);
        return found ? found.number !== null && found.number !== undefined ? found.number : found.value : null;
    };

    const state = (key) => (key in changes ? changes[key] : null);

    function set(key, text) {
        const next = {...changes};
        if (text === null || String(valueOf(key)) === text) {
            delete next[key];
        } else {
            next[key] = text;
        }
        changes = next;
        show(false);
    }

    function range(key, title, unit, low, high, step) {
        const usual = valueOf(key);
        const now = state(key) === null ? usual : state(key);
        const id = `change-${key}`;
        const shown = dom.make('output', {for: id, class: 'unit'}, `${now}\u00a0${unit}`);
        return dom.make('div', {class: 'field'}, dom.make('label', {for: id}, title), dom.make('input', {
            type: 'range', id, min: String(low), max: String(high), step: String(step), value: String(now),
            oninput: (event) => {
                shown.textContent = `${event.target.value}\u00a0${unit}`;
            },
            onchange: (event) => set(key, event.target.value)
        }), shown);
    }

    function faults() {
        const {phase, sensor} = held.machine.leads;
        const list = [['', 'none'], ...phase.map(({axis, label}) => [`motor.open_lead=${axis}`, `phase lead ${label} is open`]),
            ...sensor.flatMap(({axis, label}) => [['stuck_high', 'always reads 1'], ['stuck_low', 'always reads 0'], ['inverted', 'reads the wrong way round']]
                .map(([word, text]) => [`sensors.faults.${axis}=${word}`, `Hall sensor ${label} ${text}`]))];
        const isFault = (key) => key === 'motor.open_lead' || key.startsWith('sensors.faults.');
        const now = Object.entries(changes).filter(([key]) => isFault(key)).map((pair) => pair.join('='))[0] || '';
        return dom.make('div', {class: 'field'}, dom.make('label', {for: 'change-fault'}, 'A faulty part'), dom.make('select', {
            id: 'change-fault', onchange: (event) => {
                const [key, word] = event.target.value.split('=');
                changes = {...Object.fromEntries(Object.entries(changes).filter(([name]) => !isFault(name))), ...(word ? {[key]: word} : {})};
                show(false);
            }
        }, list.map(([value, text]) => dom.make('option', {value, selected: value === now}, text))));
    }

    function whatIf() {
        const volts = valueOf('supply.battery_v') || 36;
        const count = Object.keys(changes).length;
        return dom.fold('What if ...', count > 0, range('controller.throttle_percent', 'Throttle', '%', 5, 100, 5),
            range('supply.battery_v', 'Battery', 'V', Math.ceil(volts / 3), Math.ceil(volts * 2), 1), faults(),
            dom.button('As it was', () => {
                changes = none;
                show(false);
            }, {disabled: !count}));
    }

    /* Names that nobody has put on their axes: by them nothing can be joined. */
    const onlyNames = () => (held.machine.leads_known ? null
        : dom.make('p', {class: 'told'}, 'Which lead is U, V or W is not known yet. The map shows what would happen if each lead were what its place in the scenario says: to learn from, not to join by. Bench finds the leads.'));

    /* How many of each verdict, before and now. */
    function counts(list, first) {
        const of = (all, verdict) => all.filter((one) => one.verdict === verdict).length;
        return dom.make('ul', {class: 'key'}, Object.keys(moment.signs).filter((verdict) => of(list, verdict) || (first && of(first, verdict)))
            .map((verdict) => dom.make('li', {}, dom.make('span', {class: `badge ${verdict}`}, `${moment.signs[verdict]} ${verdict}`),
                first ? ` ${of(list, verdict)}, was ${of(first, verdict)}` : ` ${of(list, verdict)}`)));
    }

    /* ---- one wiring ----------------------------------------------------------------------------- */

    const number = (value) => (value === null || value === undefined ? '-' : dom.figure(value, Math.abs(value) < 0.005 ? 0 : Math.max(0, 2 - Math.floor(Math.log10(Math.abs(value))))));

    function figures(one, before) {
        const rows = [['Wheel speed', 'wheel_speed_rpm', 'rev/min'], ['Battery current', 'battery_current_a', 'A'],
            ['Peak phase current', 'phase_peak_a', 'A'], ['Mean torque', 'torque_mean_nm', 'N\u00a0m'],
            ['Takes this many times the power it needs', 'current_excess', '']];
        const head = before ? dom.make('thead', {}, dom.make('tr', {}, dom.make('td', {}), dom.make('th', {scope: 'col'}, 'now'), dom.make('th', {scope: 'col'}, 'was'))) : null;
        const cell = (all, [, key]) => dom.make('td', {}, number(all[key]));
        return dom.make('table', {class: 'figures'}, head, dom.make('tbody', {}, rows.map((row) =>
            dom.make('tr', {}, dom.make('th', {scope: 'row'}, row[0], row[2] ? `, ${row[2]}` : ''), cell(one, row), before ? cell(before, row) : null)),
        dom.make('tr', {}, dom.make('th', {scope: 'row'}, 'Start positions'), dom.make('td', {}, `${one.starts} of ${one.starts_tried}`),
            before ? dom.make('td', {}, `${before.starts} of ${before.starts_tried}`) : null)));
    }

    /* The neighbour in which two leads have changed places. */
    function swapped(at, row, a, b) {
        const order = [...orders[row ? Math.floor((at - 1) / 6) : (at - 1) % 6]];
        [order[a], order[b]] = [order[b], order[a]];
        const place = orders.findIndex((one) => one.every((lead, k) => lead === order[k]));
        return row ? 6 * place + (at - 1) % 6 + 1 : 6 * Math.floor((at - 1) / 6) + place + 1;
    }

    function swaps(at) {
        const {phase, sensor} = held.machine.leads;
        const pairs = [[0, 1], [1, 2], [0, 2]];
        const of = (leads, row) => pairs.map(([a, b]) => {
            const order = orders[row ? Math.floor((at - 1) / 6) : (at - 1) % 6];
            return dom.button(`${leads[order[a]].label} and ${leads[order[b]].label}`, () => choose(swapped(at, row, a, b)));
        });
        return [dom.make('p', {}, 'Let two phase leads change places:'), dom.make('div', {class: 'row'}, of(phase, false)),
            dom.make('p', {}, 'Let two Hall leads change places:'), dom.make('div', {class: 'row'}, of(sensor, true))];
    }

    /* All that the library draws of this: the question that each answers is its button. `given`: what is there
       to draw from. */
    function more(given, wiring) {
        const place = dom.make('div', {});
        const list = held.about.pictures.filter(({name, needs}) => !placed.has(name) && needs.every((one) => given.includes(one)) &&
            (wiring ? needs.length : !needs.includes('wiring')));
        return dom.fold(wiring ? 'More pictures of this wiring' : 'Pictures of all 36', false, dom.make('ul', {class: 'said'}, list.map(({name, question}) => {
            const button = dom.button(question, async () => {
                button.disabled = true;
                const reply = await held.work({do: 'picture', name, shape: 'phone', changes, ...(wiring ? {wiring: String(wiring)} : {})});
                const figure = reply ? dom.picture(reply.svg, reply.alt) : null;
                if (figure) {
                    place.append(figure, dom.make('div', {class: 'row'}, dom.button('Download the picture',
                        () => files.download(`${files.base()}-${name}.svg`, reply.svg, 'image/svg+xml'))));
                    figure.scrollIntoView({block: 'nearest'});
                }
            });
            return dom.make('li', {}, button);
        })), place);
    }

    /* `smooth`: a correct one to stand beside it, or undefined. */
    function pictures(at, smooth) {
        const place = dom.make('div', {});
        const wanted = [['lead-angle', 'Where the field stands'], ['waveforms', 'Currents and torque'], ['beside', 'Beside a smooth one']];
        const add = async (name, title) => {
            const reply = await held.work({do: 'picture', name, shape: 'phone', wiring: String(at), changes});
            const figure = reply ? dom.picture(reply.svg, reply.alt) : null;
            place.append(...[dom.make('h4', {}, title), figure].filter(Boolean));
        };
        return [dom.make('div', {class: 'row'}, wanted.map(([name, title]) => {
            const button = dom.button(title, () => {
                button.disabled = true;
                add(name, title);
            });
            return button;
        }), dom.button('Slow motion', () => {
            motion.choose(smooth && smooth !== at ? [at, smooth] : [at], changes);
            held.go('motion');
        })), place, more(['wiring'], at)];
    }

    async function choose(at) {
        chosen = at;
        await show(false);
        const heading = sheet().querySelector('#chosen');
        if (heading) {
            heading.focus({preventScroll: true});
            heading.scrollIntoView({block: 'start'});
        }
    }

    async function detail(list, first) {
        const one = list[chosen - 1];
        const before = first ? first[chosen - 1] : null;
        const text = dom.make('div', {});
        const place = dom.make('section', {class: 'card'},
            dom.make('h3', {id: 'chosen', tabindex: '-1'}, `Wiring ${chosen}: ${one.verdict}`, one.kind ? `, field too ${one.kind}` : ''),
            dom.make('p', {class: 'soft'}, `Hall leads ${one.sensors.join(', ')}; phase leads ${one.phases.join(', ')}. ${dom.sentence(one.reason)}`),
            figures(one, before), text, ...pictures(chosen, (list.find(({verdict}) => verdict === 'correct') || {}).number), ...swaps(chosen));
        const why = await held.work({do: 'explain', wiring: String(chosen), changes});
        if (why) {
            text.replaceChildren(dom.make('p', {}, why.sentences),
                dom.fold('Step by step', false, dom.make('pre', {tabindex: '0'}, why.text)));
        }
        return place;
    }

    /* ---- all of it ------------------------------------------------------------------------------ */

    async function survey(what) {
        const name = marked(what);
        if (!surveys.has(name)) {
            const reply = await held.work({do: 'survey', changes: what});
            if (!reply) {
                return null;
            }
            surveys.set(name, reply);
        }
        return surveys.get(name).json.wirings;
    }

    /* As `hubphase survey` prints it. */
    const table = (what) => dom.fold('As a table, and the result in words', false, dom.make('pre', {class: 'wide', tabindex: '0'}, surveys.get(marked(what)).text));

    async function show(fresh) {
        if (held.state.scenario === null) {
            sheet().replaceChildren(dom.make('p', {}, 'There is no machine yet.'));
            return;
        }
        if (opened !== held.key) {
            opened = held.key;
            surveys = new Map();
            changes = none;
            chosen = null;
        }
        const asked = changes;
        const first = await survey(none);
        const list = first && await survey(asked);
        if (!list || asked !== changes) {
            return;
        }
        const was = list === first ? null : first;
        const extra = chosen ? [await detail(list, was)] : [];
        if (asked !== changes) {
            return;
        }
        sheet().replaceChildren(...[dom.make('h2', {tabindex: '-1'}, 'The 36 wirings'),
            dom.make('p', {}, 'Each square is one way to join the leads, simulated on the lifted wheel. Across: phase leads; down: Hall leads. Arrows: which way a rough one turns. Tap one.'),
            onlyNames(), counts(list, was), whatIf(), grid(list, was), ...extra, more(['survey'], null), table(asked)].filter(Boolean));
        if (fresh) {
            dom.say('The 36 wirings are there.');
        }
    }

    /* ": rough", where the map has it already. */
    function told(number, what) {
        const list = opened === held.key ? surveys.get(marked(what)) : null;
        return list ? `: ${list.json.wirings[number - 1].verdict}` : '';
    }

    /* The machine is another one now. */
    function forget() {
        opened = null;
    }

    return {show, told, forget};
}());
