/* At the bench: one step, and below it the answers. Nothing of an entry is lost once it is tapped: what
   is half said is kept, too, and the log is written before any advice is asked for. */
const bench = (function () {
    /* What the library said last: its advice and the entries of the log. */
    let advice = null;
    /* The machine that it is of. */
    let machine = '';
    let problem = null;
    /* What is written down instead of the step, while it is: its card stands in the step's place. */
    let shown = '';
    /* What is asked now: {kind, number, questions, title}; the last: of the step that leads to it. */
    let form = null;
    /* Characters of a line of text on a phone. */
    const narrow = 49;

    const half = () => held.state.draft;

    /* One thing at a time: a second tap while the first is worked on is none. */
    let acting = false;
    const once = (action) => async (...given) => {
        if (acting) {
            return;
        }
        acting = true;
        try {
            await action(...given);
        } finally {
            acting = false;
        }
    };
    const titleOf = () => advice.card.title;
    /* The kind of entry that the step leads to; '' where it leads to none. */
    const entryOf = () => (advice.form ? advice.form.kind : '');

    /* ---- the step ------------------------------------------------------------------------------- */

    /* One sort of step: its how-to is folded once it was seen. */
    const sort = () => `${advice.json.advice.kind} ${entryOf()}`;

    function careful(texts) {
        return texts && texts.length
            ? dom.make('ul', {class: 'care'}, texts.map((text) => dom.make('li', {}, text))) : null;
    }

    function action(how) {
        const {text, details = [], cautions = []} = how;
        return dom.make('li', {}, text, careful(cautions), details.length
            ? dom.fold('How', false, details.map((line) => dom.make('p', {}, line))) : null);
    }

    function howTo(card, seen) {
        if (!card.how.length) {
            return careful(card.cautions);
        }
        const fold = dom.fold(`What to do, in ${card.how.length} ${card.how.length === 1 ? 'action' : 'actions'}`, !seen,
            dom.make('ol', {class: 'how'}, card.how.map(action)), careful(card.cautions));
        fold.classList.add('main');
        return fold;
    }

    const safety = (card) => (card.safe
        ? dom.make('div', {class: 'safe'}, dom.make('strong', {}, 'Safe now? '), card.safe) : null);

    const titled = (title, text) => (text ? [dom.make('h3', {}, title), dom.make('p', {}, text)] : []);

    /* What the last answer told, and what another window wrote. */
    function before() {
        const {told} = held.state;
        const parts = [];
        if (held.news) {
            parts.push(dom.make('p', {class: 'told news'}, held.news));
        }
        if (told && told.meant) {
            parts.push(dom.make('div', {class: 'told'}, dom.make('strong', {}, 'Your last answer: '), told.meant,
                told.counted ? dom.fold('In figures', false, dom.make('p', {}, told.counted)) : null));
        }
        return parts;
    }

    /* Why it is this step, or this one again. */
    const why = ({title, reason}) => titled(held.state.titles.includes(title) ? 'Why this step again' : 'Why this step', reason);

    const asked = () => (window.innerWidth < 600 ? {do: 'advice', columns: narrow} : {do: 'advice'});

    /* As `hubphase next` prints it; with what is left and how each answer moved it, if that is wanted. */
    function standing() {
        const text = dom.make('pre', {tabindex: '0'}, advice.text);
        const more = dom.button('And why: what is left, and what each answer moved', async () => {
            const reply = await held.work({...asked(), why: true});
            if (reply) {
                text.textContent = reply.text;
                more.remove();
                text.focus();
            }
        });
        return dom.fold('Where things stand', false, text, dom.make('div', {class: 'row'}, more));
    }

    function showings() {
        const list = advice.json.advice.showings || [];
        return list.length ? dom.fold('What it may show', false, dom.make('ul', {}, list.map(({sentence}) =>
            dom.make('li', {}, sentence)))) : null;
    }

    const answersAgain = () => dom.make('ol', {class: 'entries'}, held.entries.map((entry) =>
        dom.make('li', {}, dom.make('p', {}, entry.words, entry.note ? ` (${entry.note})` : ''), dom.make('div', {class: 'row'},
            dom.button('Change', () => begin(entry.kind, entry.number), {'aria-label': `Change answer ${entry.number}`}),
            dom.button('Drop', () => drop(entry.number), {'aria-label': `Drop answer ${entry.number}`})))));

    function earlier() {
        const {entries} = held;
        if (!entries.length) {
            return null;
        }
        return dom.fold(`Earlier answers: ${entries.length}`, false, answersAgain());
    }

    /* What was said not to be possible here, to be taken back. */
    function leftOut() {
        const all = held.entries.filter(({leaves_out: kind}) => kind);
        const titleOfKind = (kind) => held.about.kinds.find((one) => one.kind === kind).title;
        return all.length ? dom.fold(`Left out here: ${all.length}`, false, dom.make('ul', {class: 'said'}, all.map(({leaves_out: kind, number, note}) =>
            dom.make('li', {}, dom.button(`${inputs.upper(titleOfKind(kind))}${note ? ` (${note})` : ''}: can be done after all`, () => drop(number)))))) : null;
    }

    /* How it is connected, or which leads are to be joined: drawn after the words are there. */
    async function addPicture(place, request) {
        try {
            const reply = await face.ask({do: 'picture', shape: 'phone', ...request});
            const figure = reply.ok && place.isConnected ? dom.picture(reply.svg, reply.alt) : null;
            if (figure) {
                place.replaceChildren(figure);
            }
        } catch (stopped) {
            /* The step is there without its picture. */
        }
    }

    /* Where the log knows it. */
    function plug() {
        const place = dom.make('div', {class: 'drawing'});
        if (held.entries.length) {
            addPicture(place, {name: 'plug'});
        }
        return place;
    }

    /* What commissioning ends with, once no step of it is left, stands above all: nobody unfolds what seems to be
       done. The wiring's own end comes below. */
    function tellEnd(heading, ending, {json: {next, why_words: words, steps}}) {
        if (next) {
            return;
        }
        const [end, ...reasons] = dom.sentences(words);
        heading.replaceChildren(dom.make('span', {}, end.replace(/\.$/, '')));
        ending.replaceChildren(dom.make('ul', {class: 'shown'}, reasons.map((text) => dom.make('li', {}, text)),
            steps.filter(({finding}) => finding === 'look').map(({title, means, otherwise}) =>
                dom.make('li', {}, dom.make('strong', {}, 'look '), `${title}. ${[means, otherwise].filter(Boolean).join(' ')}`))),
        dom.make('h3', {}, advice.card.title));
        dom.say(heading.textContent);
    }

    /* Where commissioning stands, as `hubphase commission` prints it: filled in once the step is there. */
    function afterwards(heading, ending) {
        if (!advice.found) {
            return null;
        }
        const text = dom.make('pre', {tabindex: '0'});
        const fold = dom.fold('After the wiring: what is done, what was found', false, text);
        face.ask(window.innerWidth < 600 ? {do: 'commission', columns: narrow} : {do: 'commission'}).then((reply) => {
            text.textContent = reply.ok ? reply.text : reply.summary;
            if (reply.ok && advice.ended) {
                tellEnd(heading, ending, reply);
            }
        }, () => {});
        return fold;
    }

    function drawings() {
        const {connect, wiring} = advice;
        const place = dom.make('div', {class: 'drawing'});
        if (connect) {
            addPicture(place, {name: 'connect'});
        } else if (wiring) {
            addPicture(place, {name: 'joints', advised: true});
        }
        return place;
    }

    function showStep() {
        const {card} = advice;
        const place = dom.byId('step');
        const heading = dom.make('h2', {tabindex: '-1', class: card.stop ? 'stop' : null}, `Step ${held.entries.length + 1}. ${card.title}`);
        const ending = dom.make('div', {class: 'ending'});
        shown = '';
        place.replaceChildren(...[heading, ending, safety(card), ...before(),
            howTo(card, held.state.seen.includes(sort())), drawings(),
            ...why(card), ...titled('What good parts give', card.healthy),
            ...titled('Write down', card.note), plug(), showings(), afterwards(heading, ending), standing(), earlier(),
                advice.ended ? null : leftOut()].filter(Boolean));
        return heading;
    }

    /* Something else, or an earlier answer: what makes it safe and how it is done, not the step's. */
    function showOther(reply, {number, pinned}) {
        const {card, title} = reply;
        const heading = number !== null ? `Answer ${number} again: ${title}` : pinned ? `Begun before: ${title}` : `Something else: ${title}`;
        dom.byId('step').replaceChildren(...[dom.make('h2', {tabindex: '-1'}, heading),
            ...(number === null ? [safety(card)] : []), ...before().filter((part) => pinned || part.matches('.news')),
            ...(number === null && !pinned ? [howTo(card, true)] : [])].filter(Boolean));
    }

    /* A step of commissioning, once a wiring runs: all that its card says. */
    function showAfter(reply) {
        const {card} = reply;
        const {done, steps} = advice.json.commissioning;
        dom.byId('step').replaceChildren(...[dom.make('h2', {tabindex: '-1'}, `After the wiring, ${done} of ${steps} done. ${card.title}`),
            safety(card), ...before(), howTo(card, false), ...why(card),
            ...titled('What good parts give', card.healthy), ...titled('Write down', card.note)].filter(Boolean));
    }

    const isNextAfter = (kind) => advice.found && Boolean(advice.json.commissioning) && advice.json.commissioning.next === kind;

    /* The advice took something otherwise when this was begun: it is not the step any more. */
    const strays = ({questions}, {pinned}) => Object.entries(pinned || {}).some(([key, text]) =>
        !questions.some((question) => question.key === key && question.advised && question.fallback === text));

    /* The card of what is asked now. */
    function showCard(reply, draft) {
        const other = draft && (draft.number !== null || draft.kind !== entryOf() || strays(reply, draft)) ? `${draft.kind} ${draft.number}` : '';
        if (other !== shown) {
            shown = other;
            if (other && draft.number === null && isNextAfter(draft.kind)) {
                showAfter(reply);
            } else if (other) {
                showOther(reply, draft);
            } else {
                showStep();
            }
        }
    }

    /* ---- the answers ---------------------------------------------------------------------------- */

    /* What was said to a question; "": left out; null: nothing yet. */
    const valueOf = (question, values) => (question.key in values ? values[question.key] : null);
    const isOptional = (question) => !question.required && !question.fallback;
    const isGate = (question) => question.type === 'gate';

    /* The first questions are answered by the advice itself, as which wiring is tried. */
    const isTaken = (questions, at, values) => !(questions[at].key in values) &&
        questions.slice(0, at + 1).every(({fallback, advised}) => fallback && advised);

    /* To be put now: nobody has answered it. Gates wait behind the last question. */
    const isOpen = (questions, at, values) =>
        !(questions[at].key in values) && !isGate(questions[at]) && !isTaken(questions, at, values);

    /* The open ones, when none of them must be answered. */
    function spare(questions, values) {
        const open = questions.filter((question, at) => isOpen(questions, at, values));
        return open.every(isOptional) ? open : [];
    }

    const without = (values, key) => Object.fromEntries(Object.entries(values).filter(([name]) => name !== key));

    /* What the advice goes by. */
    const basis = () => keep.mark([held.state.scenario, held.state.log || ''].join('\n'));

    /* What the advice answers itself is kept with what is half said: by the time that it goes on, the advice
       may be another one. */
    function setDraft(draft) {
        const isOurs = draft && form && form.kind === draft.kind && form.number === draft.number && draft.at === basis();
        const given = isOurs ? Object.fromEntries(form.questions.filter((question, at) => isTaken(form.questions, at, draft.values))
            .map(({key, fallback}) => [key, fallback])) : draft && draft.given;
        held.state.draft = draft && {...draft, given, idle: undefined};
        held.save();
    }

    const hasWords = ({order, typed, note}) => order.length > 0 || Object.values(typed || {}).some(Boolean) || note !== '';

    /* What was begun before the log became another one: what the advice took then is pinned down, and an entry
       that is changed is looked for where it is now. Where it is gone, it is written anew. */
    function carriedOver(draft) {
        const under = draft.under && carriedOver(draft.under);
        if (draft.at === basis()) {
            return {...draft, under};
        }
        const entry = held.entries.find(({time, kind}) => time === draft.entered && kind === draft.kind);
        return {
            ...draft, under, at: basis(), values: {...draft.given, ...draft.values}, given: {},
            pinned: {...draft.pinned, ...draft.given}, number: draft.number !== null && entry ? entry.number : null
        };
    }

    /* What is half said, or null; what nobody touched yet is none. */
    function halfSaid() {
        const draft = half();
        const isNone = !draft || draft.idle || (draft.at !== basis() && !hasWords(draft));
        return isNone ? draft && draft.under && carriedOver(draft.under) : carriedOver(draft);
    }

    /* What was half said before goes on after it. */
    function startDraft(kind, number, values, order) {
        const entry = held.entries.find((one) => one.number === number);
        const last = halfSaid();
        problem = null;
        setDraft({
            kind, number, values, order, note: entry ? entry.note : '', entered: entry ? entry.time : null, at: basis(),
            under: last && hasWords(last) ? last : last && last.under
        });
    }

    const begin = once(async (kind, number = null) => {
        const entry = held.entries.find((one) => one.number === number);
        startDraft(kind, number, entry ? entry.values : {}, []);
        await showForm(true);
    });

    const isTyped = (question, {typed}) => Boolean(typed) && typeof typed[question.key] === 'string';

    const answer = once(async (question, text) => {
        const draft = half();
        problem = null;
        setDraft({
            ...draft, values: {...draft.values, [question.key]: text},
            order: [...draft.order.filter((one) => one !== question.key), question.key], again: null,
            typed: without(draft.typed || {}, question.key)
        });
        await showForm(true);
    });

    /* A step that cannot be done here: an entry of its own, to be confirmed. */
    const leaveOut = once(async (step) => {
        startDraft('left_out', null, {step}, ['step']);
        await showForm(true);
    });

    const goBack = once(async () => {
        const draft = half();
        const last = draft.order[draft.order.length - 1];
        problem = null;
        setDraft({...draft, order: draft.order.slice(0, -1), again: null, mended: last === 'mended' ? null : draft.mended, values: without(draft.values, last)});
        await showForm(true);
    });

    const leave = once(async () => {
        problem = null;
        setDraft(half().under || null);
        await showForm(true);
    });

    /* Another window wrote: it is looked at first, and what is half said stays. */
    async function isBehind() {
        if (!await held.catchUp()) {
            return false;
        }
        await show(true);
        return true;
    }

    const write = once(async (questions) => {
        if (await isBehind()) {
            return;
        }
        const draft = half();
        const request = {
            do: draft.number === null ? 'answer' : 'change', kind: draft.kind, values: draft.values,
            note: draft.note, typical: false
        };
        const said = draft.when ? held.now(new Date(draft.when)) : null;
        if (draft.number === null) {
            request.time = said || held.now();
        } else {
            request.number = draft.number;
            request.time = said || held.entries.find((entry) => entry.number === draft.number).time;
            request.changed = held.now();
        }
        const reply = await held.work(request, {judged: true});
        if (!reply || await isBehind()) {
            return;
        }
        if (!reply.ok) {
            const first = reply.problems.find(({key}) => questions.some((one) => one.key === key)) || reply.problems[0];
            problem = first ? first.text : reply.summary;
            const question = first && questions.find((one) => one.key === first.key);
            if (question) {
                setDraft({...draft, again: question.key});
            }
            await showForm(true);
            return;
        }
        const {state} = held;
        state.log = reply.log;
        state.told = {meant: reply.meant || '', counted: reply.counted || ''};
        if (draft.number === null) {
            state.titles = [...state.titles, form.title].slice(-40);
        }
        /* What was begun of a step that cannot be done is not gone on with. */
        const {under} = draft;
        state.draft = (under && draft.kind === 'left_out' && under.kind === draft.values.step ? under.under : under) || null;
        state.seen = [...new Set([...state.seen, sort()])];
        held.news = '';
        held.entries = reply.entries;
        held.save();
        await show(true);
    });

    const drop = once(async (number) => {
        if (!window.confirm(`Drop answer ${number}? It stays in the log as a comment.`)) {
            return;
        }
        const reply = await isBehind() ? null : await held.work({do: 'drop', number, time: held.now()});
        if (reply && !await isBehind()) {
            held.state.log = reply.log;
            held.state.told = null;
            held.news = '';
            held.entries = reply.entries;
            held.save();
            await show(true);
        }
    });

    /* ---- the sheet at the bottom ---------------------------------------------------------------- */

    const menus = () => held.about.kinds.map(({kind, menu}) => ({word: kind, text: menu ? `${kind}: ${menu}` : kind}));

    function other() {
        const sheet = dom.byId('answers');
        sheet.replaceChildren(dom.make('h3', {tabindex: '-1'}, 'What do you want to write down?'),
            inputs.put({type: 'choice', choices: menus(), text: ''}, null, (kind) => begin(kind)),
            dom.make('div', {class: 'row'}, dom.button('Back', () => showForm(true))));
        sheet.querySelector('h3').focus({preventScroll: true});
    }

    /* What can be done with the step besides answering. */
    function more() {
        const leaves = advice.may_be_left_out ? [dom.button('Cannot do this here', () => leaveOut(entryOf()))]
            : advice.must ? [dom.fold('Cannot do this here', false, dom.make('p', {}, advice.must))] : [];
        return dom.make('div', {class: 'row more'}, ...leaves, dom.button('Something else', other));
    }

    const wordOf = (question, text) => {
        const step = held.about.kinds.find(({kind}) => kind === text);
        const own = (question.choices || []).find(({word}) => word === text);
        const what = question.noun ? `${question.noun} ` : '';
        if (own) {
            return step && own.text === (step.menu || step.title) ? own.text : /^(?:[^:]{1,40}: )?(.*)$/s.exec(own.text)[1];
        }
        return `${what}${text}${question.unit && text !== 'open' ? ` ${question.unit}` : ''}`;
    };

    function askOne(sheet, questions, at) {
        const {key} = questions[at];
        const draft = half();
        const question = {
            ...questions[at], machine: held.machine.leads, leads: held.machine.leads.sensor.map(({label}) => label),
            typed: (text) => setDraft({...half(), typed: {...half().typed, [key]: text}})
        };
        const own = isTyped(question, draft) ? draft.typed[key] : valueOf(question, draft.values);
        const left = isOptional(question) ? [dom.button(inputs.upper(question.shown ? question.shown.replace(/^Enter: /, '') : 'leave it out'),
            () => answer(question, ''), {class: 'skip-it'})] : [];
        sheet.append(dom.make('p', {class: 'question', id: 'question', tabindex: '-1', 'data-key': question.key, 'data-type': question.type}, question.text));
        if (problem) {
            sheet.append(dom.make('p', {class: 'problem', role: 'alert'}, problem));
        }
        sheet.append(inputs.put(question, own === null ? question.fallback : own, (text) => answer(question, text)));
        if (question.help) {
            sheet.append(dom.fold('Help', false, dom.make('p', {}, question.help)));
        }
        const back = draft.order.length ? [dom.button('Back', () => goBack())]
            : shown ? [dom.button('Leave it', leave)] : [];
        const rest = spare(questions, draft.values);
        const enough = rest.length > 1 ? [dom.button('That is all', () => {
            setDraft({...draft, again: null, values: {...draft.values, ...Object.fromEntries(rest.map(({key}) => [key, '']))}});
            showForm(true);
        }, {class: 'enough'})] : [];
        sheet.append(dom.make('div', {class: 'row'}, ...left, ...enough, ...back));
    }

    /* A mend is asked for before it is written: that the step is read does not mend anything. */
    const isMend = (draft) => advice.mends && draft.kind === entryOf() && draft.number === null && !shown;
    const mends = [{word: 'yes', text: 'Yes'}, {word: 'not_yet', text: 'Not yet'}, {word: 'slip', text: 'The reading was a slip'}];

    function askMend(sheet, questions) {
        const draft = half();
        const suspects = questions.filter((question, at) => isTaken(questions, at, draft.values)).map((question) => wordOf(question, question.fallback));
        sheet.append(dom.make('p', {class: 'question', id: 'question', tabindex: '-1', 'data-key': 'mended', 'data-type': 'mended'},
            `Is it mended${suspects.length ? ` (${suspects.join(', ')})` : ''}?`),
        inputs.put({type: 'choice', choices: mends}, draft.mended || null, once(async (word) => {
            setDraft({...draft, mended: word, order: word === 'yes' ? ['mended'] : []});
            await showForm(true);
        })));
        if (draft.mended === 'not_yet') {
            sheet.append(dom.make('p', {role: 'status'}, 'Then nothing is written down. All is kept here: come back once it is mended.'));
        } else if (draft.mended === 'slip') {
            sheet.append(dom.make('p', {role: 'status'}, 'Which answer was it? It is said again, or dropped, and the work goes on without the mend.'), answersAgain());
        }
    }

    /* When it was seen: now, or as the entry has it, unless it is said. */
    function when(draft) {
        const entry = held.entries.find((one) => one.number === draft.number);
        const input = dom.make('input', {
            type: 'datetime-local', id: 'when-in', value: draft.when || (entry ? entry.time : held.now()).slice(0, 16),
            oninput: () => setDraft({...half(), when: input.value})
        });
        return dom.fold('When was that?', Boolean(draft.when), dom.make('label', {for: 'when-in'}, 'Date and time'), input);
    }

    /* All that was said, each to be changed, before it is written. */
    function confirm(sheet, questions) {
        const draft = half();
        const lines = questions.map((question) => {
            const own = valueOf(question, draft.values);
            const text = own === null ? isGate(question) ? 'no' : question.fallback : own && question.taken && !question.choices ? question.taken : own;
            return dom.make('li', {}, dom.make('button', {
                type: 'button', onclick() {
                    setDraft({...draft, again: question.key});
                    showForm(true);
                }
            }, dom.make('span', {}, question.text), ' ', dom.make('strong', {}, text ? wordOf(question, text) : 'left out')));
        });
        const note = dom.make('input', {
            type: 'text', id: 'note-in', value: draft.note, maxlength: '1000',
            oninput: () => setDraft({...half(), note: note.value})
        });
        sheet.append(dom.make('p', {class: 'question', id: 'question', tabindex: '-1', 'data-key': 'confirm', 'data-type': 'confirm'},
            isMend(draft) ? 'Is that what was mended?' : 'Is that what you saw?'));
        if (problem) {
            sheet.append(dom.make('p', {class: 'problem', role: 'alert'}, problem));
        }
        sheet.append(dom.button(draft.number === null ? 'Yes, write it down' : 'Yes, change it', () => write(questions), {class: 'main write'}),
            dom.make('ul', {class: 'said'}, lines), dom.make('label', {for: 'note-in'}, 'A note, if you like'), note, when(draft),
            dom.make('div', {class: 'row'}, dom.button('Back', () => goBack(), {disabled: !draft.order.length}),
                dom.button('Leave it', leave)));
    }

    /* What was taken from the advice, so that one sees it and can say otherwise. */
    function taken(questions, values) {
        const chips = questions.filter((question, at) => isTaken(questions, at, values));
        return chips.length ? dom.fold(`As advised: ${chips.map((question) => wordOf(question, question.fallback)).join(', ')}`, false,
            dom.make('div', {class: 'row chips'}, chips.map((question) =>
                dom.button(`${question.text.replace(/\?[^]*$/, '?')} ${wordOf(question, question.fallback)}: change it`, () => {
                    setDraft({...half(), again: question.key});
                    showForm(true);
                }, {class: 'chip', 'data-key': question.key, 'data-value': question.fallback})))) : null;
    }

    function showEnd(sheet) {
        const {commissioning} = advice.json;
        const misfits = commissioning && commissioning.why === 'fit';
        const first = misfits ? [dom.button('Checks: which parts do not go together', () => checks.go('fit'), {class: 'main'})] : [];
        const papers = dom.button('Wiring sheet and print', () => held.go('papers'), misfits ? {} : {class: 'main'});
        const after = advice.found && !advice.check_failed && commissioning && commissioning.next
            ? [dom.button(`After the wiring: ${commissioning.done} of ${commissioning.steps} steps done, go on`,
                () => begin(commissioning.next), {class: 'main after'})] : [];
        const check = advice.form ? [dom.button('Write the check down', () => begin(entryOf()))] : [];
        sheet.replaceChildren(...[dom.make('div', {class: 'row'}, ...after, ...first, ...check, papers), leftOut(), more()].filter(Boolean));
    }

    async function showForm(moveFocus) {
        const sheet = dom.byId('answers');
        const begun = halfSaid();
        held.state.draft = begun;
        if (!begun && (advice.ended || !advice.form)) {
            form = null;
            showCard(null, null);
            showEnd(sheet);
            return;
        }
        const draft = begun || {kind: entryOf(), number: null, values: {}, order: [], note: '', at: basis(), idle: true};
        const request = {do: 'form', kind: draft.kind, values: draft.values};
        const reply = await held.work(request);
        if (!reply) {
            return;
        }
        const {questions} = reply;
        form = {kind: draft.kind, number: draft.number, questions, title: reply.card.title};
        held.state.draft = half() || draft;
        sheet.replaceChildren();
        showCard(reply, draft);
        /* What is none of its answers is told at once. */
        const wrong = questions.find((question) => question.problem);
        const asked = draft.again || (wrong && wrong.key);
        problem = problem || (wrong && wrong.key === asked ? dom.sentence(wrong.problem) : null);
        const again = questions.findIndex((question) => question.key === asked);
        const at = again >= 0 ? again : questions.findIndex((question, k) =>
            isOpen(questions, k, draft.values));
        if (isMend(draft) && draft.mended !== 'yes') {
            askMend(sheet, questions);
        } else if (at >= 0) {
            const chips = draft.order.length === 0 ? taken(questions, draft.values) : null;
            askOne(sheet, questions, at);
            if (chips) {
                sheet.append(chips);
            }
        } else {
            confirm(sheet, questions);
        }
        if (draft.number === null && isNextAfter(draft.kind) && draft.order.length === 0) {
            sheet.append(dom.make('div', {class: 'row more'}, dom.button('Cannot do this here', () => leaveOut(draft.kind))));
        }
        if (!shown && draft.order.length === 0) {
            sheet.append(more());
        }
        sheet.append(toggle(sheet));
        sheet.scrollTop = 0;
        if (moveFocus) {
            dom.byId('question').focus({preventScroll: true});
        }
    }

    /* The sheet made small, to read the step behind it, and large again. */
    function toggle(sheet) {
        sheet.classList.remove('folded');
        const button = dom.make('button', {
            type: 'button', class: 'toggle', 'aria-expanded': 'true', 'aria-label': 'Answers', onclick() {
                const folded = sheet.classList.toggle('folded');
                button.setAttribute('aria-expanded', String(!folded));
                button.textContent = folded ? '\u25b4' : '\u25be';
            }
        }, '\u25be');
        return button;
    }

    /* ---- all of it ------------------------------------------------------------------------------ */

    /* A step of another machine is none of this one: nothing of it stays while the advice is not there. */
    function forgetOthers() {
        const now = [held.key, held.state.scenario].join('\n');
        if (now === machine) {
            return;
        }
        machine = now;
        advice = null;
        form = null;
        problem = null;
        shown = '';
        dom.byId('step').replaceChildren();
        dom.byId('answers').replaceChildren();
    }

    /* Asks for the advice and shows it. */
    async function show(moveFocus) {
        forgetOthers();
        const reply = await held.ready() ? await held.work(asked()) : null;
        if (!reply) {
            if (!advice) {
                dom.byId('answers').replaceChildren(dom.button('Go on', () => show(true), {class: 'main'}));
            }
            return;
        }
        advice = reply;
        const heading = showStep();
        await showForm(false);
        if (moveFocus && document.body.dataset.part === 'bench') {
            dom.say(heading.textContent);
            window.scrollTo(0, 0);
            heading.focus({preventScroll: true});
        }
    }

    return {show, begin};
}());
