/* The form of an empty page: what the library calls the essentials of a machine. */
const start = (function () {
    const kept = 'start';
    let values = {};

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

    /* Of a field that was left empty and must not be. */
    function needed(one) {
        const kind = one.type === 'whole' ? 'a whole number' : 'a number';
        const range = one.above ? `above ${one.min} and at most ${one.max}` : `from ${one.min} to ${one.max}`;
        const expected = ['number', 'whole'].includes(one.type) ? `: ${kind} ${range}${one.unit ? ` ${one.unit}` : ''}` : '';
        return `Needed. ${dom.sentence(`${one.label.replace(/^\W+and /, '')}${expected}`)}`;
    }

    function field(one, fields, problems) {
        const id = `essential-${one.key}`;
        const notes = problems.filter((problem) => fieldOf(problem, fields) === one).map((problem) => problem.needed || told(problem, fields));
        const attributes = {
            id, 'aria-describedby': `${id}-why`, 'aria-invalid': notes.length ? 'true' : null,
            oninput: (event) => {
                values[one.key] = event.target.value;
                keep.write(kept, values);
            }
        };
        const own = values[one.key];
        const input = one.choices && one.choices.length
            ? dom.make('select', attributes, one.choices.map((word) => dom.make('option', {
                value: word, selected: word === (own === undefined ? one.default : own)
            }, word.replaceAll('_', ' '))))
            : dom.make('input', {
                ...attributes, type: 'text', value: own === undefined ? '' : own, autocomplete: 'off',
                inputmode: {number: 'decimal', whole: 'numeric'}[one.type] || 'text',
                placeholder: one.default ? `usual: ${one.default}` : null
            });
        return dom.make('div', {class: 'field'}, dom.make('label', {for: id}, one.label, one.required ? ' (needed)' : ''), input, dom.make('span', {class: 'unit'}, one.unit || ''),
            ...notes.map((text) => dom.make('p', {class: 'problem', role: 'alert'}, text)),
            dom.make('p', {class: 'soft', id: `${id}-why`}, one.why || ''));
    }

    async function compose(groups) {
        const given = {};
        groups.flatMap(({fields}) => fields).forEach(({key}) => {
            const text = values[key];
            if (text !== undefined && text.trim()) {
                given[key] = /^-?\d+,\d+$/.test(text.trim()) ? inputs.point(text) : text.trim();
            }
        });
        const reply = await held.work({do: 'compose', values: given}, true);
        if (!reply) {
            return;
        }
        if (reply.ok) {
            await held.begin('machine.yaml', reply.scenario, null);
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
        place.replaceChildren(dom.make('h2', {tabindex: '-1'}, 'Your machine'),
            dom.make('p', {}, 'Fill in what you know. What you leave empty is taken as usual, and is marked so afterwards.'),
            dom.make('div', {class: 'row'}, files.openScenario()),
            summary ? dom.make('p', {class: 'problem', role: 'alert'}, summary) : '',
            ...others.map((problem) => dom.make('p', {class: 'problem'}, told(problem, fields))),
            dom.make('form', {
                onsubmit(event) {
                    event.preventDefault();
                    compose(groups);
                }
            }, groups.map(({title, fields: own}) => dom.make('fieldset', {}, dom.make('legend', {}, title), own.map((one) => field(one, fields, problems)))), dom.make('button', {type: 'submit', class: 'main'}, 'Go to the bench')));
        const wrong = place.querySelector('[aria-invalid]');
        if (wrong) {
            wrong.focus();
        }
    }

    async function show() {
        const before = keep.read(kept);
        values = before && typeof before === 'object' && !Array.isArray(before) ? before : {};
        const reply = await held.work({do: 'essentials'});
        if (reply) {
            draw(reply.groups, [], null);
        }
    }

    return {show};
}());
