/* One question and the means to answer it: by the type of what is put in, never by the kind of reading.
   `done` takes the answer as text, as a log would have it; "" leaves it out. `question.typed` hears what is
   half said: text in a field, codes noted; given as `value`, it stands there again. */
const inputs = (function () {
    /* A meter's comma is a point to the library. */
    const point = (text) => text.trim().replace(',', '.');

    const hear = (question, text) => question.typed && question.typed(text);

    /* ---- buttons -------------------------------------------------------------------------------- */

    const upper = (letters) => letters.charAt(0).toUpperCase() + letters.slice(1).replaceAll('_', ' ');

    /* The word before the colon is bold: it is what one looks for. */
    function label(text) {
        const [, word, rest] = /^([^:]{1,40}): (.*)$/s.exec(text) || [];
        return word ? [dom.make('strong', {}, upper(word)), dom.make('span', {}, rest)]
            : [dom.make('strong', {}, upper(text))];
    }

    function answers(choices, chosen, done) {
        const short = choices.every(({text}) => text.length < 14);
        return dom.make('ul', {class: short ? 'answers short' : 'answers'}, choices.map(({word, text}) =>
            dom.make('li', {}, dom.make('button', {
                type: 'button', class: 'answer', 'data-word': word,
                'aria-pressed': word === chosen ? 'true' : null, onclick: () => done(word)
            }, label(text || word)))));
    }

    const choice = (question, value, done) => answers(question.choices, value, done);

    /* ---- numbers -------------------------------------------------------------------------------- */

    const few = 12;

    function number(question, value, done) {
        const whole = question.type === 'whole';
        const id = 'number-in';
        const field = dom.make('input', {
            id, type: 'text', inputmode: whole ? 'numeric' : 'decimal', autocomplete: 'off',
            value: value || '', 'aria-label': question.text, oninput: () => hear(question, field.value)
        });
        const open = question.open ? dom.button('Open: shows nothing', () => done('open')) : null;
        return dom.make('form', {
            class: 'number', onsubmit(event) {
                event.preventDefault();
                if (field.value.trim() || !question.required) {
                    done(field.value.trim());
                } else {
                    field.focus();
                }
            }
        }, field, dom.make('span', {class: 'unit'}, question.unit || ''),
        dom.make('button', {type: 'submit', class: 'main'}, 'Take it'), open);
    }

    /* A count out of a few is tapped. */
    function whole(question, value, done) {
        if (!(question.max - question.min < few)) {
            return number(question, value, done);
        }
        const choices = [];
        for (let k = question.min; k <= question.max; k++) {
            choices.push({word: String(k), text: String(k)});
        }
        return answers(choices, value, done);
    }

    /* ---- codes of the Hall sensors -------------------------------------------------------------- */

    /* Three switches, one a lead; `changed` hears the code. */
    function switches(leads, code, changed) {
        const digits = [...code];
        const row = dom.make('div', {class: 'switches', role: 'group', 'aria-label': 'Hall code'});
        leads.forEach((lead, k) => {
            const shown = dom.make('strong', {}, digits[k]);
            row.append(dom.make('button', {
                type: 'button', class: 'switch', role: 'switch', 'aria-checked': String(digits[k] === '1'),
                onclick(event) {
                    digits[k] = digits[k] === '1' ? '0' : '1';
                    shown.textContent = digits[k];
                    event.currentTarget.setAttribute('aria-checked', String(digits[k] === '1'));
                    changed(digits.join(''));
                }
            }, shown, dom.make('span', {}, lead)));
        });
        return row;
    }

    function code(question, value, done) {
        let now = /^[01]{3}$/.test(value || '') ? value : '000';
        const take = dom.button(`Take ${now}`, () => done(now), {class: 'main'});
        return dom.make('div', {class: 'codes'}, switches(question.leads, now, (changed) => {
            now = changed;
            take.textContent = `Take ${now}`;
            hear(question, now);
        }), take);
    }

    const differ = (a, b) => [...a].filter((digit, k) => digit !== b[k]).length;

    /* What the row of codes looks like so far, in a few words. */
    function remark(list) {
        const jump = list.findIndex((entry, k) => k > 0 && differ(entry, list[k - 1]) > 1);
        if (jump > 0) {
            return `From ${list[jump - 1]} to ${list[jump]} more than one figure changed: was a code missed?`;
        }
        if (list.length > 2 && list[list.length - 1] === list[0]) {
            return `The ring is closed: ${new Set(list).size} different codes.`;
        }
        return list.length ? `${list.length} noted. Go on until the first one, ${list[0]}, comes again.` : 'None is noted yet.';
    }

    /* Codes of a turned wheel, noted one by one. Half said: "100 110|010", behind the bar where the switches
       stand. */
    function codes(question, value, done) {
        const [noted, at] = (value || '').split('|');
        const list = noted.split(/[^01]+/).filter((entry) => entry.length === 3);
        const box = dom.make('div', {class: 'codes'});
        let now = at || list[list.length - 1] || '000';
        /* One code alone may be a wheel that was not turned yet. */
        const sure = () => {
            const same = list[0];
            box.replaceChildren(dom.make('p', {class: 'problem', role: 'alert'}, `Only ${same} is noted. Did it stay ${same} over a whole turn of the wheel?`),
                dom.make('div', {class: 'row'}, dom.button('Yes, it never changed', () => done(list.join(',')), {class: 'main sure'}),
                    dom.button('No, I note more', () => show('.note'))));
            box.querySelector('.sure').focus({preventScroll: true});
        };
        const all = () => (new Set(list).size > 1 ? done(list.join(',')) : sure());
        const keepIt = () => hear(question, `${list.join(' ')}|${now}`);
        const show = (stay) => {
            const note = dom.button(`Note ${now}`, () => {
                list.push(now);
                keepIt();
                show('.note');
            }, {class: 'note'});
            const ring = dom.make('ol', {class: 'ring', 'aria-label': 'Codes noted'}, list.map((entry, k) =>
                dom.make('li', {class: k > 0 && differ(entry, list[k - 1]) > 1 ? 'odd' : null}, entry)));
            box.replaceChildren(switches(question.leads, now, (changed) => {
                now = changed;
                note.textContent = `Note ${now}`;
                keepIt();
            }), note, ring, dom.make('p', {class: 'soft', role: 'status'}, remark(list)), dom.make('div', {class: 'row'},
                dom.button('Drop the last', () => {
                    list.pop();
                    keepIt();
                    show('.note');
                }, {disabled: !list.length}),
                dom.button('These are all', all, {class: 'main', disabled: !list.length})));
            if (stay) {
                box.querySelector(stay).focus({preventScroll: true});
            }
        };
        show();
        return box;
    }

    /* ---- a wiring ------------------------------------------------------------------------------- */

    const orders = [[0, 1, 2], [0, 2, 1], [1, 0, 2], [1, 2, 0], [2, 0, 1], [2, 1, 0]];

    function wiring(question, value, done) {
        const {sensor, phase} = question.machine;
        const names = (leads, order) => order.map((k) => leads[k].label).join(' ');
        const list = dom.make('select', {'aria-label': question.text, onchange: () => hear(question, list.value)});
        for (let at = 1; at <= 36; at++) {
            const text = `${at}: ${names(sensor, orders[Math.floor((at - 1) / 6)])} / ${names(phase, orders[(at - 1) % 6])}`;
            list.append(dom.make('option', {value: String(at), selected: String(at) === value}, text));
        }
        return dom.make('div', {class: 'row'}, list, dom.button('Take it', () => done(list.value), {class: 'main'}));
    }

    /* ---- a row of the controller's table -------------------------------------------------------- */

    function row(question, value, done) {
        const outputs = question.machine.output.map(({label}) => ({word: label, text: label}));
        const box = dom.make('div', {});
        const ask = (high) => {
            const left = outputs.filter(({word}) => word !== high);
            box.replaceChildren(dom.make('p', {}, high ? `${high} is high. Which is low?` : 'Which is high? Off: none is driven.'),
                answers(high ? left : [...left, {word: 'off', text: 'off'}], null, (word) => {
                    if (high) {
                        done(`${high} > ${word}`);
                    } else if (word === 'off') {
                        done(word);
                    } else {
                        hear(question, `${word} > `);
                        ask(word);
                    }
                }));
        };
        ask(outputs.map(({word}) => word).find((word) => value === `${word} > `) || null);
        return box;
    }

    /* ---- a pin of a plug ------------------------------------------------------------------------ */

    const list = (name, values, chosen) => dom.make('select', {'aria-label': name},
        values.map((value) => dom.make('option', {value, selected: value === chosen}, value)));
    const count = (from, until) => Array.from({length: until - from + 1}, (_, k) => String(from + k));

    /* How the last pin was told is how the next one will be. */
    let plug = 'round';

    /* How a pin was told: [shape, ...places]. */
    function toldPin(text) {
        const [, hour, ring] = /^(\d+ o'clock|centre) ?(\w*)$/.exec(text) || [];
        const [, across, down] = /^(row \d+) (column \d+)$/.exec(text) || [];
        return hour ? ['round', hour, ring] : across ? ['square', across, down] : [text ? 'marked' : plug];
    }

    function pin(question, value, done) {
        const [told, ...chosen] = toldPin(value || '');
        const shape = list('The plug is', ['round', 'square', 'marked']);
        const places = dom.make('span', {class: 'row'});
        let text = () => '';
        const show = () => {
            plug = shape.value;
            if (plug === 'round') {
                const hour = list('Hour', [...count(1, 12).map((at) => `${at} o'clock`), 'centre'], chosen[0]);
                const ring = list('Ring', ['outer', 'inner'], chosen[1]);
                places.replaceChildren(hour, ring);
                text = () => (hour.value === 'centre' ? 'centre' : `${hour.value} ${ring.value}`);
            } else if (plug === 'square') {
                const across = list('Row', count(1, 6).map((at) => `row ${at}`), chosen[0]);
                const down = list('Column', count(1, 12).map((at) => `column ${at}`), chosen[1]);
                places.replaceChildren(across, down);
                text = () => `${across.value} ${down.value}`;
            } else {
                const mark = dom.make('input', {
                    type: 'text', 'aria-label': 'Number or letter beside the pin', value: told === 'marked' ? value || '' : ''
                });
                places.replaceChildren(mark);
                text = () => mark.value.trim();
            }
        };
        shape.value = told;
        shape.addEventListener('change', show);
        places.addEventListener('input', () => hear(question, text()));
        show();
        return dom.make('div', {class: 'row'}, shape, places, dom.button('Take it', () => text() && done(text()), {class: 'main'}));
    }

    /* ---- all types ------------------------------------------------------------------------------ */

    function words(question, value, done) {
        const field = dom.make('input', {
            type: 'text', 'aria-label': question.text, value: value || '', oninput: () => hear(question, field.value)
        });
        return dom.make('form', {
            class: 'number', onsubmit(event) {
                event.preventDefault();
                done(field.value.trim());
            }
        }, field, dom.make('button', {type: 'submit', class: 'main'}, 'Take it'));
    }

    const kinds = {choice, number, whole, pair: number, code, codes, wiring, row, pin};
    const yesNo = [{word: 'yes', text: 'yes'}, {word: 'no', text: 'no'}];

    function put(question, value, done) {
        const {type, choices} = question;
        if (type === 'yes_no' || type === 'gate') {
            return choice({...question, choices: choices || yesNo}, value, done);
        }
        const kind = choices && choices.length && type !== 'row' ? 'choice' : type;
        return (kinds[kind] || words)(question, value, done);
    }

    return {put, answers, point, upper};
}());
