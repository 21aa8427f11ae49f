/* The form of an empty page: what the library calls the essentials of a machine. It can be opened again
   to change what it said, and the log goes on. */
const start = (function () {
    const kept = 'start';
    let values = {};
    /* The form of the machine in hand is changed; else another machine is filled in. */
    let changing = false;
    /* What the scenario states of each key before it is changed. */
    let before = {};
    /* The key that one came to fill in, and the part of the page that one came from. */
    let wanted = '';
    let cameFrom = '';
    /* A scenario to look around with. */
    let example = '';

    /* Whether a text speaks of the key of a field; one without a dot is a word of its own. */
    const isNamed = (text, one) => one.key.includes('.') && text.includes(one.key);

    /* Which field a problem is about: its own, the first of its group, or one that it names. */
    function fieldOf({key, text}, fields) {
        return fields.find((one) => one.key === key) || fields.find((one) => one.key.startsWith(`${key}.`)) ||
            fields.find((one) => isNamed(text, one)) || null;
    }

    /* In the words of the form. */
    function told({key, text}, fields) {
        const own = text.startsWith(`${key} `) && fields.some((one) => one.key === key) ? `It${text.slice(key.length)}` : text;
        return fields.reduce((words, one) => (isNamed(words, one) ? words.replaceAll(one.key, `"${one.label}"`) : words), own);
    }

    const isLeft = (one) => one.required && !(values[one.key] || '').trim();

    /* What the form states of a field, also where nobody touched it. */
    const stated = ({key, preset}) => (values[key] === undefined ? (!changing && preset) || '' : values[key]).trim();

    /* Of a field that was left empty and must not be. */
    function needed(one) {
        const kind = one.type === 'whole' ? 'a whole number' : 'a number';
        const range = one.above ? `above ${one.min} and at most ${one.max}` : `from ${one.min} to ${one.max}`;
        const expected = ['number', 'whole'].includes(one.type) ? `: ${kind} ${range}${one.unit ? ` ${one.unit}` : ''}` : '';
        return `Needed. ${dom.sentence(`${one.label}${expected}`)}`;
    }

    /* What is reckoned with where nothing is stated: of the machine in hand, or of any. */
    function usual(one) {
        const found = changing ? held.parameters.find(({key, origin}) => key === one.key && origin !== 'scenario') : null;
        const value = found ? found.value : one.default;
        if (value === null || value === undefined || value === '') {
            return one.choices.length ? 'not stated' : null;
        }
        const plain = said(one, value.replace(/^\[|\]$/g, ''));
        return one.unknown && plain === 'none' ? 'not known' : found && found.origin === 'derived' ? `from the rest: ${plain}` : `usual: ${plain}`;
    }

    /* A word of a choice as a fitter says it. */
    const said = (one, word) => (one.said && one.said[one.choices.indexOf(word)]) || word.replaceAll('_', ' ');

    /* A word of a choice; the first says what nothing stated means. */
    function choose(one, attributes, own) {
        const words = one.preset && !changing ? one.choices : ['', ...one.choices];
        const now = own === undefined ? (!changing && one.preset) || '' : own;
        return dom.make('select', attributes, words.map((word) => dom.make('option', {value: word, selected: word === now},
            word ? said(one, word) : usual(one))));
    }

    function field(one, fields, problems) {
        const id = `essential-${one.key}`;
        const notes = problems.filter((problem) => fieldOf(problem, fields) === one).map((problem) => problem.needed || told(problem, fields));
        const about = one.hint || (one.why ? dom.sentence(inputs.upper(one.why.replace(/^chosen: /, ''))) : '');
        const attributes = {
            id, 'aria-describedby': about ? `${id}-why` : null, 'aria-invalid': notes.length ? 'true' : null,
            oninput: (event) => {
                values[one.key] = event.target.value;
                if (!changing) {
                    keep.write(kept, values);
                }
            }
        };
        const own = values[one.key];
        const input = one.choices && one.choices.length
            ? choose(one, attributes, own)
            : dom.make('input', {
                ...attributes, type: 'text', value: own === undefined ? '' : own, autocomplete: 'off',
                inputmode: {number: 'decimal', whole: 'numeric'}[one.type] || 'text',
                placeholder: usual(one)
            });
        return dom.make('div', {class: 'field'}, dom.make('label', {for: id}, one.label, one.required && !changing ? ' (needed)' : ''), input,
            one.unit ? dom.make('span', {class: 'unit'}, one.unit) : null,
            ...notes.map((text) => dom.make('p', {class: 'problem', role: 'alert'}, text)),
            about ? dom.make('p', {class: 'soft', id: `${id}-why`}, about) : null);
    }

    /* Names stand three in a row, as the leads do in a plug. */
    const isName = (one) => one.type === 'text' && one.default !== null;

    function group({title, rare, fields: own}, fields, problems) {
        const body = dom.make('div', {class: own.every(isName) ? 'names' : 'fields'}, own.map((one) => field(one, fields, problems)));
        if (!rare) {
            return dom.make('fieldset', {}, dom.make('legend', {}, title), body);
        }
        const open = own.some((one) => one.key === wanted || (!changing && (values[one.key] || '').trim()) ||
            problems.some((problem) => fieldOf(problem, fields) === one));
        const told = own.filter((one) => (values[one.key] || '').trim()).length;
        const fold = dom.fold(changing && told ? `${title}: ${told} stated` : title, open, body);
        fold.classList.add('rare');
        return fold;
    }

    /* What the file is called: as the machine is. */
    const fileName = () => `${(values.name || '').toLowerCase().replace(/[^a-z0-9]+/g, '-').replace(/^-|-$/g, '').slice(0, 40) || 'machine'}.yaml`;

    /* A list as it is typed: "50, 75, 100", "2000 m at 0 %; 500 m at 6 %". A comma between figures is a decimal
       one, unless there are several. */
    function entries(text) {
        const parts = text.split(/;\s*|,\s+/).flatMap((part) => (/,.*,/.test(part) ? part.split(',') : [part]));
        return parts.map((part) => part.trim().replace(/(\d),(\d)/g, '$1.$2')).filter(Boolean);
    }

    function typed(one, text) {
        return one.type === 'list' && text ? entries(text) : /^-?\d+,\d+$/.test(text) ? inputs.point(text) : text;
    }

    /* What the form states, key by key, of the fields that are wanted. */
    function given(groups, isWanted) {
        const all = groups.flatMap(({fields}) => fields).map((one) => ({one, text: stated(one)}));
        return Object.fromEntries(all.filter(isWanted).map(({one, text}) => [one.key, typed(one, text)]));
    }

    /* What was stated otherwise: all else of the scenario stays as it is written. */
    async function amend(groups) {
        const changed = given(groups, ({one, text}) => text !== (before[one.key] || ''));
        if (!Object.keys(changed).length) {
            await held.go(cameFrom || 'bench');
            return;
        }
        const reply = await held.work({do: 'amend', values: changed}, {judged: true});
        if (!reply) {
            return;
        }
        if (!reply.ok) {
            draw(groups, reply.problems, reply.problems.length ? null : reply.summary);
            return;
        }
        await held.restate({scenario: reply.scenario});
        if (cameFrom && held.state.scenario === reply.scenario) {
            await held.go(cameFrom);
        }
    }

    async function compose(groups) {
        const reply = await held.work({do: 'compose', values: given(groups, ({text}) => text)}, {judged: true});
        if (!reply) {
            return;
        }
        if (reply.ok) {
            await held.begin(fileName(), reply.scenario, null, {isComposed: true, asks: true});
            if (held.state.scenario === reply.scenario) {
                keep.remove(kept); /* the next machine begins with an empty form */
            }
        } else {
            /* What the library says of a field that was left empty names keys: here it is said by labels. */
            const fields = groups.flatMap((group) => group.fields);
            const left = fields.filter(isLeft);
            const problems = [...left.map((one) => ({key: one.key, text: '', needed: needed(one)})),
                ...reply.problems.filter((problem) => !left.includes(fieldOf(problem, fields)))];
            draw(groups, problems, problems.length ? null : reply.summary);
        }
    }

    /* What the folded groups are for, by what reckons with them. */
    const heads = [[null, 'Seldom known, and usual if left empty', ''],
        ['fit', 'Before the first ride: do the parts go together?', 'Nothing of this is needed at the bench. What a part bears is named as not known where you leave it empty; of rider, wheel, road and winding usual values are taken.'],
        ['controls', 'Grip, brakes, pedals, speed switch', 'What they make the machine do, also with a lead lost or a part of the other sort.']];

    const folded = (groups, fields, problems) => heads.map(([what, title, about]) => dom.make('section', {},
        dom.make('h3', {}, title), about ? dom.make('p', {class: 'soft'}, about) : null,
        groups.filter(({rare, of}) => rare && of === what).map((one) => group(one, fields, problems))));

    function draw(groups, problems, summary) {
        const fields = groups.flatMap((group) => group.fields);
        const place = dom.byId('start');
        dom.byId('files').replaceChildren();
        const others = problems.filter((problem) => !fieldOf(problem, fields));
        place.replaceChildren(...[dom.make('h2', {tabindex: '-1'}, changing ? 'Change your machine' : 'Your machine'),
            dom.make('p', {}, changing ? 'What you change is changed in the scenario; all else in it, remarks too, stays as it is written. Your answers stay, and are weighed anew.'
                : 'Fill in what you know. What you leave empty is taken as usual, and is marked so afterwards.'),
            changing ? null : dom.make('div', {class: 'row'}, files.openScenario(),
                dom.button('Look around with an example', () => held.begin('example.yaml', example, null)),
                dom.button('Practise on a hidden machine', () => held.go('practise'))),
            summary ? dom.make('p', {class: 'problem', role: 'alert'}, summary) : null,
            ...others.map((problem) => dom.make('p', {class: 'problem', role: 'alert'}, told(problem, fields))),
            dom.make('form', {
                onsubmit(event) {
                    event.preventDefault();
                    (changing ? amend : compose)(groups);
                }
            }, groups.filter(({rare}) => !rare).map((one) => group(one, fields, problems)),
            folded(groups, fields, problems),
            dom.make('div', {class: 'safe'}, dom.make('strong', {}, 'Cautions first. '), held.about.cautions),
            dom.make('div', {class: 'row'}, dom.make('button', {type: 'submit', class: 'main'}, changing ? 'Take it so' : 'Go to the bench')))].filter(Boolean));
        const wrong = place.querySelector('[aria-invalid]') || (wanted ? dom.byId(`essential-${wanted}`) : null);
        if (wrong) {
            wrong.focus();
        }
    }

    async function show() {
        if (!changing) {
            const begun = keep.read(kept);
            values = begun && typeof begun === 'object' && !Array.isArray(begun) ? begun : {};
        }
        const reply = await held.work({do: 'essentials'});
        if (reply) {
            ({example} = reply);
            draw(reply.groups, [], null);
        }
    }

    /* Another machine. */
    async function fill() {
        changing = false;
        wanted = '';
        await held.go('start');
    }

    /* What the scenario in hand states, to be stated otherwise. `key`: what one came for, from `part`. */
    async function change(key = '', part = '') {
        changing = true;
        wanted = key;
        cameFrom = part;
        before = Object.fromEntries(held.parameters.filter(({origin}) => origin === 'scenario')
            .map(({key: own, value}) => [own, value.replace(/^\[|\]$/g, '')]));
        values = {...before};
        await held.go('start');
        wanted = '';
    }

    /* Something is filled in that no machine holds yet. */
    const isBegun = () => document.body.dataset.part === 'start' && Object.values(values).some(Boolean);

    return {show, fill, change, isBegun};
}());
