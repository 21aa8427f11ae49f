/* Slow motion, one moment of it: rotor, field, leads, words and curves, drawn alike on the page and on the
   wall; the clock by which moments follow one another; and the signs of verdicts, which both show too. */
const moment = (function () {
    const signs = {correct: '\u2713', reverse: '\u21ba', rough: '\u2248', stalled: '\u2715', undecided: '?'};
    const size = 200;
    const middle = size / 2;
    /* Of leads whose names say no colour. */
    const plainInks = ['#0072b2', '#d55e00', '#009e73'];
    const inkOf = (leads, lead) => leads.phase[lead].tint || plainInks[lead];
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

    /* A run that is shown: its trace, and the largest field in it. */
    const sideOf = (number, trace) => ({
        number, trace, peak: Math.max(1e-6, ...trace.time_s.map((_, k) => (field(trace.current_a.map((list) => list[k])) || {amperes: 0}).amperes))
    });

    /* ---- one moment ----------------------------------------------------------------------------- */

    /* Where a lead's name stands: inside the ring, or outside where letters are large. */
    const insidePlace = (axis) => {
        const [x, y] = point(axis ? 67 : 75, axis);
        return {x, y: y + 4, 'text-anchor': axis ? 'middle' : 'end'};
    };
    const outsidePlace = (axis, name) => {
        const [x, y] = point(92, axis);
        /* Beside the right-hand coil there is little room: a longer name stands below all that the rotor sweeps. */
        return axis === 0 ? {x: size + 20, y: y + (name.length > 6 ? 68 : 34), 'text-anchor': 'end'} : {x, y: axis < 180 ? y - 19 : y + 32, 'text-anchor': 'middle'};
    };

    /* A long name ends in a sign that it does. */
    const shortened = (name, letters) => {
        const all = [...name];
        return all.length > letters ? `${all.slice(0, letters - 1).join('').trimEnd()}\u2026` : name;
    };

    /* Coils and rotor: `driven` says of each lead 1, -1 or 0, `now` is a field or null. */
    function dialOf(leads, rotor, driven, now, {peak = 1, letters = 9, outside = false, more = []} = {}) {
        const parts = [dom.draw('circle', {cx: middle, cy: middle, r: 92, class: 'stator'})];
        const names = [];
        [0, 120, 240].forEach((axis, lead) => {
            const [x, y] = point(92, axis);
            const drive = driven[lead];
            parts.push(dom.draw('circle', {cx: x, cy: y, r: drive ? 13 : 8, fill: inkOf(leads, lead), class: drive ? 'lead driven' : 'lead'}));
            if (drive) {
                parts.push(dom.draw('text', {x, y: y + 6, 'text-anchor': 'middle', class: 'sign'}, drive > 0 ? '+' : '\u2212'));
            }
            const name = shortened(leads.phase[lead].label, letters);
            names.push(dom.draw('text', {...(outside ? outsidePlace(axis, name) : insidePlace(axis)), class: axis === 0 ? 'name beside' : 'name'}, name));
        });
        if (!outside) {
            parts.push(...names);
        }
        const [ax, ay] = point(40, rotor);
        const [bx, by] = point(40, rotor + 180);
        /* Large letters stand on the magnet itself, clear of the names outside. */
        const [nx, ny] = point(outside ? 27 : 50, rotor);
        parts.push(dom.draw('line', {x1: bx, y1: by, x2: middle, y2: middle, class: 'south'}),
            dom.draw('line', {x1: middle, y1: middle, x2: ax, y2: ay, class: 'north'}),
            dom.draw('circle', {cx: middle, cy: middle, r: 5, class: 'axle'}));
        const pole = dom.draw('text', {x: nx, y: ny + (outside ? 6 : 4), 'text-anchor': 'middle', class: 'pole'}, 'N');
        if (!outside) {
            parts.push(pole);
        }
        if (now) {
            const length = 20 + 45 * Math.min(1, now.amperes / peak);
            parts.push(arrow(length, now.degrees, {class: 'field-edge'}), arrow(length, now.degrees, {class: 'field-arrow'}));
        }
        const edge = outside ? 24 : 14;
        return dom.draw('svg', {viewBox: `${-edge} ${-edge} ${size + 2 * edge} ${size + 2 * edge}`, class: 'dial', 'aria-hidden': 'true'}, ...parts, ...more, ...(outside ? [pole, ...names] : []));
    }

    const dial = ({trace, peak}, k, leads, how = {}) => dialOf(leads, trace.angle_deg[k], trace.driven.map((list) => list[k]),
        field(trace.current_a.map((list) => list[k])), {...how, peak});

    const codeText = (code) => code.toString(2).padStart(3, '0');
    const turn = (angle) => ((angle % 360) + 360) % 360;

    /* What stands at a moment: the leads that are driven (-1: none), how far the field is ahead. */
    function standing({trace}, k) {
        const driven = trace.driven.map((list) => list[k]);
        const now = field(trace.current_a.map((list) => list[k]));
        return {
            code: codeText(trace.code[k]), high: driven.indexOf(1), low: driven.indexOf(-1), rotor: turn(trace.angle_deg[k]),
            ahead: now ? ((now.degrees - trace.angle_deg[k]) % 360 + 540) % 360 - 180 : null
        };
    }

    /* How far the field is ahead, in the sense in which the rotor turns: up to 180 degrees, and it pulls on; or
       behind, and it pulls back. */
    function leadWords(ahead, backward, of = '') {
        const own = Math.round(backward ? -ahead : ahead);
        return `${Math.abs(own)}\u00b0 ${own < 0 && own > -180 ? 'behind' : `ahead${of}`}`;
    }

    /* Whether the rotor gets on backward while this is shown: by more than a step, and not a shiver. */
    const goesBackward = ({angle_deg: angle}) => angle.slice(1).reduce((sum, value, k) => sum + turn(value - angle[k] + 180) - 180, 0) < -60;

    function words(side, k, leads) {
        const {trace} = side;
        const backward = goesBackward(trace);
        const {phase, sensor} = leads;
        const {code, high, low, rotor, ahead} = standing(side, k);
        return [['Moment', `${(1000 * (trace.time_s[k] - trace.time_s[0])).toFixed(2)} ms`],
            [`Hall code (${sensor.map(({label}) => label).join(' ')})`, code],
            ['Driven', high >= 0 && low >= 0 ? `${phase[high].label} high, ${phase[low].label} low` : 'none'],
            ['Rotor', `${rotor.toFixed(0)}\u00b0 electrical`],
            ['Field', ahead === null ? 'no current' : `${leadWords(ahead, backward, ' of')} the rotor${backward ? ', which turns backward' : ''}`],
            ['Pull', `${dom.figure(trace.torque_nm[k], 2)} N m`],
            ['Currents', trace.current_a.map((list, lead) => `${phase[lead].label} ${dom.figure(list[k], 1)} A`).join(', ')]];
    }

    const topOf = (lists) => Math.max(...lists.map((list) => list.reduce((most, value) => Math.max(most, Math.abs(value)), 1e-9)));

    /* The whole run as curves, each on a strip of its own that bears its name, to one scale; with a line
       at the moment that is shown. A dark edge keeps yellow and white readable. */
    function strips(side, k, title, lists, inks, names, top = topOf(lists)) {
        const width = 300;
        const height = 40;
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

    /* ---- going on ------------------------------------------------------------------------------- */

    /* The reader asks for less motion. */
    const still = () => window.matchMedia('(prefers-reduced-motion: reduce)').matches;

    /* How many moments on (or back, way -1) the controller drives another pair, or the run ends. */
    function toNextStep({code}, at, way) {
        let k = at + way;
        while (k > 0 && k < code.length - 1 && code[k] === code[at]) {
            k += way;
        }
        return k - at;
    }

    /* Calls `on` with how many moments have gone by, frame after frame, until it says false or stop() is
       called. `slow()`: times slower than it was. */
    function clock({time_s: time}, slow, on) {
        const step = (time[time.length - 1] - time[0]) / (time.length - 1);
        let before = null;
        let carried = 0;
        let frame = 0;
        const tick = (now) => {
            let goesOn = true;
            if (before !== null) {
                carried += (now - before) / 1000 / slow() / step;
                const whole = Math.floor(carried);
                carried -= whole;
                goesOn = on(whole);
            }
            before = now;
            if (goesOn) {
                frame = requestAnimationFrame(tick);
            }
        };
        frame = requestAnimationFrame(tick);
        return {stop: () => cancelAnimationFrame(frame)};
    }

    /* Which part of a run is asked for. */
    const parts = {end: {}, start: {from_s: 0, until_s: 0.5}};

    return {signs, inkOf, shortened, point, sideOf, dial, dialOf, codeText, standing, leadWords, words, strips, topOf, still, toNextStep, clock, parts};
}());
