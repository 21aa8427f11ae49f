/* Practice: a hidden machine plays the bench. All of it follows from level, seed and what was asked, which is
   what the browser keeps: a page that was left goes on where it was. */
const practise = (function () {
    const kept = 'practise';
    /* {level, seed, own, time, steps}: what was begun; null: nothing is. */
    let game = null;
    /* What the library said of the bench, and last of the learner's path; null until it has. */
    let table = null;
    let path = null;
    let levels = [];

    const place = () => dom.byId('practise');

    function keepGame() {
        keep.write(kept, game);
    }

    const isGame = (one) => Boolean(one) && typeof one.level === 'string' && Number.isInteger(one.seed) && Array.isArray(one.steps);

    /* Shows parts, and puts the reader at the first of them. */
    function put(heading, ...parts) {
        const title = dom.make('h2', {tabindex: '-1'}, heading);
        place().replaceChildren(...[title, ...parts.flat()].filter(Boolean));
        title.focus({preventScroll: true});
        window.scrollTo(0, 0);
    }

    /* ---- asking the library --------------------------------------------------------------------- */

    function beginning(steps) {
        const own = game.own && held.state.scenario !== null;
        const known = keep.read(own ? `${held.key} table` : `${kept} table`);
        return {
            do: 'practise', level: game.level, seed: game.seed, time: game.time, steps, table: known || null,
            ...(own ? {scenario: held.state.scenario, name: held.state.name} : {})
        };
    }

    const isLost = (reply) => !reply.ok && (reply.problems || []).some(({key}) => key === 'practise');

    function complain(reply) {
        held.complain(reply.summary || 'That did not work.', held.textsOf(reply));
    }

    async function begin(steps) {
        const reply = await held.work(beginning(steps), {judged: true, words: 'Making the bench ready; a new sort of motor is simulated once'});
        if (!reply) {
            return false;
        }
        if (!reply.ok) {
            complain(reply);
            return false;
        }
        table = reply;
        ({path} = reply);
        if (reply.table) {
            keep.write(game.own ? `${held.key} table` : `${kept} table`, reply.table);
        }
        return true;
    }

    /* The answer, or null when there is none and the reader knows why. A library that begins anew is told first
       of what was asked. */
    async function ask(request) {
        let reply = await held.work(request, {judged: true});
        if (reply && isLost(reply)) {
            reply = await begin(game.steps) ? await held.work(request, {judged: true}) : null;
        }
        if (reply && !reply.ok) {
            complain(reply);
            return null;
        }
        return reply;
    }

    /* ---- the beginning -------------------------------------------------------------------------- */

    const drawSeed = () => 1 + Math.floor(Math.random() * 9999);

    /* What was left is kept already, and another window may have gone on with it since. */
    async function play(next) {
        game = next;
        if (await begin(next.steps)) {
            if (!next.steps.length) {
                keepGame();
            }
            showBench(null, '');
        } else {
            game = null;
        }
    }

    const start = (level, seed, own) => play({level, seed, own, time: held.now(), steps: []});

    function choose() {
        const before = keep.read(kept);
        const seed = dom.make('input', {id: 'practise-seed', type: 'text', inputmode: 'numeric', autocomplete: 'off', value: String(drawSeed())});
        const own = held.state.scenario === null ? null : dom.make('input', {id: 'practise-own', type: 'checkbox'});
        const wrong = dom.make('p', {class: 'problem', role: 'alert', hidden: true}, 'A whole number from 1 to 1000000000, please.');
        put('Practise on a hidden machine',
            dom.make('p', {}, 'Choose readings and trials, see what a person would see, and say what you have found. Then your steps stand beside those of the advice. Nothing here is live.'),
            isGame(before) && before.steps.length ? dom.make('div', {class: 'row'}, dom.button(
                `Go on with ${before.level}, seed ${before.seed}: ${before.steps.length} ${before.steps.length === 1 ? 'step' : 'steps'}`, () => play(before))) : null,
            dom.make('div', {class: 'field'}, dom.make('label', {for: 'practise-seed'}, 'Seed: the same number is the same machine, for a class or two teams'), seed), wrong,
            own ? dom.make('p', {}, own, dom.make('label', {for: 'practise-own'}, ' With the parts of the machine in hand')) : null,
            dom.make('h3', {}, 'What is hidden?'),
            inputs.answers(levels.map(({level, words}) => ({word: level, text: `${level}: ${words}`})), null, (level) => {
                const number = Number(seed.value.trim());
                wrong.hidden = Number.isInteger(number) && number >= 1 && number <= 1e9;
                if (wrong.hidden) {
                    start(level, number, Boolean(own && own.checked));
                } else {
                    seed.focus();
                }
            }));
    }

    /* ---- at the bench --------------------------------------------------------------------------- */

    const last = () => path.steps[path.steps.length - 1];

    const counted = () => `${Math.round(path.minutes)} ${Math.round(path.minutes) === 1 ? 'minute' : 'minutes'}, ${path.trials} ${path.trials === 1 ? 'run' : 'runs'} under power` +
        (path.risks ? `, ${path.risks} ${path.risks === 1 ? 'risk' : 'risks'} taken` : '');

    const risk = ({text, met}) => dom.make('p', {class: met ? 'problem' : 'warned'}, dom.make('strong', {}, met ? 'Gone wrong: ' : 'A risk: '), text);

    /* What the last step showed. */
    function shown(told) {
        const step = last();
        return [dom.make('p', {class: 'shown'}, step.words), ...step.risks.map(risk),
            dom.make('p', {class: 'told'}, told ? `${told} ` : '', step.left_words)];
    }

    function entries(title) {
        const steps = path.steps.filter(({number}) => number !== null);
        return steps.length ? dom.fold(`${title}: ${steps.length}`, false, dom.make('ol', {class: 'entries'}, steps.map((step) =>
            dom.make('li', {value: step.number}, dom.make('p', {}, step.words, step.given ? ' (was there)' : ''),
                dom.make('div', {class: 'row'}, dom.button('Take it out', () => drop(step.number), {'aria-label': `Take entry ${step.number} out of the log`})))))) : null;
    }

    /* With what each is, until one was taken: then they are known, and room is short. */
    const kinds = (begun) => table.choices.map(({kind, title, menu}) => ({word: kind, text: begun || !menu ? title : `${title}: ${menu}`}));

    function showBench(told, note) {
        const begun = told !== null;
        const given = !begun && path.asked === 0 && table.given > 0;
        const short = path.asked > 0 || given;
        const grid = inputs.answers(kinds(short), null, pick);
        grid.classList.add('kinds');
        grid.classList.toggle('few', short);
        put(begun ? `${inputs.upper(last().name)}` : `Level ${table.level}, seed ${table.seed}`,
            begun ? shown(told) : dom.make('p', {}, `${table.aim} ${table.codes}`),
            note ? dom.make('p', {class: 'told'}, note) : null,
            given ? dom.make('ol', {class: 'left'}, path.steps.filter(({number}) => number !== null)
                .map((step) => dom.make('li', {value: step.number}, step.words))) : null,
            dom.make('h3', {}, path.asked ? 'What now? ' : 'What will you do?', path.asked ? dom.make('span', {class: 'soft'}, counted()) : null),
            grid,
            dom.make('div', {class: 'row'}, dom.button('Say what you found', () => claim(), {class: 'main'}), dom.button('Hint', hint),
                dom.button('Another machine', choose)),
            begun ? null : dom.make('p', {class: 'soft'}, table.counts),
            entries('The log'));
    }

    /* The choices of one question in place of the bench; the last of them leads back. */
    function question(heading, ...parts) {
        put(heading, ...parts, dom.make('div', {class: 'row'}, dom.button('Back', () => showBench(path.asked ? '' : null, ''))));
    }

    const words = (list) => list.map((text) => ({word: text, text}));

    function pick(kind) {
        const choice = table.choices.find((one) => one.kind === kind);
        if (choice.trial) {
            wiring('Which wiring will you try?', feed);
        } else if (choice.by_lead) {
            question(`${inputs.upper(choice.title)}: which phase lead?`, inputs.answers(words(table.leads.phase), null, (lead) => take({kind, lead})));
        } else {
            take({kind});
        }
    }

    /* A wiring by its number, or by which lead goes to which. */
    function wiring(heading, done) {
        const {phase, sensor, output, input} = table.leads;
        const number = dom.make('input', {id: 'practise-wiring', type: 'text', inputmode: 'numeric', autocomplete: 'off'});
        const joints = (places, leads) => places.map((name, k) => {
            const id = `practise-${leads === phase ? 'phase' : 'hall'}-${k}`;
            return {
                select: dom.make('select', {id}, leads.map((lead, j) => dom.make('option', {value: lead, selected: j === k}, lead))),
                label: dom.make('label', {for: id}, `${leads === phase ? 'Output' : 'Input'} ${name}`)
            };
        });
        const halls = joints(input, sensor);
        const phases = joints(output, phase);
        const shownAs = (list) => dom.make('div', {class: 'joints'}, list.map(({label, select}) => dom.make('div', {}, label, select)));
        question(heading, dom.make('form', {
            class: 'number', onsubmit(event) {
                event.preventDefault();
                if (number.value.trim()) {
                    done(number.value.trim());
                } else {
                    number.focus();
                }
            }
        }, dom.make('label', {for: 'practise-wiring'}, 'Its number, 1 to 36'), number, dom.make('button', {type: 'submit', class: 'main'}, 'Take it')),
        dom.make('h3', {}, 'Or by its leads'), dom.make('p', {class: 'soft'}, 'Hall leads'), shownAs(halls),
        dom.make('p', {class: 'soft'}, 'Phase leads'), shownAs(phases),
        dom.make('div', {class: 'row'}, dom.button('Take these leads', () => {
            const joined = (list) => list.map(({select}) => select.value).join(', ');
            done(`${joined(halls)} / ${joined(phases)}`);
        })));
    }

    function feed(text) {
        question('What feeds it?', inputs.answers(table.feeds.map((one) => ({word: one.feed, text: `${one.feed}: ${one.text}`})), null,
            (chosen) => take({kind: table.choices.find(({trial}) => trial).kind, wiring: text, feed: chosen})));
    }

    async function take(chosen) {
        const step = {...chosen, time: held.now()};
        const reply = await ask({do: 'practise_take', ...step});
        if (reply) {
            ({path} = reply);
            game.steps.push(step);
            keepGame();
            showBench(reply.told, '');
        } else {
            showBench(path.asked ? '' : null, '');
        }
    }

    async function drop(number) {
        const gone = {number, time: held.now()};
        const reply = await ask({do: 'practise_drop', ...gone});
        if (reply) {
            ({path} = reply);
            game.steps.push(gone);
            keepGame();
            showBench(path.asked ? '' : null, `Entry ${number} is taken out; the others keep their numbers.`);
        }
    }

    async function hint() {
        const reply = await ask({do: 'practise_hint'});
        if (reply) {
            ({path} = reply);
            showBench(path.asked ? '' : null, `Hint: ${dom.sentence(reply.title)} ${reply.reason} ${reply.again}`);
        }
    }

    /* ---- the end -------------------------------------------------------------------------------- */

    function claim() {
        const all = [{word: 'wiring', text: 'wiring: this wiring is correct'}, {word: 'fault', text: 'fault: this is the matter with the machine'},
            table.given ? {word: 'entry', text: 'entry: this entry of the log that was there is wrong'} : null,
            {word: 'nothing', text: 'nothing: you have not found it, and want to see'}].filter(Boolean);
        const next = {
            wiring: () => wiring('Which wiring is correct?', (text) => end({claim: 'wiring', wiring: text})), fault, entry,
            nothing: () => end({claim: 'nothing'})
        };
        question('What have you found?', inputs.answers(all, null, (word) => next[word]()));
    }

    function fault() {
        question('What is the matter?', inputs.answers(table.faults.map(({fault: word, text}) => ({word, text: dom.sentence(inputs.upper(text))})), null, (word) => {
            const {leads} = table.faults.find((one) => one.fault === word);
            if (leads) {
                question('On which lead?', inputs.answers(words(leads), null, (lead) => end({claim: 'fault', fault: word, lead})));
            } else {
                end({claim: 'fault', fault: word});
            }
        }));
    }

    function entry() {
        const given = path.steps.filter((step) => step.given);
        question('Which entry is wrong?', inputs.answers(given.map(({words: text}, k) => ({word: String(k + 1), text: `${k + 1}: ${text}`})), null,
            (word) => end({claim: 'entry', number: Number(word)})));
    }

    async function end(said) {
        const reply = await ask({do: 'practise_end', ...said});
        if (!reply) {
            return;
        }
        ({path} = reply);
        keep.remove(kept);
        showEnd(reply);
    }

    const rows = [['Said', ({end: word, answer}) => `${inputs.upper(word)}: ${answer}`], ['Steps', ({asked}) => String(asked)],
        ['Runs under power', ({trials}) => String(trials)], ['Minutes', ({minutes}) => String(Math.round(minutes))],
        ['Risks taken', ({risks, met}) => (met ? `${risks}, gone wrong ${met}` : String(risks))], ['Hints', ({hints}) => String(hints)]];

    function told(title, {steps}) {
        const own = steps.map((step, k) => ({...step, at: k + 1})).filter(({given}) => !given);
        return dom.make('section', {}, dom.make('h3', {}, title), own.length ? dom.make('ol', {class: 'entries'}, own.map((step) =>
            dom.make('li', {value: step.at}, dom.make('strong', {}, inputs.upper(step.name)),
                dom.make('p', {}, step.words), dom.make('p', {class: 'soft'}, `${step.told} ${step.number === null ? '' : step.left_words}`),
                ...step.risks.map(risk)))) : dom.make('p', {class: 'soft'}, 'No step was taken.'));
    }

    function showEnd(reply) {
        const {learner, advice} = reply;
        put(inputs.upper(learner.end), dom.make('p', {class: 'shown'}, reply.words), dom.make('p', {}, reply.truth),
            dom.make('table', {class: 'paths'}, dom.make('thead', {}, dom.make('tr', {}, dom.make('td', {}),
                dom.make('th', {scope: 'col'}, 'You'), dom.make('th', {scope: 'col'}, 'The advice'))),
            dom.make('tbody', {}, rows.map(([name, of]) => dom.make('tr', {}, dom.make('th', {scope: 'row'}, name),
                dom.make('td', {}, of(learner)), dom.make('td', {}, of(advice)))))),
            dom.make('div', {class: 'row'}, dom.button('Another machine', choose, {class: 'main'}),
                dom.button('The same again', () => start(game.level, game.seed, game.own)),
                dom.button('Download your log', () => files.download(table.log_name, reply.log, 'application/yaml'))),
            dom.make('div', {class: 'beside'}, told('What each of your steps told', learner), told('What each step of the advice told', advice)));
    }

    async function show() {
        if (!levels.length) {
            const reply = await held.work({do: 'practise'});
            levels = reply ? reply.levels : [];
        }
        choose();
    }

    return {show};
}());
