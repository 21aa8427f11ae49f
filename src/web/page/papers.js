/* What goes on paper: the wiring sheet, and the likeliest steps as a numbered list; and whether the parts go
   together. */
const papers = (function () {
    let making = false;

    async function put(request, name, how) {
        if (making) {
            return;
        }
        making = true;
        const reply = await held.work(request, how);
        making = false;
        const place = dom.byId('paper');
        if (!reply || !place) {
            return;
        }
        place.replaceChildren(dom.make('div', {class: 'row screen'}, dom.button('Print', () => window.print(), {class: 'main'}),
            dom.button('Download', () => files.download(name, reply.html, 'text/html')), files.share(name, reply.html, 'text/html')), dom.paper(reply.html));
        place.scrollIntoView({block: 'start'});
    }

    /* A line of the fit: its state, what it is about, what to do. */
    const line = ({state, title, figures, advice}) => dom.make('li', {},
        dom.make('strong', {}, /^(look|stop)$/.test(state) ? state.toUpperCase() : state), ` ${title}${figures ? `: ${figures}` : ''}. `,
        dom.make('span', {class: 'soft'}, advice));

    async function fit() {
        if (making) {
            return;
        }
        making = true;
        const reply = await held.work({do: 'fit', shape: 'phone', columns: 49}, {words: 'Simulating the machine on the road', aside: 'papers'});
        making = false;
        const place = dom.byId('paper');
        if (!reply || !place) {
            return;
        }
        const heading = dom.make('h3', {id: 'fit', tabindex: '-1'}, 'Parts and road');
        place.replaceChildren(heading, dom.make('ul', {}, reply.lines.map(line)),
            ...reply.pictures.map(({svg, alt}) => dom.picture(svg, alt)).filter(Boolean),
            dom.fold('All of it, with rules and sources', false, dom.make('pre', {}, reply.text)));
        heading.focus({preventScroll: true});
        place.scrollIntoView({block: 'start'});
    }

    function show() {
        const place = dom.byId('papers');
        const base = held.state.name.replace(/\.ya?ml$/i, '');
        if (held.state.scenario === null) {
            place.replaceChildren(dom.make('p', {}, 'There is no machine yet.'));
            return;
        }
        const wiring = dom.make('select', {}, dom.make('option', {value: ''}, 'as the log says'),
            Array.from({length: 36}, (_, k) => dom.make('option', {value: String(k + 1)}, `wiring ${k + 1}`)));
        const label = dom.make('label', {class: 'row'}, 'Correct is', wiring);
        place.replaceChildren(dom.make('h2', {tabindex: '-1', class: 'screen'}, 'On paper'), dom.make('div', {class: 'row screen'},
            dom.button('The wiring sheet', () => put({do: 'sheet', ...(wiring.value ? {wiring: wiring.value} : {})}, `${base}-sheet.html`), {class: 'main'}), label,
            dom.button('The likeliest steps as a list', () => put({do: 'paper'}, `${base}-steps.html`, {words: 'Working out the likeliest steps', aside: 'papers'})),
            dom.button('Do the parts go together?', fit)),
        dom.make('p', {class: 'soft screen'}, 'The sheet is for whoever opens this hub next: lead to lead, readings, settings. The list goes along where no phone may; it takes a while. Whether battery, controller, fuse, leads and axle go together, and speed, hill and heat on the road, goes by the scenario: what it does not state is named.'),
        dom.make('div', {id: 'paper'}));
    }

    return {show};
}());
