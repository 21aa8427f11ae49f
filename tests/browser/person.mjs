/* The person at a hidden machine, who answers a form: what was seen stands in an entry as tests/hidden_bench
   writes it, and a question is answered from it as far as it was seen. */

/* {kind, values: {key: text}} of an entry of a log, in the few ways in which the bench writes one. A value
   of parts is spread over keys as the forms name them: "resistance_ohm.U-V". */
export function seenIn(entry) {
    const lines = entry.split('\n').filter((line) => line.startsWith('    '));
    const kind = lines[0].trim().replace(':', '');
    const values = {};
    for (const line of lines.slice(1)) {
        const [, key, text] = /^\s+(\w+): (.*)$/.exec(line);
        if (text.startsWith('{')) {
            for (const part of text.slice(1, -1).split(', ')) {
                const [name, value] = part.replaceAll('"', '').split(': ');
                values[`${key}.${name}`] = value;
            }
        } else {
            values[key] = text.replace(/[["\]]/g, '').replaceAll(', ', ',');
        }
    }
    return { kind, values };
}

/* Asked the other way round than it is written: "Did a current flow?" */
const asked = { no_current: (seen) => (seen === 'yes' ? 'no' : 'yes') };

/* The text of the answer to a question {key, type, required, fallback, words}; '' leaves it out, null: what
   the form wants, nobody saw, or what was seen is none of its answers. */
export function answerTo(question, values) {
    const { key, type, words } = question;
    if (type === 'gate') {
        return 'no';
    }
    const [field, part] = key.split('.');
    let text = values[key];
    if (part === 'all') {
        const parts = Object.keys(values).filter((name) => name.startsWith(`${field}.`));
        text = parts.length && parts.every((name) => values[name] === 'yes') ? 'yes' : parts.length ? 'no' : undefined;
    }
    if (text === undefined) {
        return question.fallback || (question.required ? null : '');
    }
    text = asked[key] ? asked[key](text) : text;
    return words && words.length && type !== 'row' && !words.includes(text) ? null : text;
}
