/* What goes on paper: the wiring sheet, and the likeliest steps as a numbered list. */
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

    function show() {
        const place = dom.byId('papers');
        const base = files.base();
        if (held.state.scenario === null) {
            place.replaceChildren(dom.make('p', {}, 'There is no machine yet.'));
            return;
        }
        const wiring = dom.make('select', {}, dom.make('option', {value: ''}, 'as the log says'),
            Array.from({length: 36}, (_, k) => dom.make('option', {value: String(k + 1)}, `wiring ${k + 1}`)));
        const label = dom.make('label', {class: 'row'}, 'Correct is', wiring);
        place.replaceChildren(dom.make('h2', {tabindex: '-1', class: 'screen'}, 'On paper'), dom.make('div', {class: 'row screen'},
            dom.button('The wiring sheet', () => put({do: 'sheet', ...(wiring.value ? {wiring: wiring.value} : {})}, `${base}-sheet.html`), {class: 'main'}), label,
            dom.button('The likeliest steps as a list', () => put({do: 'paper'}, `${base}-steps.html`, {words: 'Working out the likeliest steps', aside: 'papers'}))),
        dom.make('p', {class: 'soft screen'}, 'The sheet is for whoever opens this hub next: lead to lead, readings, settings. The list goes along where no phone may; it takes a while.'),
        dom.make('div', {id: 'paper'}));
    }

    return {show};
}());
