/* The page for the bench: walks the plan that stands in the element "plan" as JSON (its fields:
   src/report/page_json.c). Text from it is only ever set as text, never as markup. Nothing is
   fetched; progress is kept in this browser under a key made from the plan's content, and the page
   works as well where nothing can be kept. */
(function () {
    'use strict';

    const plan = JSON.parse(document.getElementById('plan').textContent);
    const texts = (places) => places.map((place) => plan.texts[place]);
    plan.steps = plan.steps.map(([kind, words, reason, wiring, joins, cut, answers, places]) => {
        const [title, healthy, note, safe, how, cautions, details] = plan.words[words];
        const step = {
            kind, wiring, joins, cut, places, answers: [], how: texts(how), cautions: cautions.map(texts), details: details.map(texts), safe: plan.texts[safe],
            reason: plan.texts[reason], title: plan.texts[title], healthy: plan.texts[healthy], note: plan.texts[note]
        };
        for (let k = 0; k < answers.length; k += 2) {
            const [label, more, log] = texts(plan.answers[answers[k]]);
            step.answers.push({label, more, log, to: answers[k + 1]});
        }
        return step;
    });
    const store = 'hubphase-' + document.body.dataset.key;
    const letters = ['U', 'V', 'W'];
    const orders = [[0, 1, 2], [0, 2, 1], [1, 0, 2], [1, 2, 0], [2, 0, 1], [2, 1, 0]];
    const svgSpace = 'http://www.w3.org/2000/svg';
    const byId = (id) => document.getElementById(id);

    /* The answers given: [{answer: index among its step's, time: when, places: lines of its entry in
       the log, or absent}], from the plan's first step on. */
    let path = [];
    /* Whether the person said that none of the answers fits. */
    let rare = false;

    /* ---- progress --------------------------------------------------------------------------- */

    function stepsOf(answers) {
        const steps = [plan.steps[0]];
        for (const given of answers) {
            const answer = steps[steps.length - 1].answers[given.answer];
            if (!answer || typeof given.time !== 'string' || !['string', 'undefined'].includes(typeof given.places)) {
                return null;
            }
            steps.push(plan.steps[answer.to]);
        }
        return steps;
    }

    function load() {
        try {
            const kept = JSON.parse(window.localStorage.getItem(store));
            if (Array.isArray(kept) && stepsOf(kept)) {
                path = kept;
            }
        } catch (problem) {
            path = [];
        }
    }

    function save() {
        try {
            window.localStorage.setItem(store, JSON.stringify(path));
        } catch (problem) {
            /* Nothing can be kept here: the page goes on without. */
        }
    }

    /* ---- building --------------------------------------------------------------------------- */

    function add(parent, name, text, className) {
        const element = document.createElement(name);
        if (text !== undefined) {
            element.textContent = text;
        }
        if (className) {
            element.className = className;
        }
        parent.append(element);
        return element;
    }

    function addList(parent, name, items) {
        const list = add(parent, name);
        items.forEach((item) => add(list, 'li', item));
        return list;
    }

    function draw(parent, name, attributes, text) {
        const element = document.createElementNS(svgSpace, name);
        Object.entries(attributes).forEach(([key, value]) => element.setAttribute(key, value));
        if (text !== undefined) {
            element.textContent = text;
        }
        parent.append(element);
        return element;
    }

    /* ---- wirings ---------------------------------------------------------------------------- */

    function wiringOf(number) {
        return {
            phase: orders[(number - 1) % 6],
            sensor: orders[Math.floor((number - 1) / 6)]
        };
    }

    /* The six joints of a wiring, each with the place where its motor lead was before. */
    function jointsOf(number, before) {
        const now = wiringOf(number);
        const was = before ? wiringOf(before) : null;
        const joints = [];
        [['phase', plan.leads.phase, plan.leads.output], ['sensor', plan.leads.sensor, plan.leads.input]]
            .forEach(([side, motor, controller]) => {
                for (let place = 0; place < 3; place++) {
                    const lead = now[side][place];
                    const from = was ? was[side].indexOf(lead) : -1;
                    joints.push({
                        side, place, lead, from,
                        moved: from !== place,
                        motor: motor[lead],
                        controller: controller[place],
                        left: from >= 0 ? controller[from] : null
                    });
                }
            });
        return joints;
    }

    function jointWords(joint) {
        const what = (joint.side === 'phase' ? 'Phase lead ' : 'Hall lead ') + joint.motor.full;
        const place = joint.side === 'phase' ? 'output ' : 'input ';
        if (!joint.moved) {
            return `${what} at controller ${place}${joint.controller.full}.`;
        }
        const from = joint.left ? `: from controller ${place}${joint.left.full}` : '';
        return `${what}${from} to ${joint.left ? '' : 'controller '}${place}${joint.controller.full}.`;
    }

    /* ---- picture of what moves -------------------------------------------------------------- */

    const boxWidth = 118;
    const rowHeight = 42;
    const pictureWidth = 340;

    function clip(text) {
        const characters = Array.from(text);
        return characters.length > 12 ? characters.slice(0, 11).join('') + '\u2026' : text;
    }

    /* Names cut to fit a box; the axes' letters where two of a side would then look alike. */
    Object.values(plan.leads).forEach((side) => {
        side.forEach((lead) => {
            lead.short = clip(lead.name);
            lead.full = lead.name;
        });
        if (new Set(side.map((lead) => lead.short)).size < side.length) {
            side.forEach((lead, k) => {
                lead.short = letters[k];
                lead.full = lead.name === letters[k] ? lead.name : `${lead.name} (${letters[k]})`;
            });
        }
    });

    function drawBox(svg, x, y, lead) {
        draw(svg, 'rect', {class: 'box', x, y: y - 15, width: boxWidth, height: 30, rx: 4});
        if (lead.colour) {
            draw(svg, 'rect', {class: 'swatch', x: x + 4, y: y - 11, width: 12, height: 22, fill: lead.colour});
        }
        if (lead.stripe) {
            draw(svg, 'rect', {x: x + 8.5, y: y - 10.5, width: 3, height: 21, fill: lead.stripe});
        }
        draw(svg, 'text', {x: x + (lead.colour ? 21 : 7), y: y + 5}, lead.short);
    }

    function rowOf(joint, place) {
        return (joint.side === 'phase' ? 42 : 206) + place * rowHeight;
    }

    function drawJoint(svg, joint) {
        const left = boxWidth + 2;
        const right = pictureWidth - boxWidth - 2;
        const y = rowOf(joint, joint.place);
        const end = rowOf(joint, joint.lead);
        if (joint.moved && joint.from >= 0) {
            draw(svg, 'path', {class: 'was', d: `M${left} ${rowOf(joint, joint.from)}L${right} ${end}`});
        }
        const group = draw(svg, 'g', {class: joint.moved ? 'moves-now' : 'stays'});
        const d = `M${left} ${y}L${right} ${end}`;
        draw(group, 'path', {class: 'casing', d});
        draw(group, 'path', {class: 'lead', d, stroke: joint.motor.colour || 'currentColor'});
        if (joint.motor.stripe && joint.moved) {
            draw(group, 'path', {class: 'stripe', d, stroke: joint.motor.stripe});
        }
    }

    function drawTag(svg, joint) {
        const y = rowOf(joint, joint.place);
        const tag = draw(svg, 'g', {class: 'tag'});
        draw(tag, 'rect', {x: boxWidth - 2, y: y - 9, width: 38, height: 18, rx: 3});
        draw(tag, 'text', {x: boxWidth + 17, y: y + 4.5, 'text-anchor': 'middle'}, 'move');
    }

    function drawSides(svg) {
        const right = {class: 'side', x: pictureWidth, 'text-anchor': 'end'};
        draw(svg, 'text', {class: 'side', x: 0, y: 14}, 'controller, phase');
        draw(svg, 'text', {...right, y: 14}, 'motor, phase');
        draw(svg, 'text', {class: 'side', x: 0, y: 178}, 'controller, Hall');
        draw(svg, 'text', {...right, y: 178}, 'motor, Hall');
    }

    /* The wiring to be joined, with what moves to come there from the one before (0: none). */
    function drawMoves(parent, number, before) {
        const joints = jointsOf(number, before);
        const moved = joints.filter((joint) => joint.moved);
        const told = moved.length ? moved : joints;
        const svg = draw(parent, 'svg', {
            class: 'moves', viewBox: `-1 0 ${pictureWidth + 2} 312`, role: 'img',
            'aria-label': `Picture of wiring ${number}, told in the list below`
        });
        drawSides(svg);
        joints.filter((joint) => !joint.moved).forEach((joint) => drawJoint(svg, joint));
        moved.forEach((joint) => drawJoint(svg, joint));
        joints.forEach((joint) => {
            drawBox(svg, 0, rowOf(joint, joint.place), joint.controller);
            drawBox(svg, pictureWidth - boxWidth, rowOf(joint, joint.lead), joint.motor);
        });
        if (!before) {
            add(parent, 'p', 'Join all six:');
        } else if (moved.length) {
            moved.forEach((joint) => drawTag(svg, joint));
            add(parent, 'p', 'Thick: where a lead moves to. Dotted: where it was. Thin: stays.', 'soft');
            add(parent, 'p', moved.length === 1 ? 'One lead moves:' : `${moved.length} leads move:`);
        } else {
            add(parent, 'p', 'No lead moves:');
        }
        addList(parent, 'ul', told.map(jointWords));
    }

    /* ---- the step --------------------------------------------------------------------------- */

    /* Wiring that is joined after these answers; 0: none. */
    function joinedAfter(steps) {
        let joined = plan.joined;
        for (let k = 0; k + 1 < steps.length; k++) {
            joined = steps[k].joins ? steps[k].wiring : joined;
        }
        return joined;
    }

    const questions = {
        read: 'What did it show?',
        learn: 'What did the controller do?',
        try: 'What did the wheel do?',
        look: 'What did the wheel do?'
    };

    function addButton(list, label, more, className, act) {
        const button = add(add(list, 'li'), 'button', undefined, className);
        button.type = 'button';
        add(button, 'strong', label);
        if (more) {
            add(button, 'span', more);
        }
        button.addEventListener('click', act);
    }

    /* ---- which pin has which lead ----------------------------------------------------------- */

    const halfHour = (k) => `${k < 2 ? 12 : Math.floor(k / 2)}${k % 2 ? ':30' : ''} o'clock`;
    const numbers = (most) => Array.from({length: most}, (_, k) => String(k + 1));
    const plugs = {
        round: [Array.from({length: 24}, (_, k) => halfHour(k)), ['outer', 'inner']],
        square: [numbers(6).map((row) => `row ${row}`), numbers(12).map((column) => `column ${column}`)]
    };
    const pinNames = () => [
        ...plan.leads.phase.map((lead) => ['phase_pins', lead.name, `phase lead ${lead.full}`]),
        ...plan.leads.sensor.map((lead) => ['sensor_pins', lead.name, `Hall lead ${lead.full}`]),
        ['supply_plus_pin', '', 'Hall plus'], ['supply_minus_pin', '', 'Hall minus']
    ];
    /* What was chosen on this page: kind of plug, half, and two words for each of the eight. */
    let pins = {plug: 'round', half: '', columns: '', place: numbers(8).map(() => ['', ''])};

    function addChoice(parent, label, choices, value, change) {
        const select = add(parent, 'select');
        select.setAttribute('aria-label', label);
        [['', '\u2013'], ...choices.map((choice) => [choice, choice])].forEach(([key, words]) => {
            add(select, 'option', words).value = key;
        });
        select.value = value;
        select.addEventListener('change', () => change(select.value));
    }

    /* "3 o'clock outer", "row 1 column 2", "centre"; empty while it is not whole. */
    function placeOf([first, second]) {
        return first === 'centre' ? first : first && second ? `${first} ${second}` : '';
    }

    /* What keeps the places out of the log, or nothing. */
    function pinProblem() {
        const places = pins.place.map(placeOf);
        const missing = places.filter((place) => !place).length;
        if (missing) {
            return missing === 8 ? 'None is noted.' : `${missing} of the 8 pins still to be noted.`;
        }
        if (new Set(places).size < 8) {
            return 'Two leads cannot sit in one place.';
        }
        const most = Math.max(...pins.place.map(([, column]) => Number(column.replace('column ', ''))));
        if (pins.plug === 'square' && pins.columns && Number(pins.columns) < most) {
            return `Column ${most} is taken: the plug has more than ${pins.columns}.`;
        }
        return pins.half ? '' : 'Say into which half you looked: the other is its mirror image.';
    }

    /* Lines of the log's entry; a name is quoted as in JSON, which YAML reads, too. */
    function pinLines() {
        if (pinProblem()) {
            return '';
        }
        const names = pinNames();
        const list = (key) => names.map(([own, name], k) => [own, `${JSON.stringify(name)}: ${placeOf(pins.place[k])}`])
            .filter(([own]) => own === key).map(([, text]) => text).join(', ');
        const single = (key) => placeOf(pins.place[names.findIndex(([own]) => own === key)]);
        const columns = pins.plug === 'square' && pins.columns ? [`plug_columns: ${pins.columns}`] : [];
        return [`phase_pins: {${list('phase_pins')}}`, `sensor_pins: {${list('sensor_pins')}}`,
            `supply_plus_pin: ${single('supply_plus_pin')}`, `supply_minus_pin: ${single('supply_minus_pin')}`,
            `half_seen: ${pins.half}`, ...columns].map((line) => `      ${line}\n`).join('');
    }

    function fillPins(fold) {
        fold.replaceChildren();
        add(fold, 'summary', 'Note which pin has which lead, for the wiring sheet');
        add(fold, 'p', 'Hold one half of the plug with its key mark (groove, rib, arrow) at the top and look into its face. ' +
            'All eight in the same half.');
        const head = (words) => add(fold, 'label', `${words} `, 'choice');
        const say = add(fold, 'p', '', 'soft');
        say.setAttribute('role', 'status');
        const tell = () => {
            fold.append(say);
            say.textContent = pinProblem() || 'Noted: the places go into the log with your answer.';
        };
        const choose = (change) => (value) => {
            change(value);
            tell();
        };
        addChoice(head('The plug is'), 'The plug is', Object.keys(plugs), pins.plug, (value) => {
            pins = {...pins, plug: value || 'round', place: numbers(8).map(() => ['', ''])};
            fillPins(fold);
        });
        addChoice(head('You look into the half of'), 'You look into the half of', ['motor', 'controller'], pins.half, choose((value) => {
            pins.half = value;
        }));
        const table = add(fold, 'ul', undefined, 'pins');
        pinNames().forEach(([, , words], k) => {
            const line = add(table, 'li');
            add(line, 'span', words);
            const [first, second] = plugs[pins.plug];
            const centre = pins.plug === 'round' ? ['centre'] : [];
            addChoice(line, `${words}: ${pins.plug === 'round' ? 'hour' : 'row'}`, [...first, ...centre], pins.place[k][0],
                choose((value) => {
                    pins.place[k][0] = value;
                }));
            addChoice(line, `${words}: ${pins.plug === 'round' ? 'ring' : 'column'}`, second, pins.place[k][1],
                choose((value) => {
                    pins.place[k][1] = value;
                }));
        });
        if (pins.plug === 'square') {
            const line = add(table, 'li');
            add(line, 'span', 'columns in all, empty places too');
            addChoice(line, 'Columns in all', numbers(12), pins.columns, choose((value) => {
                pins.columns = value;
            }));
        }
        tell();
    }

    function addAnswers(card, step) {
        if (step.places) {
            fillPins(add(card, 'details', undefined, 'more'));
        }
        add(card, 'h4', questions[step.kind]).id = 'question';
        const list = add(card, 'ul', undefined, 'answers');
        list.setAttribute('aria-labelledby', 'question');
        step.answers.forEach((answer, index) => {
            addButton(list, answer.label, answer.more, 'answer', () => take(index));
        });
        addButton(list, 'None of these', '', 'answer rare', () => {
            rare = true;
            show(true);
        });
    }

    /* Words with commands and file names between them: every second part is one. */
    function addMixed(parent, parts) {
        const line = add(parent, 'p');
        parts.forEach((part, k) => {
            if (k % 2) {
                add(line, 'code', part);
            } else {
                line.append(part);
            }
        });
    }

    function addLost(card, words) {
        const log = plan.log;
        add(card, 'p', words);
        addMixed(card, path.length
            ? ['Copy the answers out (below) and save them as ', log.name, '. Write down there what you saw with ',
                log.add, ', then ask ', log.ask, '.']
            : ['Write down what you saw with ', log.add, ', then ask ', log.ask, '.']);
    }

    /* How to go on after an end that leaves something to put right. */
    function addMended(card) {
        const log = plan.log;
        addMixed(card, ['When it is mended: copy the answers out (below) and save them as ', log.name,
            '. Write down there what was mended with ', log.add, ', then ask ', log.ask, '.']);
    }

    function addWords(card, step) {
        add(card, 'p', step.reason, 'reason');
        add(card, 'h4', 'Do');
        /* Each caution at the line where the hand is; what helps is folded. */
        const list = add(card, 'ol', undefined, 'how');
        step.how.forEach((how, at) => {
            const line = add(list, 'li', how);
            if (step.cautions[at].length) {
                addList(line, 'ul', step.cautions[at]).className = 'care';
            }
            if (step.details[at].length) {
                const more = add(line, 'details', undefined, 'more');
                add(more, 'summary', 'How');
                step.details[at].forEach((text) => add(more, 'p', text));
            }
        });
        step.cautions[step.how.length].forEach((caution) => add(card, 'p', caution, 'care'));
        if (step.healthy) {
            add(card, 'h4', 'What good parts give');
            add(card, 'p', step.healthy);
        }
        if (step.note) {
            add(card, 'h4', 'Write down');
            add(card, 'p', step.note);
        }
    }

    function showStep(steps) {
        const step = steps[steps.length - 1];
        const card = byId('step');
        card.replaceChildren();
        const heading = add(card, 'h3', `Step ${steps.length}. ${step.title}`);
        heading.tabIndex = -1;
        if (rare) {
            addLost(card, 'This plan does not hold that answer: it is rarer than those that the plan was made for.');
            return;
        }
        const safe = add(card, 'div', undefined, 'cautions');
        add(safe, 'h4', 'Safe now');
        add(safe, 'p', step.safe);
        if (step.wiring) {
            drawMoves(card, step.wiring, joinedAfter(steps));
        }
        addWords(card, step);
        if (step.cut) {
            addLost(card, 'The plan on this page ends here: few benches get this far down this way.');
        } else if (step.answers.length) {
            addAnswers(card, step);
        } else if (step.kind === 'repair' || step.kind === 'danger') {
            addMended(card);
        }
    }

    function showStanding(steps) {
        const joined = joinedAfter(steps);
        byId('joined').textContent = joined
            ? `Wiring ${joined} is joined now.` : 'No wiring has been tried yet.';
        const list = byId('given');
        list.replaceChildren();
        path.forEach((given, k) => {
            add(list, 'li', `${steps[k].title}: ${steps[k].answers[given.answer].label}`);
        });
        byId('given-none').hidden = path.length > 0;
        byId('given-some').hidden = path.length === 0;
    }

    function logText(steps) {
        const entries = path.map((given, k) => {
            const entry = steps[k].answers[given.answer].log.replace(plan.log.time, () => given.time);
            return given.places ? entry.replace(/\n+$/, '\n') + given.places : entry;
        });
        return plan.log.text + entries.join('');
    }

    function show(moveFocus) {
        const steps = stepsOf(path);
        showStep(steps);
        showStanding(steps);
        byId('log').value = logText(steps);
        byId('back').disabled = path.length === 0 && !rare;
        byId('restart').disabled = path.length === 0 && !rare;
        if (moveFocus) {
            const heading = byId('step').querySelector('h3');
            byId('say').textContent = heading.textContent;
            heading.focus({preventScroll: true});
            byId('next').scrollIntoView();
        }
    }

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

    function take(answer) {
        const places = stepsOf(path)[path.length].places ? pinLines() : '';
        path.push(places ? {answer, time: now(), places} : {answer, time: now()});
        save();
        show(true);
    }

    /* ---- copying out ------------------------------------------------------------------------ */

    function copyByHand() {
        const area = byId('log');
        area.focus();
        area.select();
        try {
            return document.execCommand('copy');
        } catch (problem) {
            return false;
        }
    }

    function copy() {
        const tell = (done) => {
            byId('copied').textContent = done ? 'Copied.' : 'Mark the text above and copy it by hand.';
        };
        if (window.navigator.clipboard) {
            window.navigator.clipboard.writeText(byId('log').value)
                .then(() => tell(true), () => tell(copyByHand()));
        } else {
            tell(copyByHand());
        }
    }

    /* ---- map -------------------------------------------------------------------------------- */

    const cells = Array.from(document.querySelectorAll('.cell'));

    /* One cell is reached by Tab, the others by the arrow keys. */
    function showCell(moveFocus) {
        const chosen = cells.find((cell) => cell.hash === window.location.hash);
        cells.forEach((cell, k) => {
            cell.tabIndex = cell === chosen || (!chosen && k === 0) ? 0 : -1;
            if (cell === chosen) {
                cell.setAttribute('aria-current', 'true');
            } else {
                cell.removeAttribute('aria-current');
            }
        });
        if (chosen && moveFocus) {
            byId(chosen.hash.slice(1)).querySelector('h3').focus();
        }
    }

    function walkMap(event) {
        const at = cells.indexOf(event.target);
        const steps = {ArrowRight: 1, ArrowLeft: -1, ArrowDown: 6, ArrowUp: -6};
        const to = cells[at + steps[event.key]];
        if (at < 0 || !to) {
            return;
        }
        event.preventDefault();
        cells.forEach((cell) => {
            cell.tabIndex = cell === to ? 0 : -1;
        });
        to.focus();
    }

    /* ---- start ------------------------------------------------------------------------------ */

    document.documentElement.classList.add('scripted');
    load();
    byId('back').addEventListener('click', () => {
        if (rare) {
            rare = false;
        } else {
            path.pop();
        }
        save();
        show(true);
    });
    byId('restart').addEventListener('click', () => {
        if (path.length && !window.confirm('Forget the answers given on this page?')) {
            return;
        }
        path = [];
        rare = false;
        save();
        show(true);
    });
    byId('copy').addEventListener('click', copy);
    byId('log-name').textContent = plan.log.name;
    byId('log-ask').textContent = plan.log.ask;
    byId('whole').addEventListener('click', () => {
        const shown = byId('flow').classList.toggle('shown');
        byId('whole').setAttribute('aria-expanded', String(shown));
    });
    byId('map').addEventListener('keydown', walkMap);
    window.addEventListener('hashchange', () => showCell(true));
    showCell(false);
    show(false);
}());
