/* The form of an empty page: what the library calls the essentials of a machine. It can be opened again
   to change what it said, and the log goes on. */
const start = (function () {
    const kept = 'start';
    let values = {};
    /* The form of the machine in hand is changed; else another machine is filled in. */
    let changing = false;
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
    const stated = ({key, preset}) => (values[key] === undefined ? preset || '' : values[key]).trim();

    /* Of a field that was left empty and must not be. */
    function needed(one) {
        const kind = one.type === 'whole' ? 'a whole number' : 'a number';
        const range = one.above ? `above ${one.min} and at most ${one.max}` : `from ${one.min} to ${one.max}`;
        const expected = ['number', 'whole'].includes(one.type) ? `: ${kind} ${range}${one.unit ? ` ${one.unit}` : ''}` : '';
        return `Needed. ${dom.sentence(`${one.label}${expected}`)}`;
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
            ? dom.make('select', attributes, one.choices.map((word) => dom.make('option', {
                value: word, selected: word === (own === undefined ? one.preset || one.default : own)
            }, word.replaceAll('_', ' '))))
            : dom.make('input', {
                ...attributes, type: 'text', value: own === undefined ? '' : own, autocomplete: 'off',
                inputmode: {number: 'decimal', whole: 'numeric'}[one.type] || 'text',
                placeholder: one.default ? `usual: ${one.default}` : null
            });
        return dom.make('div', {class: 'field'}, dom.make('label', {for: id}, one.label, one.required ? ' (needed)' : ''), input,
            one.unit ? dom.make('span', {class: 'unit'}, one.unit) : null,
            ...notes.map((text) => dom.make('p', {class: 'problem', role: 'alert'}, text)),
            about ? dom.make('p', {class: 'soft', id: `${id}-why`}, about) : null);
    }

    /* Names stand three in a row, as the leads do in a plug. */
    const isName = (one) => one.type === 'text' && one.default !== null;

    function group({title, rare, fields: own}, fields, problems) {
        /* The log bears the machine's name, and goes on under it. */
        const asked = own.filter(({key}) => !(changing && held.entries.length && key === 'name'));
        const body = dom.make('div', {class: own.every(isName) ? 'names' : 'fields'}, asked.map((one) => field(one, fields, problems)));
        if (!rare) {
            return dom.make('fieldset', {}, dom.make('legend', {}, title), body);
        }
        const wanted = own.some((one) => (values[one.key] || '').trim() || problems.some((problem) => fieldOf(problem, fields) === one));
        const fold = dom.fold(title, wanted, body);
        fold.classList.add('rare');
        return fold;
    }

    /* What the file is called: as the machine is. */
    const fileName = () => `${(values.name || '').toLowerCase().replace(/[^a-z0-9]+/g, '-').replace(/^-|-$/g, '').slice(0, 40) || 'machine'}.yaml`;

    async function compose(groups) {
        const given = {};
        groups.flatMap(({fields}) => fields).forEach((one) => {
            const text = stated(one);
            if (text) {
                given[one.key] = /^-?\d+,\d+$/.test(text) ? inputs.point(text) : text;
            }
        });
        const reply = await held.work({do: 'compose', values: given}, {judged: true});
        if (!reply) {
            return;
        }
        if (reply.ok) {
            await (changing ? held.restate({scenario: reply.scenario, values}) : held.begin(fileName(), reply.scenario, null, null, values));
            if (held.state.scenario === reply.scenario && !changing) {
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

    function draw(groups, problems, summary) {
        const fields = groups.flatMap((group) => group.fields);
        const place = dom.byId('start');
        const others = problems.filter((problem) => !fieldOf(problem, fields));
        place.replaceChildren(...[dom.make('h2', {tabindex: '-1'}, changing ? 'Change your machine' : 'Your machine'),
            dom.make('p', {}, changing ? 'Your answers stay as they are, and are weighed anew.'
                : 'Fill in what you know. What you leave empty is taken as usual, and is marked so afterwards.'),
            changing ? null : dom.make('div', {class: 'row'}, files.openScenario(),
                dom.button('Look around with an example', () => held.begin('example.yaml', example, null))),
            summary ? dom.make('p', {class: 'problem', role: 'alert'}, summary) : null,
            ...others.map((problem) => dom.make('p', {class: 'problem', role: 'alert'}, told(problem, fields))),
            dom.make('form', {
                onsubmit(event) {
                    event.preventDefault();
                    compose(groups);
                }
            }, groups.filter(({rare}) => !rare).map((one) => group(one, fields, problems)),
            dom.make('h3', {}, 'Seldom known, and usual if left empty'),
            groups.filter(({rare}) => rare).map((one) => group(one, fields, problems)),
            dom.make('div', {class: 'safe'}, dom.make('strong', {}, 'Cautions first. '), held.about.cautions),
            dom.make('div', {class: 'row'}, dom.make('button', {type: 'submit', class: 'main'}, 'Go to the bench')))].filter(Boolean));
        const wrong = place.querySelector('[aria-invalid]');
        if (wrong) {
            wrong.focus();
        }
    }

    async function show() {
        if (!changing) {
            const before = keep.read(kept);
            values = before && typeof before === 'object' && !Array.isArray(before) ? before : {};
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
        await held.go('start');
    }

    /* What the form said of the machine in hand, to be said otherwise. */
    async function change() {
        changing = true;
        values = {...held.state.values};
        await held.go('start');
    }

    return {show, fill, change};
}());
