/* Slow motion: what a simulated run did, moment by moment, of one wiring or of two beside one another.
   Nothing moves by itself until it is asked to, and not at all for those who ask for less motion. */
const motion = (function () {
    const size = 200;
    const middle = size / 2;
    /* Of leads whose names say no colour. */
    const plainInks = ['#0072b2', '#d55e00', '#009e73'];
    const inkOf = (lead) => held.machine.leads.phase[lead].tint || plainInks[lead];
    let sides = [];
    let at = 0;
    let playing = null;
    let slow = 200;
    let wanted = {numbers: [1], changes: {}};
    /* Where the rotor rests at first, in electrical degrees, '' as the scenario says; and which part is shown. */
    let from = '';
    let part = 'end';
    const parts = {end: {}, start: {from_s: 0, until_s: 0.5}};

    const still = () => window.matchMedia('(prefers-reduced-motion: reduce)').matches;
    const point = (radius, degrees) => {
        const angle = degrees * Math.PI / 180;
        return [middle + radius * Math.cos(angle), middle - radius * Math.sin(angle)];
    };

    function arrow(radius, degrees, attributes) {
        const [x, y] = point(radius, degrees);
        const tips = [150, -150].map((turn) => {
            const angle = (degrees + turn) * Math.PI / 180;
            return `${x + 12 * Math.cos(angle)},${y - 12 * Math.sin(angle)}`;
        });
        return dom.draw('path', {d: `M${middle},${middle}L${x},${y}M${tips[0]}L${x},${y}L${tips[1]}`, ...attributes});
    }

    /* The field that the three currents make, in electrical degrees; null where there is none. */
    function field(currents) {
        const turn = Math.PI * 2 / 3;
        const x = currents.reduce((sum, value, k) => sum + value * Math.cos(turn * k), 0);
        const y = currents.reduce((sum, value, k) => sum + value * Math.sin(turn * k), 0);
        return Math.hypot(x, y) > 1e-3 ? {degrees: Math.atan2(y, x) * 180 / Math.PI, amperes: Math.hypot(x, y)} : null;
    }

    /* ---- one moment ----------------------------------------------------------------------------- */

    function dial(side, k) {
        const {trace, peak} = side;
        const {phase} = held.machine.leads;
        const currents = trace.current_a.map((list) => list[k]);
        const rotor = trace.angle_deg[k];
        const now = field(currents);
        const parts = [dom.draw('circle', {cx: middle, cy: middle, r: 92, class: 'stator'})];
        [0, 120, 240].forEach((axis, lead) => {
            const [x, y] = point(92, axis);
            const drive = trace.driven[lead][k];
            const [tx, ty] = point(axis ? 67 : 75, axis);
            parts.push(dom.draw('circle', {cx: x, cy: y, r: drive ? 13 : 8, fill: inkOf(lead), class: drive ? 'lead driven' : 'lead'}));
            if (drive) {
                parts.push(dom.draw('text', {x, y: y + 6, 'text-anchor': 'middle', class: 'sign'}, drive > 0 ? '+' : '\u2212'));
            }
            parts.push(dom.draw('text', {x: tx, y: ty + 4, 'text-anchor': axis ? 'middle' : 'end'}, phase[lead].label.slice(0, 9)));
        });
        const [ax, ay] = point(40, rotor);
        const [bx, by] = point(40, rotor + 180);
        const [nx, ny] = point(50, rotor);
        parts.push(dom.draw('line', {x1: bx, y1: by, x2: middle, y2: middle, class: 'south'}),
            dom.draw('line', {x1: middle, y1: middle, x2: ax, y2: ay, class: 'north'}),
            dom.draw('circle', {cx: middle, cy: middle, r: 5, class: 'axle'}), dom.draw('text', {x: nx, y: ny + 4, 'text-anchor': 'middle'}, 'N'));
        if (now) {
            const length = 20 + 45 * Math.min(1, now.amperes / peak);
            parts.push(arrow(length, now.degrees, {class: 'field-edge'}), arrow(length, now.degrees, {class: 'field-arrow'}));
        }
        return dom.draw('svg', {viewBox: `-14 -14 ${size + 28} ${size + 28}`, class: 'dial', 'aria-hidden': 'true'}, ...parts);
    }

    const codeText = (code) => code.toString(2).padStart(3, '0');

    function words(side, k) {
        const {trace} = side;
        const {phase, sensor} = held.machine.leads;
        const driven = trace.driven.map((list) => list[k]);
        const high = driven.indexOf(1);
        const low = driven.indexOf(-1);
        const now = field(trace.current_a.map((list) => list[k]));
        const turn = (angle) => ((angle % 360) + 360) % 360;
        const ahead = now ? ((now.degrees - trace.angle_deg[k]) % 360 + 540) % 360 - 180 : null;
        return [['Moment', `${(1000 * (trace.time_s[k] - trace.time_s[0])).toFixed(2)} ms`],
            [`Hall code (${sensor.map(({label}) => label).join(' ')})`, codeText(trace.code[k])],
            ['Driven', high >= 0 && low >= 0 ? `${phase[high].label} high, ${phase[low].label} low` : 'none'],
            ['Rotor', `${turn(trace.angle_deg[k]).toFixed(0)}\u00b0 electrical`],
            ['Field ahead of it', ahead === null ? 'no current' : `${dom.figure(ahead, 0)}\u00b0`],
            ['Torque', `${dom.figure(trace.torque_nm[k], 2)} N m`],
            ['Currents', trace.current_a.map((list, lead) => `${phase[lead].label} ${dom.figure(list[k], 1)} A`).join(', ')]];
    }

    /* The whole run as curves, each on a strip of its own that bears its name, to one scale; with a line
       at the moment that is shown. A dark edge keeps yellow and white readable. */
    function strips(side, k, title, lists, inks, names) {
        const width = 300;
        const height = 40;
        const top = Math.max(...lists.map((list) => list.reduce((most, value) => Math.max(most, Math.abs(value)), 1e-9)));
        const count = side.trace.time_s.length;
        const place = (list) => list.map((value, j) => `${(width * j / (count - 1)).toFixed(1)},${(height / 2 - 0.44 * height * value / top).toFixed(1)}`).join(' ');
        const x = width * k / (count - 1);
        return dom.make('div', {}, dom.make('p', {class: 'soft'}, `${title}, \u00b1${dom.figure(top, top < 10 ? 2 : 0)}`), lists.map((list, j) => dom.make('div', {class: 'strip-row'},
            names[j] ? dom.make('span', {class: 'strip-name'}, names[j]) : null, dom.draw('svg',
                {viewBox: `0 0 ${width} ${height}`, class: 'strip', preserveAspectRatio: 'none', 'aria-hidden': 'true'},
                dom.draw('line', {x1: 0, y1: height / 2, x2: width, y2: height / 2, class: 'zero'}),
                dom.draw('polyline', {points: place(list), class: 'curve edge'}),
                dom.draw('polyline', {points: place(list), stroke: inks[j], class: 'curve'}),
                dom.draw('line', {x1: x, y1: 0, x2: x, y2: height, class: 'moment'})))));
    }

    function panel(side) {
        const last = side.trace.time_s.length - 1;
        const k = Math.min(at, last);
        return dom.make('section', {class: 'card side'}, dom.make('h3', {}, `Wiring ${side.number}${map.told(side.number, wanted.changes)}`), dial(side, k),
            dom.make('dl', {class: 'moment-words'}, words(side, k).map(([name, text]) => [dom.make('dt', {}, name), dom.make('dd', {}, text)]).flat()),
            strips(side, k, 'Currents [A]', side.trace.current_a, [0, 1, 2].map(inkOf), held.machine.leads.phase.map(({label}) => label)), strips(side, k, 'Torque [N m]', [side.trace.torque_nm], ['#111'], []));
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
        const {code} = sides[0].trace;
        let k = at + way;
        while (k > 0 && k < code.length - 1 && code[k] === code[at]) {
            k += way;
        }
        move(k - at);
    }

    function stop() {
        if (playing !== null) {
            cancelAnimationFrame(playing);
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
        const {time_s: time} = sides[0].trace;
        const step = (time[time.length - 1] - time[0]) / (time.length - 1);
        let before = null;
        let carried = 0;
        const tick = (now) => {
            if (dom.byId('motion').hidden) {
                stop();
                return;
            }
            if (before !== null) {
                carried += (now - before) / 1000 / slow / step;
                const whole = Math.floor(carried);
                carried -= whole;
                if (whole) {
                    at = (at + whole) % length();
                    redraw();
                }
            }
            before = now;
            playing = requestAnimationFrame(tick);
        };
        dom.byId('play').textContent = 'Pause';
        playing = requestAnimationFrame(tick);
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
        const trace = await held.work({do: 'trace', wiring: String(number), changes, points: 600, ...parts[part], ...(from ? {start_deg: Number(from)} : {})});
        if (!trace) {
            return null;
        }
        const peak = Math.max(1e-6, ...trace.time_s.map((_, k) => (field(trace.current_a.map((list) => list[k])) || {amperes: 0}).amperes));
        return {number, trace, peak};
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
            still() ? null : dom.button('Play', play, {id: 'play'}),
            dom.button('\u25c0', () => move(-1), {'aria-label': 'One moment back'}), dom.button('\u25b6', () => move(1), {'aria-label': 'One moment on'}),
            dom.button('Next step', () => nextStep(1)), still() ? null : dom.make('label', {class: 'row'}, 'Slowed down', slowness)),
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
