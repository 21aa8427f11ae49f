/* What a scene shows, by its view: rotor turned by hand, slow motion, the 36 in heaps, bars of tries. Each
   view is made of a scene, the evening's data and how far the telling is; it draws itself into a place and
   answers to keys. */
const views = (function () {
    const big = {letters: 10, outside: true};
    const slownesses = [20, 50, 100, 200, 500, 1000, 2000, 5000];
    /* How long a run may last on the wall, at first [s]. */
    const usualLength = 40;

    const nothing = {keys: [], stop() {}};

    /* Letters of a dial stay readable however small it is drawn: a little over 1/30 of the height. */
    const letters = new ResizeObserver((entries) => entries.forEach(({target, contentRect: {width, height}}) => {
        const drawn = Math.min(width, height) / 248;
        const size = drawn > 0 ? Math.max(17, 1.02 * window.innerHeight / 30 / drawn) : 17;
        target.style.setProperty('--letters', `${size.toFixed(1)}px`);
        target.classList.toggle('crowded', size > 21);
    }));

    function figureOf(...children) {
        const figure = dom.make('div', {class: 'figure'}, ...children);
        letters.observe(figure);
        return figure;
    }

    /* A part of a whole as a bar; its edge has room inside the picture. */
    const share = (part) => dom.draw('svg', {viewBox: '-1 -1 102 12', preserveAspectRatio: 'none', 'aria-hidden': 'true'},
        dom.draw('rect', {x: 0, y: 0, width: 100, height: 10, class: 'scale'}),
        dom.draw('rect', {x: 0, y: 0, width: 100 * part, height: 10, class: 'amount'}));

    /* ---- the rotor, turned by hand -------------------------------------------------------------- */

    /* A dial that keys, a finger or a mouse turn: `dialAt` and `toldAt` say what is seen at an angle. */
    function turned(place, label, from, dialAt, toldAt) {
        let angle = from;
        const readout = dom.make('div', {class: 'readout', role: 'group', 'aria-label': label});
        const figure = figureOf();
        figure.classList.add('turnable');

        function turnTo(degrees) {
            angle = (degrees % 360 + 360) % 360;
            figure.replaceChildren(dialAt(angle));
            readout.replaceChildren(...toldAt(angle));
        }

        /* The magnet follows. */
        function towards(event) {
            const box = figure.firstChild.getBoundingClientRect();
            turnTo(Math.atan2(box.top + box.height / 2 - event.clientY, event.clientX - box.left - box.width / 2) * 180 / Math.PI);
        }
        figure.addEventListener('pointerdown', (event) => {
            figure.setPointerCapture(event.pointerId);
            towards(event);
        });
        figure.addEventListener('pointermove', (event) => event.buttons && towards(event));
        place.replaceChildren(figure, readout);
        turnTo(from);
        return {
            keys: [['\u2191', 'turn on', () => turnTo(angle + 6), ['ArrowUp']], ['\u2193', 'turn back', () => turnTo(angle - 6), ['ArrowDown']]],
            stop() {}
        };
    }

    function hand(place, {data, leads, asking}) {
        const sectorAt = (degrees) => data.hand.find(({from_deg: from, to_deg: to}) => degrees >= from && degrees < to ||
            degrees + 360 >= from && degrees + 360 < to) || data.hand[0];
        /* Each stands at its own angle inside the ring of coils, a side of it towards the axle. */
        const chip = (level, k) => {
            const degrees = data.sensor_deg[k];
            const [x, y] = moment.point(66, degrees);
            const high = !asking && level;
            return [dom.draw('rect', {x: x - 11, y: y - 11, width: 22, height: 22, rx: 3, transform: `rotate(${-degrees} ${x} ${y})`, class: high ? 'chip high' : 'chip'}),
                dom.draw('text', {x, y: y + 6, 'text-anchor': 'middle', class: high ? 'level high' : 'level'}, asking ? '?' : String(level))];
        };
        const dialAt = (degrees) => {
            const sector = sectorAt(degrees);
            const driven = [0, 1, 2].map((k) => (asking ? 0 : k === sector.high ? 1 : k === sector.low ? -1 : 0));
            return moment.dialOf(leads, degrees, driven, null, {...big, more: sector.sensors.flatMap(chip)});
        };
        const toldAt = (degrees) => {
            const {code, high, low} = sectorAt(degrees);
            const pair = high >= 0 ? [`${leads.phase[high].label} to plus`, `${leads.phase[low].label} to minus`] : ['no lead'];
            return asking ? [dom.make('p', {}, 'Bar: the magnet. Dots: three coils. Boxes: three Hall sensors.')] :
                [dom.make('p', {}, 'Hall code ', dom.make('b', {class: 'code'}, moment.codeText(code))), ...pair.map((text) => dom.make('p', {}, text))];
        };
        return turned(place, 'What the controller sees', 60, dialAt, toldAt);
    }

    /* One pair of leads stays driven, and the magnet is turned by hand under its arrow. */
    function held(place, {data: {held: {high, low, field_deg: degrees, pull}}, leads, say}) {
        say('');
        const driven = [0, 1, 2].map((k) => (k === high ? 1 : k === low ? -1 : 0));
        const dialAt = (angle) => moment.dialOf(leads, angle, driven, {degrees, amperes: 1}, big);
        const toldAt = (angle) => {
            const behind = Math.round(degrees - angle + 720) % 360;
            const ahead = behind > 180 ? behind - 360 : behind;
            const percent = Math.round(100 * pull[behind]);
            return [dom.make('p', {}, `Arrow ${Math.abs(ahead)}\u00b0 ${ahead < 0 ? 'behind' : 'ahead'}`),
                dom.make('p', {}, 'Pull ', dom.make('b', {class: 'much'}, `${Math.abs(percent)}\u00a0%`)),
                dom.make('p', {}, percent > 0 ? 'forward' : percent < 0 ? 'backward' : 'to neither side'),
                dom.make('div', {class: 'ammeter'}, share(Math.abs(pull[behind])))];
        };
        return turned(place, 'What the magnet feels', degrees - 90, dialAt, toldAt);
    }

    /* ---- slow motion ---------------------------------------------------------------------------- */

    const titleOf = (run, k, told) => (run.unnamed && !told ? ['On the left', 'On the right'][k] : run.title);

    /* Before the answer: coils and rotor, and no current yet. */
    const resting = (sides, leads) => sides.map(({run, side}, k) => dom.make('section', {class: 'side'}, dom.make('h2', {class: 'sub'}, titleOf(run, k, false)),
        figureOf(moment.dialOf(leads, side.trace.angle_deg[0], [0, 0, 0], null, big))));

    function reading(run, side, k, leads) {
        const {code, high, low, ahead} = moment.standing(side, k);
        const pair = high >= 0 && low >= 0 ? `${leads.phase[high].label}+, ${leads.phase[low].label}\u2212` : 'no lead driven';
        const arrow = ahead === null ? 'no arrow' : `arrow ${moment.leadWords(ahead, run.backward)}`;
        return {code, arrow, pair};
    }

    /* What an ammeter in the battery lead shows on average over all starts, as the words have it; beside others
       as a bar to one scale. */
    const ammeter = (amperes, most) => dom.make('div', {class: 'ammeter'}, dom.make('p', {}, 'Ammeter ', dom.make('b', {}, `${dom.figure(amperes, 2)} A`)),
        most ? share(Math.max(0, amperes) / most) : null);

    function motion(place, {sides, leads, asking, told, playing, say}) {
        if (asking) {
            place.replaceChildren(...resting(sides, leads));
            return nothing;
        }
        /* One scale for all that stand beside one another. */
        const peak = Math.max(...sides.map(({side}) => side.peak));
        const torque = moment.topOf(sides.map(({side}) => side.trace.torque_nm));
        const count = Math.max(...sides.map(({side}) => side.trace.time_s.length));
        const {time_s: time} = sides[0].side.trace;
        const most = Math.max(1e-9, ...sides.map(({run}) => run.battery_current_a));
        let slow = slownesses.reduce((best, one) => (Math.abs(Math.log(one * (time[time.length - 1] - time[0]) / usualLength)) <
            Math.abs(Math.log(best * (time[time.length - 1] - time[0]) / usualLength)) ? one : best));
        let at = 0;
        let clock = null;
        /* How long it takes once through, for whoever leads. */
        const tellPace = () => say(`${slow} times slower: ${Math.round(slow * (time[time.length - 1] - time[0]))}\u00a0s`);
        const panels = sides.map(({run, side}, nth) => {
            const own = {...side, peak};
            const figure = figureOf();
            const words = dom.make('div', {class: 'readout'});
            /* Beside one another the pull alone: three currents more would be too small to see. */
            const curves = dom.make('div', {class: 'curves'}, moment.strips(own, 0, 'Pull [N m]', [side.trace.torque_nm], ['#111'], [], torque),
                sides.length > 1 ? null : moment.strips(own, 0, `Amperes: ${leads.phase.map(({label}) => moment.shortened(label, 8)).join(', ')}`, side.trace.current_a, [0, 1, 2].map((lead) => moment.inkOf(leads, lead)), []));
            const lines = [...curves.querySelectorAll('.moment')];
            const draw = () => {
                const k = Math.min(at, side.trace.time_s.length - 1);
                figure.replaceChildren(moment.dial(own, k, leads, big));
                const {code, arrow, pair} = reading(run, own, k, leads);
                words.replaceChildren(...(sides.length > 1 ? [arrow, `${code} ${pair}`] : [`Hall code ${code}`, arrow, pair]).map((text) => dom.make('p', {}, text)));
                lines.forEach((line) => ['x1', 'x2'].forEach((end) => line.setAttribute(end, 300 * k / (side.trace.time_s.length - 1))));
            };
            return {draw, section: dom.make('section', {class: 'side'}, dom.make('h2', {class: 'sub'}, titleOf(run, nth, told)), figure, words, curves,
                told ? ammeter(run.battery_current_a, sides.length > 1 ? most : 0) : null)};
        });
        const draw = () => panels.forEach((panel) => panel.draw());
        const stop = () => {
            if (clock) {
                clock.stop();
            }
            clock = null;
        };
        const play = () => {
            if (moment.still()) {
                return;
            }
            if (clock) {
                stop();
                return;
            }
            clock = moment.clock(sides[0].side.trace, () => slow, (whole) => {
                if (whole) {
                    at = (at + whole) % count;
                    draw();
                }
                return true;
            });
        };
        /* Just before a jump of any arrow, then just after it; from the last moment to the first, and back. */
        const stops = (way) => {
            if (way > 0 ? at >= count - 1 : at <= 0) {
                return way > 0 ? 0 : count - 1;
            }
            const ways = sides.map(({side: {trace}}) => Math.abs(moment.toNextStep(trace, Math.min(at, trace.time_s.length - 1), way)));
            const next = Math.min(...ways.filter((one) => one > 0));
            const to = at + way * (next > 1 ? next - 1 : 1);
            return Math.min(count - 1, Math.max(0, to));
        };
        const step = (way) => () => {
            stop();
            at = stops(way);
            draw();
        };
        const pace = (by) => () => {
            slow = slownesses[Math.min(slownesses.length - 1, Math.max(0, slownesses.indexOf(slow) + by))];
            tellPace();
        };
        place.replaceChildren(...panels.map(({section}) => section));
        draw();
        tellPace();
        if (playing) {
            play();
        }
        const moving = moment.still() ? [] : [['Space', 'stop', play, [' ']], ['+', 'faster', pace(-1), ['+', '=']], ['\u2212', 'slower', pace(1), ['-', '_']]];
        return {keys: [...moving, ['\u2191', 'step', step(1), ['ArrowUp']], ['\u2193', 'step back', step(-1), ['ArrowDown']]], stop};
    }

    /* ---- all 36 --------------------------------------------------------------------------------- */

    /* How many there are in a heap is told once people have counted. How far they are sorted: not at all, by sides turned round, by places too, with what each does. */
    const heaps = [
        [['', () => true]],
        [['One side turned round', (one) => one.kind === 'crossed'], ['Both or none', (one) => one.kind !== 'crossed']],
        [['One side turned round', (one) => one.kind === 'crossed'], ['A place off', (one) => one.kind === 'shifted'], ['Neither', (one) => one.kind === 'matched']]
    ];

    function groups(place, {data, asking, told}) {
        let sorted = asking ? 0 : told ? 3 : 1;
        const cell = (one) => dom.make('span', {class: sorted === 3 ? `cell ${one.verdict}` : 'cell'}, String(one.number), sorted === 3 ? dom.make('span', {}, `\u00a0${moment.signs[one.verdict]}`) : null);
        const tripleOf = (list) => [...new Set(list.map(({group}) => group))].map((group) => dom.make('span', {class: 'triple'},
            list.filter((one) => one.group === group).map(cell)));

        function draw() {
            const heap = heaps[Math.min(2, sorted)];
            const boxes = heap.map(([name, belongs]) => {
                const list = data.wirings.filter(belongs);
                return dom.make('section', {class: 'heap'}, name ? dom.make('h2', {class: 'sub'}, name, told ? dom.make('b', {}, `: ${list.length}`) : null) : null,
                    dom.make('p', {class: sorted < 2 ? 'cells' : 'triples'}, sorted < 2 ? list.map(cell) : tripleOf(list)));
            });
            const verdicts = Object.keys(moment.signs).filter((verdict) => data.wirings.some((one) => one.verdict === verdict));
            place.replaceChildren(...boxes, sorted === 3 ? dom.make('p', {class: 'legend'}, verdicts.map((verdict) => dom.make('span', {class: `cell ${verdict}`}, `${moment.signs[verdict]} ${verdict}`))) : '');
        }
        const go = (by) => () => {
            sorted = Math.min(3, Math.max(asking ? 0 : 1, sorted + by));
            draw();
        };
        draw();
        return {keys: asking ? [] : [['\u2191', 'sort further', go(1), ['ArrowUp', ' ']], ['\u2193', 'undo', go(-1), ['ArrowDown']]], stop() {}};
    }

    /* ---- tries ---------------------------------------------------------------------------------- */

    function tries(place, {data, asking}) {
        const rows = [{words: 'joined at random', mean: data.at_random}, ...data.tries];
        const most = Math.max(...rows.map(({mean}) => mean));
        place.replaceChildren(dom.make('table', {class: 'bars'}, dom.make('caption', {}, 'Powered tries on average until it runs correctly'),
            dom.make('tbody', {}, rows.map(({words, mean}) => dom.make('tr', {}, dom.make('th', {scope: 'row'}, words), dom.make('td', {}, asking ? '?' : dom.figure(Math.floor(10 * mean + 0.5) / 10, 1)),
                dom.make('td', {class: 'bar'}, asking ? '' : dom.draw('svg', {viewBox: '0 0 100 10', preserveAspectRatio: 'none', 'aria-hidden': 'true'},
                    dom.draw('rect', {x: 0, y: 1, width: 100 * mean / most, height: 8, class: 'amount'}))))))));
        return nothing;
    }

    return {hand, held, run: motion, pair: motion, faults: motion, groups, tries};
}());
