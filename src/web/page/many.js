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

    /* The library that keeps the motors that are done, while there are more to come; how many there are. */
    let hand = null;
    let done = 0;

    function forget() {
        if (hand) {
            hand.end({left: true});
        }
        hand = null;
        done = 0;
    }

    /* Motor by motor, so that Stop finds whole ones: what is done by then is told, and kept to go on from. Before
       the first one, and tapped again, it stops at once. */
    function survey(asked) {
        let isStopped = false;
        hand = hand || face.makeHand();
        hand.stop = () => {
            if (isStopped || done === 0) {
                hand.end({stopped: true});
                forget();
            }
            isStopped = true;
            dom.byId('waiting').textContent = 'Stopping when this motor is done';
        };
        return face.aside(hand, async (ask) => {
            let reply;
            do {
                reply = await ask({...asked, at_once: 1});
                done = reply.motors || done;
            } while (reply.ok && reply.motors < reply.of && !isStopped);
            return reply.ok && reply.motors < reply.of ? ask({...asked, at_once: 0, sum: true}) : reply;
        });
    }

    const counted = (count) => `${count} ${count === 1 ? 'motor' : 'motors'}`;

    function tell(result, reply, goOn) {
        const base = files.base();
        const isWhole = reply.motors === reply.of;
        const heading = dom.make('h3', {tabindex: '-1'}, `${isWhole ? counted(reply.motors) : `The first ${reply.motors} of ${counted(reply.of)}`}, seed ${reply.seed}`);
        const rest = dom.button(`Go on to all ${reply.of}`, () => goOn(rest));
        result.replaceChildren(heading, ...(isWhole ? [] : [dom.make('p', {}, 'Stopped. All below is about those that are done; they are kept while this page is open.'), dom.make('div', {class: 'row'}, rest)]),
            ...checks.pictures(reply.pictures),
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
        forget();
        seed = seed === null ? stated ? stated.value : '1' : seed;
        const result = checks.room();
        const note = dom.make('p', {class: 'problem', role: 'alert', hidden: true});
        const lasts = dom.make('p', {class: 'soft', id: 'many-lasts'});
        const meanwhile = 'It can be stopped: what is done by then is shown, and can go on. The rest of the page can be used meanwhile.';
        const estimate = () => {
            const count = whole(motors, 1, most);
            lasts.textContent = count === null ? '' : pace === null ? `30 take ten seconds on a laptop, a minute or so on a phone. ${meanwhile}`
                : `About ${minutes(count * pace)}, as the last one went. ${meanwhile}`;
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
            forget();
            run(button, {do: 'spread', motors: count, seed: first, shape: 'phone', columns: checks.columns()});
        }, {class: 'main'});
        async function run(by, asked) {
            const began = Date.now();
            const before = done;
            const reply = await checks.work(by, () => survey(asked), `Simulating ${counted(asked.motors)}`);
            if (reply) {
                pace = (Date.now() - began) / 1000 / Math.max(1, reply.motors - before);
                estimate();
                tell(result, reply, (rest) => run(rest, asked));
            }
            if (!reply || reply.motors === reply.of) {
                forget();
            }
        }
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
