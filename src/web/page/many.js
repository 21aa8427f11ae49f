/* Many motors like the one in hand, each a little different in what is uncertain: how the verdicts of the 36
   wirings spread. */
const many = (function () {
    let motors = '30';
    let seed = null;
    const most = 10000;
    const mostSeed = 1000000000;

    const minutes = (seconds) => (seconds < 90 ? `${Math.max(5, Math.round(seconds / 5) * 5)} seconds` : `${Math.round(seconds / 60)} minutes`);

    /* Seconds that a motor took here, once it is known. */
    let pace = null;

    function tell(result, reply) {
        const base = files.base();
        const heading = dom.make('h3', {tabindex: '-1'}, `${reply.motors} motors, seed ${reply.seed}`);
        result.replaceChildren(heading, ...checks.pictures(reply.pictures),
            dom.fold('As the program prints it', false, dom.make('pre', {class: 'wide', tabindex: '0'}, reply.text)),
            dom.make('div', {class: 'row'}, dom.button('Download as JSON', () => files.download(`${base}-spread.json`, reply.json_file, 'application/json')),
                dom.button('Download as CSV', () => files.download(`${base}-spread.csv`, reply.csv_file, 'text/csv'))));
        heading.focus({preventScroll: true});
        heading.scrollIntoView({block: 'start'});
    }

    /* A whole number in its range, or null. */
    function whole(text, low, high) {
        const number = /^\d+$/.test(text.trim()) ? Number(text.trim()) : NaN;
        return number >= low && number <= high ? number : null;
    }

    const input = (id, label, value, hear) => dom.make('div', {class: 'field'}, dom.make('label', {for: id}, label), dom.make('input', {
        id, type: 'text', inputmode: 'numeric', autocomplete: 'off', value, oninput: (event) => hear(event.target.value)
    }));

    function show(place) {
        const stated = held.parameters.find(({key}) => key === 'spread.seed');
        seed = seed === null ? stated ? stated.value : '1' : seed;
        const result = checks.room();
        const note = dom.make('p', {class: 'problem', role: 'alert', hidden: true});
        const lasts = dom.make('p', {class: 'soft', id: 'many-lasts'});
        const estimate = () => {
            const count = whole(motors, 1, most);
            lasts.textContent = count === null ? '' : pace === null ? '30 take ten seconds on a laptop, a minute or so on a phone. It can be stopped; the rest of the page goes on meanwhile.'
                : `About ${minutes(count * pace)}, as the last one went. It can be stopped; the rest of the page goes on meanwhile.`;
        };
        const button = dom.button('Survey them', async () => {
            const count = whole(motors, 1, most);
            const first = whole(seed, 0, mostSeed);
            note.hidden = count !== null && first !== null;
            if (!note.hidden) {
                note.textContent = count === null ? `How many motors is "${motors}": a whole number from 1 to ${most} is wanted.`
                    : `The seed is "${seed}": a whole number from 0 to ${mostSeed} is wanted.`;
                return;
            }
            const began = Date.now();
            const reply = await checks.work(button, {do: 'spread', motors: count, seed: first, shape: 'phone', columns: checks.columns()},
                `Simulating ${count} ${count === 1 ? 'motor' : 'motors'}`);
            if (reply) {
                pace = (Date.now() - began) / 1000 / count;
                estimate();
                tell(result, reply);
            }
        }, {class: 'main'});
        place.replaceChildren(input('many-motors', 'Motors', motors, (text) => {
            motors = text;
            estimate();
        }), input('many-seed', 'Seed: the same one draws the same motors', seed, (text) => {
            seed = text;
        }), lasts, note, dom.make('div', {class: 'row'}, button), result);
        estimate();
    }

    return {show};
}());
