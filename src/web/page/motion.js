/* Slow motion: what a simulated run did, moment by moment, of one wiring or of two beside one another.
   Nothing moves by itself until it is asked to, and not at all for those who ask for less motion. */
const motion = (function () {
    let sides = [];
    let at = 0;
    let playing = null;
    let slow = 200;
    let wanted = {numbers: [1], changes: {}};
    /* Where the rotor rests at first, in electrical degrees, '' as the scenario says; and which part is shown. */
    let from = '';
    let part = 'end';

    function panel(side) {
        const {leads} = held.machine;
        const last = side.trace.time_s.length - 1;
        const k = Math.min(at, last);
        return dom.make('section', {class: 'card side'}, dom.make('h3', {}, `Wiring ${side.number}${map.told(side.number, wanted.changes)}`), moment.dial(side, k, leads),
            dom.make('dl', {class: 'moment-words'}, moment.words(side, k, leads).map(([name, text]) => [dom.make('dt', {}, name), dom.make('dd', {}, text)]).flat()),
            moment.strips(side, k, 'Currents [A]', side.trace.current_a, [0, 1, 2].map((lead) => moment.inkOf(leads, lead)), leads.phase.map(({label}) => label)), moment.strips(side, k, 'Pull [N m]', [side.trace.torque_nm], ['#111'], []));
    }

    /* ---- going on ------------------------------------------------------------------------------- */

    const length = () => Math.max(1, ...sides.map(({trace}) => trace.time_s.length));

    function redraw() {
        const place = dom.byId('sides');
        if (place) {
            place.replaceChildren(...sides.map(panel));
            dom.byId('moment').value = String(at);
        }
    }

    function move(by) {
        at = Math.min(length() - 1, Math.max(0, at + by));
        redraw();
    }

    /* To the next moment at which the controller drives another pair. */
    function nextStep(way) {
        move(moment.toNextStep(sides[0].trace, at, way));
    }

    function stop() {
        if (playing !== null) {
            playing.stop();
            playing = null;
            const button = dom.byId('play');
            if (button) {
                button.textContent = 'Play';
            }
        }
    }

    function play() {
        if (playing !== null) {
            stop();
            return;
        }
        dom.byId('play').textContent = 'Pause';
        playing = moment.clock(sides[0].trace, () => slow, (whole) => {
            if (dom.byId('motion').hidden) {
                stop();
                return false;
            }
            if (whole) {
                at = (at + whole) % length();
                redraw();
            }
            return true;
        });
    }

    function keys(event) {
        const actions = {ArrowRight: () => move(1), ArrowLeft: () => move(-1), ArrowUp: () => nextStep(1), ArrowDown: () => nextStep(-1)};
        if (actions[event.key] && sides.length && !dom.byId('motion').hidden && !['INPUT', 'SELECT', 'TEXTAREA'].includes(event.target.tagName)) {
            event.preventDefault();
            stop();
            actions[event.key]();
        }
    }

    document.addEventListener('keydown', keys);

    /* ---- choosing ------------------------------------------------------------------------------- */

    async function load(number, changes) {
        const trace = await held.work({do: 'trace', wiring: String(number), changes, points: 600, ...moment.parts[part], ...(from ? {start_deg: Number(from)} : {})});
        if (!trace) {
            return null;
        }
        return moment.sideOf(number, trace);
    }

    async function choose(list) {
        stop();
        wanted = {...wanted, numbers: list};
        const loaded = [];
        for (const number of list) {
            const side = await load(number, wanted.changes);
            if (side) {
                loaded.push(side);
            }
        }
        sides = loaded;
        at = 0;
        draw();
    }

    function picker(title, number, empty, take) {
        const list = dom.make('select', {'aria-label': title, onchange: () => take(Number(list.value))});
        if (empty) {
            list.append(dom.make('option', {value: '0'}, 'none'));
        }
        for (let k = 1; k <= 36; k++) {
            list.append(dom.make('option', {value: String(k), selected: k === number}, `wiring ${k}`));
        }
        return dom.make('label', {class: 'row'}, title, list);
    }

    /* A list of [value, text]. */
    const list = (title, values, value, take) => dom.make('label', {class: 'row'}, title, dom.make('select', {'aria-label': title, onchange: (event) => take(event.target.value)},
        values.map(([own, text]) => dom.make('option', {value: own, selected: own === value}, text))));

    function draw() {
        const numbers = sides.map(({number}) => number);
        const slowness = dom.make('select', {'aria-label': 'Slowed down', onchange: (event) => {
            slow = Number(event.target.value);
        }}, [20, 50, 100, 200, 500, 1000, 5000].map((times) => dom.make('option', {value: String(times), selected: times === slow}, `${times} times`)));
        const controls = !sides.length ? [] : [dom.make('div', {class: 'row'},
            moment.still() ? null : dom.button('Play', play, {id: 'play'}),
            dom.button('\u25c0', () => move(-1), {'aria-label': 'One moment back'}), dom.button('\u25b6', () => move(1), {'aria-label': 'One moment on'}),
            dom.button('Next step', () => nextStep(1)), moment.still() ? null : dom.make('label', {class: 'row'}, 'Slowed down', slowness)),
        dom.make('input', {
            type: 'range', id: 'moment', min: '0', max: String(length() - 1), value: String(at), 'aria-label': 'Moment', oninput: (event) => {
                stop();
                at = Number(event.target.value);
                redraw();
            }
        })];
        dom.byId('motion').replaceChildren(dom.make('h2', {tabindex: '-1'}, 'Slow motion'),
            dom.make('p', {}, 'The simulated run of a wiring. The bar is the rotor, N its north pole; the arrow is the field of the currents. A lead with + is driven high, one with \u2212 low, a small one not at all. Arrow keys: left and right by a moment, up and down by a step.'),
            dom.make('div', {class: 'pickers'}, picker('This one', numbers[0], false, (number) => choose([number, ...numbers.slice(1)])),
                picker('beside', numbers[1] || 0, true, (number) => choose(number ? [numbers[0], number] : [numbers[0]])),
                list('from', [['', 'the usual rest'], ...[0, 60, 120, 180, 240, 300].map((angle) => [String(angle), `${angle}\u00b0`])], from, (angle) => {
                    from = angle;
                    choose(numbers);
                }),
                list('shown', [['end', 'once it runs'], ['start', 'the first 0.5 s']], part, (one) => {
                    part = one;
                    choose(numbers);
                })),
            ...controls, dom.make('div', {id: 'sides'}));
        redraw();
    }

    async function show() {
        if (held.state.scenario === null) {
            dom.byId('motion').replaceChildren(dom.make('p', {}, 'There is no machine yet.'));
            return;
        }
        await choose(wanted.numbers);
    }

    return {
        show,
        choose(numbers, changes) {
            wanted = {numbers, changes};
        }
    };
}());
