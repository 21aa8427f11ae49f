/* Then and now: an earlier log held against the one in hand, and the scenario with what the log told. */
const earlier = (function () {
    function compared(reply, name) {
        const heading = dom.make('h3', {tabindex: '-1'}, `Since ${name}`);
        return [heading, dom.make('pre', {tabindex: '0'}, reply.text)];
    }

    function show(place) {
        const result = checks.room();
        const open = files.opener({id: 'then-in', words: 'Open the earlier log', sort: 'log', ends: '.bench.yaml'}, async (name, text) => {
            const reply = await held.work({do: 'compare', then: text, then_name: name, columns: checks.columns()});
            if (reply && result.isConnected) {
                result.replaceChildren(...compared(reply, name));
                result.querySelector('h3').focus({preventScroll: true});
                result.scrollIntoView({block: 'start'});
            }
        });
        place.replaceChildren(dom.make('p', {}, 'The log in hand is that of now. Figures come from the steps after the wiring; only what both logs tell is compared.'),
            dom.make('div', {class: 'row'}, open), result);
    }

    return {show};
}());
