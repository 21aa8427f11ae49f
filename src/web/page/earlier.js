/* Then and now: an earlier log held against the one in hand, and the scenario with what the log told. */
const earlier = (function () {
    function compared(reply, name) {
        const heading = dom.make('h3', {tabindex: '-1'}, `Since ${name}`);
        return [heading, dom.make('pre', {tabindex: '0'}, reply.text)];
    }

    /* The scenario with what the log told of this machine, to be downloaded or gone on with. */
    function learnt() {
        const result = checks.room();
        const name = `${files.base()}-learnt.yaml`;
        const button = dom.button('The scenario with these figures', async () => {
            const reply = await held.work({do: 'learnt'}, {judged: true});
            if (!reply || !result.isConnected) {
                return;
            }
            if (!reply.ok) {
                result.replaceChildren(dom.make('p', {class: 'problem', role: 'alert'}, dom.sentence(inputs.upper(reply.summary))));
                return;
            }
            result.replaceChildren(dom.make('h3', {tabindex: '-1'}, `${reply.changes} ${reply.changes === 1 ? 'figure' : 'figures'} of its own`),
                ...reply.doubtful.map(({title, finding}) => dom.make('p', {}, checks.badge(finding), ` ${inputs.upper(title)}: mend or measure again first. These figures are of the machine as it was measured.`)),
                dom.make('div', {class: 'row'}, dom.button('Download', () => files.download(name, reply.scenario, 'application/yaml'), {class: 'main'}),
                    files.share(name, reply.scenario)),
                dom.fold('Show it', false, dom.make('pre', {tabindex: '0'}, reply.scenario)));
            result.querySelector('h3').focus({preventScroll: true});
        });
        return [dom.make('h3', {}, 'What it told of itself'), dom.make('p', {class: 'soft'},
            'Speed per volt, resistance, drag, heat and controls, as the log has them, each with where it comes from. Everything else stays as it is written. The file belongs beside the log.'),
        dom.make('div', {class: 'row'}, button), result];
    }

    function show(place) {
        const result = checks.room();
        const same = dom.make('input', {id: 'same-meters', type: 'checkbox'});
        const open = files.opener({id: 'then-in', words: 'Open the earlier log', sort: 'log', ends: '.bench.yaml'}, async (name, text) => {
            const reply = await held.work({do: 'compare', then: text, then_name: name, same_meters: same.checked, columns: checks.columns()});
            if (reply && result.isConnected) {
                result.replaceChildren(...compared(reply, name));
                result.querySelector('h3').focus({preventScroll: true});
                result.scrollIntoView({block: 'start'});
            }
        });
        place.replaceChildren(dom.make('p', {}, 'The log in hand is that of now. Figures come from the steps after the wiring; only what both logs tell is compared.'),
            dom.make('p', {}, same, dom.make('label', {for: 'same-meters'}, ' Both were read with the same meters, speedometer and bench supply: smaller changes show then.')),
            dom.make('div', {class: 'row'}, open), result, ...learnt());
    }

    return {show};
}());
