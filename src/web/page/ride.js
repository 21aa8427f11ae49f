/* What grip, brakes, pedals and lost leads make the machine do: every case, one of them drawn, or a course of
   the reader's own. */
const ride = (function () {
    const leads = ['throttle_supply', 'throttle_ground', 'throttle_signal', 'brake', 'pedal', 'speed'];
    /* What a row of a course may do, and what its value is. */
    const actions = [
        {word: 'grip', title: 'Grip to', unit: '%', value: '50'},
        {word: 'brake', title: 'Brake lever', choices: ['pulled', 'released']},
        {word: 'key', title: 'Key', choices: ['off', 'on']},
        {word: 'pedals', title: 'Pedals at', unit: 'turns a minute, backward below 0', value: '60'},
        {word: 'speed', title: 'Speed switch to step', unit: '', value: '1'},
        {word: 'off', title: 'Lead off', choices: leads},
        {word: 'on', title: 'Lead on again', choices: leads}];
    const most = 12;
    const fresh = () => [{word: 'grip', value: '50', at: '0.3'}, {word: 'brake', value: 'pulled', at: '2'}];
    let course = fresh();
    let wiring = '';

    const named = (word) => word.replaceAll('_', ' ');
    const request = (more) => ({do: 'controls', shape: 'phone', columns: checks.columns(), ...(wiring ? {wiring} : {}), ...more});

    /* One course: its picture, which says what happens when. */
    function put(place, title, reply) {
        const heading = dom.make('h3', {tabindex: '-1'}, title);
        const figure = dom.picture(reply.svg, reply.alt);
        place.replaceChildren(...[heading, figure,
            dom.fold('As the program prints it', false, dom.make('pre', {tabindex: '0'}, reply.text))].filter(Boolean));
        heading.focus({preventScroll: true});
        heading.scrollIntoView({block: 'start'});
    }

    /* The worst first; one that cannot be told stands by what it would be once it can. */
    const order = ['stop', 'untested', 'look', 'good'];
    function rank({finding, once_right: right}) {
        return order.indexOf(finding) + (right ? order.indexOf(right.finding) / order.length : 0);
    }

    /* A case: what it makes the machine do, and what to do about it: what holds many of them off is said once.
       Its button draws it. */
    function line(one, place, told) {
        const remedies = [one.held_by && told.has(one.held_by) ? null : one.remedy, one.once_right ? one.once_right.remedy : null].filter(Boolean);
        told.add(one.held_by);
        const button = dom.button('Draw it', async () => {
            const reply = await checks.work(button, request({case: one.name}), 'Simulating this course');
            if (reply) {
                put(place, reply.json.what_if.shown, reply);
            }
        }, {'aria-label': `Draw it: ${one.title}`});
        return dom.make('li', {}, checks.badge(one.finding), ` ${one.title}: ${one.words}.`,
            ...remedies.map((remedy) => dom.make('p', {class: 'soft'}, remedy)), dom.make('div', {class: 'row'}, button));
    }

    function allCases(place, drawn) {
        const result = checks.room();
        const button = dom.button('Try every case', async () => {
            const reply = await checks.work(button, request({}), 'Simulating every case');
            if (reply) {
                const heading = dom.make('h3', {tabindex: '-1'}, reply.json.wiring ? `Every case, wiring ${reply.json.wiring}` : 'Every case, with a correct wiring');
                const cases = [...reply.json.what_if].sort((a, b) => rank(a) - rank(b));
                const told = new Set();
                result.replaceChildren(heading, dom.make('ul', {class: 'lines'}, cases.map((one) => line(one, drawn, told))),
                    dom.fold('As the program prints it', false, dom.make('pre', {tabindex: '0'}, reply.text)));
                heading.focus({preventScroll: true});
                heading.scrollIntoView({block: 'start'});
            }
        }, {class: 'main'});
        place.append(dom.make('div', {class: 'row'}, button, dom.button('Say what the controls are', () => start.change('controls.throttle.rest_v', 'checks'))), result);
    }

    /* ---- a course of one's own ------------------------------------------------------------------ */

    const typed = (text) => inputs.point(text || '').replace(/\s/g, '');

    /* A row of it: what, to what, at which second. */
    function row(one, at, redraw) {
        const action = actions.find(({word}) => word === one.word);
        const what = dom.make('select', {'aria-label': `Action ${at + 1}`, onchange: (event) => {
            const next = actions.find(({word}) => word === event.target.value);
            course[at] = {...one, word: next.word, value: next.choices ? next.choices[0] : next.value};
            redraw(`[aria-label="Action ${at + 1}"]`);
        }}, actions.map(({word, title}) => dom.make('option', {value: word, selected: word === one.word}, title)));
        const hear = (name) => (event) => {
            course[at][name] = event.target.value;
        };
        const value = action.choices
            ? dom.make('select', {'aria-label': `${action.title}, action ${at + 1}`, onchange: hear('value')}, action.choices.map((word) =>
                dom.make('option', {value: word, selected: word === one.value}, named(word))))
            : dom.make('input', {type: 'text', inputmode: 'decimal', autocomplete: 'off', value: one.value, 'aria-label': `${action.title}, action ${at + 1}`, oninput: hear('value')});
        const when = dom.make('input', {type: 'text', inputmode: 'decimal', autocomplete: 'off', value: one.at, 'aria-label': `Second of action ${at + 1}`, oninput: hear('at')});
        return dom.make('li', {class: 'action'}, what, dom.make('span', {class: 'row'}, value, action.unit ? dom.make('span', {class: 'unit'}, action.unit) : null),
            dom.make('span', {class: 'row'}, 'at', when, 'seconds', dom.button('Take out', () => {
                course.splice(at, 1);
                redraw('.more-actions');
            }, {'aria-label': `Take out action ${at + 1}`})));
    }

    function ownCourse(drawn) {
        const rows = dom.make('ol', {class: 'lines'});
        const note = dom.make('p', {class: 'problem', role: 'alert', hidden: true});
        const more = dom.button('One more action', () => {
            const last = course[course.length - 1];
            course.push({word: 'grip', value: '0', at: last ? String(Number(typed(last.at)) + 1 || 1) : '1'});
            redraw('.more-actions');
        }, {class: 'more-actions'});
        const draw = dom.button('Simulate it', async () => {
            const text = course.map(({word, value, at}) => `${word}=${typed(value)}@${typed(at)}`).join(' ');
            note.hidden = true;
            const reply = await checks.work(draw, request({course: text}), 'Simulating this course', true);
            if (reply && reply.ok) {
                put(drawn, 'Your own course', reply);
            } else if (reply) {
                note.textContent = held.textsOf(reply)[0] || reply.summary;
                note.hidden = false;
            }
        }, {class: 'main'});
        const fold = dom.fold('A course of your own', false, dom.make('p', {class: 'soft'}, 'The key is on at the start, and all else at rest.'),
            rows, note, dom.make('div', {class: 'row'}, more, draw));
        function redraw(focus) {
            rows.replaceChildren(...course.map((one, at) => row(one, at, redraw)));
            more.disabled = course.length >= most;
            draw.disabled = !course.length;
            const next = focus ? fold.querySelector(focus) : null;
            if (next) {
                next.focus();
            }
        }
        redraw();
        return fold;
    }

    function show(place) {
        const drawn = checks.room();
        const choice = dom.make('select', {onchange: (event) => {
            wiring = event.target.value;
        }}, dom.make('option', {value: ''}, held.machine.leads_known ? 'the first correct one' : 'none'), Array.from({length: 36}, (_, k) =>
            dom.make('option', {value: String(k + 1), selected: wiring === String(k + 1)}, `wiring ${k + 1}`)));
        /* Where nobody knows which lead is which, a number names no wiring: it counts where none is correct. */
        place.replaceChildren(dom.make('label', {class: 'row'}, held.machine.leads_known ? 'Joined is' : 'If no wiring is correct, take', choice));
        allCases(place, drawn);
        place.append(ownCourse(drawn), drawn);
    }

    return {show};
}());
