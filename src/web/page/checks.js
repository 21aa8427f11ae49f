/* What is found out of the whole machine besides its wiring: a list, and behind each entry a screen of its
   own. What was worked out stays until scenario or log say something else. */
const checks = (function () {
    /* Of which texts the screen is, and which. */
    let drawnOf = '';
    let open = null;

    const list = () => [
        {name: 'fit', title: 'Do the parts go together?', about: 'Battery, controller, fuse, plugs, leads and axle; speed, hill, range and heat on the road. Before anything is bought or ridden.', show: showFit},
        {name: 'ride', title: 'What grip, brakes and lost leads do', about: 'Simulated, wheel lifted: a lead that comes off, a brake switch of the other sort, pedals that stop.', show: ride.show},
        {name: 'earlier', title: 'Then and now', about: 'What changed since an earlier log of this machine, and the scenario with the figures that its log told.', show: earlier.show},
        {name: 'many', title: 'Many motors like this one', about: 'How sure the map is: the 36 wirings of motors that differ a little in what nobody measured.', show: many.show}];

    /* The result of what is worked out is put here, unless the reader has left meanwhile. */
    const room = () => dom.make('div', {class: 'result'});

    /* One screen: its heading, what leads back, and what it shows. */
    function enter(one) {
        open = one.name;
        const heading = dom.make('h2', {tabindex: '-1', id: one.name}, one.title);
        const place = dom.make('div', {class: 'check'});
        dom.byId('checks').replaceChildren(dom.make('div', {class: 'row screen'}, dom.button('All checks', leave)), heading,
            dom.make('p', {class: 'soft'}, one.about), place);
        heading.focus({preventScroll: true});
        window.scrollTo(0, 0);
        one.show(place);
    }

    function leave() {
        const from = open;
        open = null;
        drawList();
        const button = dom.byId(`check-${from}`);
        if (button) {
            button.focus();
        }
    }

    function drawList() {
        dom.byId('checks').replaceChildren(dom.make('h2', {tabindex: '-1'}, 'Checks'),
            dom.make('p', {}, 'They go by the scenario, and by the log where it says. None of them is leave to ride: try each on the machine itself, wheel lifted.'),
            dom.make('ul', {class: 'said'}, list().map((one) => dom.make('li', {}, dom.make('button', {
                type: 'button', id: `check-${one.name}`, onclick: () => enter(one)
            }, dom.make('strong', {}, one.title), dom.make('span', {}, one.about))))));
    }

    /* A finding as a badge. */
    const badge = (word) => dom.make('strong', {class: `found ${word.replace(/ /g, '-')}`}, /^(look|stop)$/.test(word) ? word.toUpperCase() : word);

    const pictures = (all) => all.map(({svg, alt}) => dom.picture(svg, alt)).filter(Boolean);

    /* Works something out for a screen: aside, so that the page goes on, and may be stopped. The button that
       asked for it rests meanwhile. Null: it was stopped, or has failed, and the reader knows; one with problems is
       handed on when `judged` says that the screen tells them. */
    async function work(button, request, words, judged = false) {
        button.disabled = true;
        const reply = await held.work(request, {words, aside: 'checks', judged});
        button.disabled = false;
        return reply && button.isConnected ? reply : null;
    }

    const columns = () => (window.innerWidth < 600 ? 49 : 79);

    /* ---- whether the parts go together ---------------------------------------------------------- */

    /* A line: its state, what it is about, what to do; and where it is not known, the form that asks. */
    function line({state, title, figures, advice, lacks}) {
        const asks = lacks.map(({key, label}) => dom.button(`Fill in: ${label}`, () => start.change(key, 'checks')));
        return dom.make('li', {}, badge(state), ` ${title}${figures ? `: ${figures}` : ''}. `, dom.make('span', {class: 'soft'}, advice),
            asks.length ? dom.make('div', {class: 'row'}, asks) : null);
    }

    /* What needs somebody first; else in the order of the rules. */
    const urgency = ['stop', 'look', 'not known'];
    const urgentFirst = (lines) => [...urgency, null].flatMap((state) => lines.filter((one) => (urgency.includes(one.state) ? one.state : null) === state));

    function showFit(place) {
        const result = room();
        const button = dom.button('Work it out', async () => {
            const reply = await work(button, {do: 'fit', shape: 'phone', columns: columns()}, 'Simulating the machine on the road');
            if (reply) {
                const heading = dom.make('h3', {tabindex: '-1'}, 'Parts and road');
                result.replaceChildren(heading, dom.make('p', {}, dom.make('strong', {}, reply.summary)), dom.make('ul', {class: 'lines'}, urgentFirst(reply.lines).map(line)), ...pictures(reply.pictures),
                    dom.fold('All of it, with rules and sources', false, dom.make('pre', {tabindex: '0'}, reply.text)));
                heading.focus({preventScroll: true});
                heading.scrollIntoView({block: 'start'});
            }
        }, {class: 'main'});
        place.replaceChildren(dom.make('div', {class: 'row'}, button, dom.button('Say more about the machine', () => start.change('', 'checks'))), result);
    }

    /* ---- all of it ------------------------------------------------------------------------------ */

    function show() {
        if (held.state.scenario === null) {
            dom.byId('checks').replaceChildren(dom.make('p', {}, 'There is no machine yet.'));
            return;
        }
        const now = keep.mark(`${held.key}\n${held.state.scenario}\n${held.state.log || ''}`);
        if (drawnOf === now && open) {
            return;
        }
        drawnOf = now;
        const one = list().find(({name}) => name === open);
        if (one) {
            enter(one);
        } else {
            drawList();
        }
    }

    /* To one of them, from elsewhere on the page. */
    function go(name) {
        open = name;
        drawnOf = '';
        held.go('checks');
    }

    return {show, go, work, room, badge, pictures, columns};
}());
