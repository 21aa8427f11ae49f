/* Where the evening stands: which scene, and how far it is told. Each scene is asked, looked at, told
   sentence by sentence, and ends with what people usually think. Keys, taps and a presenter's clicker do
   the same: on, back, and what the scene's own keys are. */
const evening = (function () {
    const given = JSON.parse(dom.byId('case').textContent);
    let machine = null;
    let cautions = '';
    let data = null;
    /* -2: the title, -1: cautions; then the scenes. */
    let at = -2;
    let stage = 0;
    let pair = [0, 0];
    let fault = 0;
    /* Whether the card of keys lies over it all. */
    let card = false;
    /* Which field of a number is in hand: 0 left, 1 right, or null. */
    let typing = null;
    /* Of the run whose reasons are shown in place of the words: its number among those shown, or null. */
    let why = null;
    const reasons = new Map();
    /* The library that thinks beside the wall: what all 36 do takes long, and slow motion goes on meanwhile. */
    const thinking = face.makeHand();
    /* Hands that went up, by scene and choice; and traces, by what was asked. */
    const hands = new Map();
    const traces = new Map();
    let view = {keys: [], stop() {}};
    let drawn = 0;

    const scene = () => data.scenes[at];
    /* ask, look, one a sentence, usual */
    const stages = () => (at < 0 || scene().left_out ? 1 : 3 + scene().lines.length);
    /* What is shown: beside the usual idea a scene may have a view of its own. */
    const viewNow = () => (isUsual() && scene().held ? 'held' : scene().view);
    const isAsking = () => stage === 0;
    const isUsual = () => stage === stages() - 1;
    const told = () => Math.max(0, Math.min(scene().lines.length, stage - 1));
    const wallOf = () => dom.byId('wall');

    function complain(title, problems) {
        wallOf().removeAttribute('aria-busy');
        wallOf().replaceChildren(dom.make('div', {class: 'problem', role: 'alert'}, dom.make('h2', {}, title), problems.map((text) => dom.make('p', {}, text))));
    }

    /* The answer, or null: then it says why on the wall. */
    async function ask(request, hand = face) {
        try {
            const reply = await hand.ask(request);
            if (reply.ok) {
                return reply;
            }
            complain(reply.summary, reply.problems.map(({text, show}) => show || text));
        } catch (reason) {
            complain('The program in this page fell over. Load the page again.', [String(reason.crashed || reason.message || reason)]);
        }
        return null;
    }

    /* ---- runs ----------------------------------------------------------------------------------- */

    async function trace(run, window) {
        const request = {do: 'trace', wiring: String(run.number), changes: run.changes, start_deg: run.start_deg, points: 900, ...(window || moment.parts[run.part])};
        const key = JSON.stringify(request);
        if (!traces.has(key)) {
            const reply = await ask(request);
            if (!reply) {
                return null;
            }
            traces.set(key, reply);
        }
        return traces.get(key);
    }

    /* How long before the first jump a run begins on the wall: this part of it. */
    const runUp = 1 / 30;

    /* From which moment on: shortly before the controller first drives another pair in any of them. */
    function beginning(list) {
        const first = ({code}) => {
            const k = code.findIndex((one) => one !== code[0]);
            return k < 0 ? code.length : k;
        };
        const k = Math.min(...list.map(first));
        return k < list[0].code.length ? Math.max(0, Math.round(k - runUp * list[0].code.length)) : 0;
    }

    const later = (trace, from) => Object.fromEntries(Object.entries(trace).map(([name, value]) => [name,
        Array.isArray(value) ? (Array.isArray(value[0]) ? value.map((list) => list.slice(from)) : value.slice(from)) : value]));

    /* Runs that stand beside one another last equally long, and begin with what matters. */
    async function sidesOf(runs) {
        const first = [];
        for (const run of runs) {
            first.push(await trace(run));
        }
        if (first.includes(null)) {
            return null;
        }
        const span = ({time_s: time}) => time[time.length - 1] - time[0];
        const longest = Math.max(...first.map(span));
        const same = [];
        for (let k = 0; k < runs.length; k++) {
            const {time_s: time} = first[k];
            const until = Math.max(time[time.length - 1], longest);
            same.push(span(first[k]) > 0.999 * longest ? first[k] : await trace(runs[k], {from_s: until - longest, until_s: until}));
        }
        if (same.includes(null)) {
            return null;
        }
        const from = beginning(same);
        return same.map((one, k) => ({run: runs[k], side: moment.sideOf(runs[k].number, later(one, from))}));
    }

    /* ---- words ---------------------------------------------------------------------------------- */

    const handsOf = (k) => hands.get(`${scene().name} ${k}`) || 0;

    function raise(k, by) {
        if (at >= 0 && isAsking() && scene().choices[k]) {
            hands.set(`${scene().name} ${k}`, Math.max(0, handsOf(k) + by));
            show();
        }
    }

    const choiceWords = (one, k, open) => [dom.make('b', {class: 'digit'}, String(k + 1)), dom.make('span', {}, one.text),
        !open && one.right ? dom.make('b', {class: 'mark'}, '\u2713\u00a0correct') : null,
        handsOf(k) ? dom.make('span', {class: 'hands'}, `${handsOf(k)} ${handsOf(k) === 1 ? 'hand' : 'hands'}`) : null];

    const choicesShown = (open) => dom.make('ol', {class: 'choices'}, scene().choices.map((one, k) => dom.make('li', {class: !open && one.right ? 'right' : ''},
        open ? dom.make('button', {type: 'button', class: 'choice', onclick: () => raise(k, 1)}, choiceWords(one, k, open)) : dom.make('div', {class: 'choice'}, choiceWords(one, k, open)))));

    /* In the words of `hubphase explain`: the whole width, since they are many. */
    const because = (run) => [dom.make('div', {class: 'opening'}, dom.make('h2', {}, `Why wiring ${run.number} does it`),
        reasons.has(whyKey(run)) ? reasons.get(whyKey(run)).split(/(?<=[.:]) (?=[A-Z])/).map((text) => dom.make('p', {class: 'reason'}, text)) :
            [dom.make('p', {class: 'reason'}, `One moment: all 36 wirings are being simulated${isFaulty() ? ' with this fault' : ''}.`), progress])];

    const isFaulty = () => scene().view === 'faults';

    const whyKey = ({number, changes}) => `${number} ${JSON.stringify(changes)}`;

    function words() {
        const now = scene();
        if (now.left_out) {
            return [dom.make('h2', {}, 'Not with this machine'), dom.make('p', {class: 'big'}, now.left_out)];
        }
        if (isAsking()) {
            return [dom.make('h2', {}, 'Guess first'), dom.make('p', {class: 'big'}, now.question), choicesShown(true)];
        }
        if (stage === 1) {
            return [dom.make('h2', {}, 'Now look'), ...now.look.map((text) => dom.make('p', {class: 'big'}, text))];
        }
        if (isUsual()) {
            return [dom.make('h2', {}, 'Many people think'), dom.make('p', {class: 'big quoted'}, `\u201c${now.usual}\u201d`), dom.make('p', {class: 'big'}, now.instead)];
        }
        /* The first sentence stands with the answer; later ones take its place. */
        const from = told() === 1 ? 0 : Math.max(0, told() - 2);
        return [dom.make('h2', {}, told() === 1 ? 'The answer' : 'What it shows'), told() === 1 ? choicesShown(false) : null,
            ...now.lines.slice(from, told()).map((text, k, list) => dom.make('p', {class: k === list.length - 1 ? 'big' : 'big before'}, text))];
    }

    function opening() {
        const list = data.scenes.map(({title}, k) => dom.make('li', {}, dom.make('button', {type: 'button', class: 'jump', onclick: () => go(k, 0)}, `${k + 1}\u2002${title}`)));
        return [dom.make('div', {class: 'opening'}, dom.make('h2', {}, machine.name || given.name),
            data.mended ? dom.make('p', {}, `As it stands, something is wrong with it: ${data.mended}. The scenes show it mended; that fault comes in scene ${1 + data.scenes.findIndex(({view: kind}) => kind === 'faults')}.`) : null,
            machine.leads_known ? null : dom.make('p', {}, 'Nobody knows yet which of its leads is which: the names here are only names.'),
            dom.make('ol', {class: 'contents'}, list))];
    }

    const keyRows = [[['\u2192', 'Page down', 'Enter'], 'on'], [['\u2190', 'Page up'], 'back'], [['1\u20139'], 'on the title: to that scene'],
        [['N'], 'to the next scene'], [['Home'], 'to the title'], [['1\u20134'], 'at a guess: a hand up'], [['Del'], 'hands down'],
        [['\u2191', '\u2193'], 'a step on, back: motion, magnet, heaps'], [['Space'], 'stop and go'], [['+', '\u2212'], 'faster, slower'], [['E'], 'why it does so'],
        [['A', 'Z'], 'scene 6: left, right: a number and Enter'], [['F'], 'scene 8: another fault'], [['?'], 'this card']];

    const keyCard = () => [dom.make('div', {class: 'opening'}, dom.make('h2', {}, 'Keys'),
        dom.make('ul', {class: 'contents'}, keyRows.map(([names, does]) => dom.make('li', {}, names.flatMap((name, k) => [k ? ' or ' : null, dom.make('kbd', {}, name)]), `: ${does}`))))];

    const careful = () => [dom.make('div', {class: 'opening'}, dom.make('h2', {}, 'Before anybody touches a hub'),
        dom.make('ul', {class: 'cautions'}, cautions.split(/(?<=\.) /).map((text) => dom.make('li', {}, text))),
        dom.make('p', {}, 'What this wall shows is simulated.'))];

    /* ---- keys ----------------------------------------------------------------------------------- */

    function next() {
        if (stage < stages() - 1) {
            go(at, stage + 1);
        } else if (at < data.scenes.length - 1) {
            go(at + 1, 0);
        }
    }

    function back() {
        if (stage > 0) {
            go(at, stage - 1);
        } else if (at > -2) {
            at -= 1;
            go(at, stages() - 1);
        }
    }

    const isEnd = () => at === data.scenes.length - 1 && stage === stages() - 1;

    const nextWord = () => (isEnd() ? 'the end' : at < 0 ? 'on' : isAsking() && !scene().left_out ? 'look' : stage === 1 ? 'answer' : isUsual() ? 'next scene' : 'on');

    /* Of the scene in hand: [what stands on the key (null: it is told elsewhere), what it does, action, names of the key]. */
    function ownKeys() {
        if (typing !== null) {
            return [['0\u20139', 'number', null, []], ['Enter', 'choose', () => choose(typing), []], ['Esc', 'leave', leaveField, []]];
        }
        const list = [...view.keys];
        if (at >= 0 && !isAsking() && scene().runs.length > 0 && told() > 0) {
            list.push(['E', 'why', explain, ['e', 'E']]);
        }
        if (at >= 0 && isAsking() && scene().choices.length) {
            list.push([`1\u2013${scene().choices.length}`, 'a hand up', null, []], ['Del', 'hands down', () => {
                scene().choices.forEach((_, k) => hands.delete(`${scene().name} ${k}`));
                show();
            }, ['Delete', 'Backspace']]);
        }
        if (at >= 0 && scene().view === 'faults') {
            list.push(['F', 'fault', () => anotherFault(), ['f', 'F']]);
        }
        if (at >= 0 && scene().view === 'pair') {
            list.push([null, 'left', () => fieldOf(0).focus(), ['a', 'A']], [null, 'right', () => fieldOf(1).focus(), ['z', 'Z']]);
        }
        return list;
    }

    const allKeys = () => (card ? [['?', 'close', closeCard, ['?']]] : [['\u2190', 'back', at > -2 ? back : null, ['ArrowLeft', 'PageUp']], ['\u2192', nextWord(), isEnd() ? null : next, ['ArrowRight', 'PageDown', 'Enter']],
        ...ownKeys(), ['Home', 'title', at > -2 ? () => go(-2, 0) : null, ['Home']], [null, 'next scene', at < data.scenes.length - 1 ? () => go(at + 1, 0) : null, ['n', 'N']],
        [at < 0 ? '?' : null, 'keys', openCard, ['?']]]);

    function openCard() {
        card = true;
        show();
    }

    function closeCard() {
        card = false;
        show();
    }

    function press(event) {
        if (!data || event.ctrlKey || event.altKey || event.metaKey) {
            return;
        }
        /* Any key puts the card away; those that only go with another one do not. */
        if (card) {
            if (!/^(Shift|Tab)$/.test(event.key) && !(event.target.tagName === 'BUTTON' && /^(Enter| )$/.test(event.key))) {
                event.preventDefault();
                closeCard();
            }
            return;
        }
        const isButton = event.target.tagName === 'BUTTON';
        /* A field takes digits until Enter or Escape; what the bar says of other keys holds there, too. */
        if (typing !== null) {
            if (/^([0-9]|Backspace|Delete|Tab|Shift|Unidentified|Process)$/.test(event.key)) {
                return;
            }
            event.preventDefault();
            if (event.key === 'Enter') {
                choose(typing);
                return;
            }
            leaveField();
            if (event.key === 'Escape') {
                return;
            }
        }
        if (isButton && (event.key === 'Enter' || event.key === ' ')) {
            return;
        }
        if (at === -2 && /^[1-9]$/.test(event.key) && data.scenes[Number(event.key) - 1]) {
            go(Number(event.key) - 1, 0);
            return;
        }
        if (/^[1-4]$/.test(event.key)) {
            raise(Number(event.key) - 1, 1);
            return;
        }
        const found = allKeys().find(([, , action, names]) => action && names.includes(event.key));
        if (found) {
            event.preventDefault();
            found[2]();
        }
    }

    function drawKeys() {
        const button = ([key, does, action]) => dom.make('button', {type: 'button', disabled: !action, onclick: (event) => {
            event.currentTarget.blur();
            action();
        /* A tap does not take the field out of hand: what was typed would be gone. */
        }, onmousedown: (event) => typing !== null && event.preventDefault()}, dom.make('kbd', {}, key), does ? ` ${does}` : null);
        const bar = dom.byId('keys');
        /* Whoever stands on a key stays there: pictures that are done only now draw the bar anew. */
        const held = [...bar.children].indexOf(document.activeElement);
        bar.replaceChildren(...allKeys().filter(([key]) => key).map(button));
        if (held >= 0) {
            const again = bar.children[held];
            (again && !again.disabled ? again : bar.querySelector('button:enabled')).focus();
        }
    }

    /* ---- choosing ------------------------------------------------------------------------------- */

    async function tellAgain() {
        tellPace(waits);
        wallOf().setAttribute('aria-busy', 'true');
        const reply = await ask({do: 'lesson', fault, ...(pair[0] ? {left: pair[0]} : {}), ...(pair[1] ? {right: pair[1]} : {})}, thinking);
        if (reply) {
            data = reply;
            pace = pace === waits ? '' : pace;
            show();
        }
    }

    /* Why the wiring that is shown does it, in the words of `hubphase explain`; then the other one's; then no more. */
    async function explain() {
        const {runs} = scene();
        const next = why === null ? 0 : why + 1;
        why = next < runs.length ? next : null;
        const run = why === null ? null : runs[why];
        show();
        if (run && !reasons.has(whyKey(run))) {
            const reply = await ask({do: 'explain', wiring: run.number, changes: run.changes}, thinking);
            if (!reply) {
                why = null;
                return;
            }
            reasons.set(whyKey(run), reply.sentences);
            /* Whoever went on meanwhile stays where they are. */
            if (why !== null) {
                show();
            }
        }
    }

    function forgetHands(name) {
        [...hands.keys()].filter((key) => key.startsWith(`${name} `)).forEach((key) => hands.delete(key));
    }

    function anotherFault() {
        fault = (fault + 1) % data.faults;
        stage = 0;
        why = null;
        forgetHands('faults');
        tellAgain();
    }

    const fieldOf = (k) => dom.byId(['left', 'right'][k]);

    const leaveField = () => typing !== null && fieldOf(typing).blur();

    function refuse(text) {
        dom.byId('refused').textContent = text;
    }

    /* Takes what stands in the field. An empty one changes nothing. */
    function choose(k) {
        const field = fieldOf(k);
        const typed = field.value;
        const number = Number(typed);
        if (typed && !data.wirings.some((one) => one.number === number)) {
            refuse(`There is no wiring ${number}: they go from 1 to ${data.wirings.length}.`);
            field.select();
            return;
        }
        if (typed && number !== Number(field.placeholder)) {
            field.placeholder = String(number);
            pair[k] = number;
            stage = 0;
            why = null;
            forgetHands('pair');
            tellAgain();
        }
        leaveField();
    }

    /* Made once: whoever is choosing keeps the field in hand while the rest is told anew. The field is empty
       for the new number; what stands on the wall shows through until then, and comes back if none is chosen. */
    function picker(k, title) {
        const own = String(scene().runs[k].number);
        return dom.make('label', {class: 'picker'}, dom.make('kbd', {}, title[0]), title.slice(1), dom.make('input', {
            id: ['left', 'right'][k], type: 'text', inputmode: 'numeric', autocomplete: 'off', maxlength: '4', value: own, placeholder: own,
            onfocus: (event) => {
                event.target.value = '';
                typing = k;
                drawKeys();
            },
            oninput: (event) => {
                event.target.value = event.target.value.replace(/\D/g, '');
                refuse('');
            },
            onblur: (event) => {
                const isBar = dom.byId('keys').contains(event.relatedTarget);
                event.target.value = event.target.placeholder;
                typing = null;
                refuse('');
                /* The tab key goes on to the bar: once it is there. */
                setTimeout(() => {
                    drawKeys();
                    if (isBar) {
                        dom.byId('keys').querySelector('button:enabled').focus();
                    }
                });
            }
        }));
    }

    function drawPickers() {
        const place = dom.byId('choose');
        place.hidden = card || at < 0 || why !== null || scene().view !== 'pair';
        if (!place.hidden && !place.childElementCount) {
            place.append(picker(0, 'A left'), picker(1, 'Z right'), dom.make('p', {id: 'refused', role: 'alert'}));
        }
    }

    /* ---- drawing -------------------------------------------------------------------------------- */

    const picture = dom.make('div', {id: 'picture'});
    const progress = dom.make('progress', {id: 'progress', 'aria-label': 'How far it is', max: 1, value: 0});
    const panel = dom.make('div', {id: 'words'});

    let pace = '';
    const waits = 'One moment';

    function drawPlace() {
        dom.byId('place').textContent = at < 0 ? '' : `${pace ? `${pace}, ` : ''}${at + 1} of ${data.scenes.length}`;
    }

    function tellPace(text) {
        pace = text;
        drawPlace();
    }

    const hasRuns = () => scene().runs.length > 0;

    function drawWords() {
        panel.replaceChildren(...words().filter(Boolean));
    }

    async function drawPicture() {
        const turn = drawn;
        const sides = hasRuns() ? await sidesOf(scene().runs) : [];
        if (turn !== drawn || !sides) {
            return;
        }
        view.stop();
        view = views[viewNow()](picture, {
            data, leads: machine.leads, sides, asking: isAsking(), told: stage > 1, playing: !moment.still(), say: tellPace
        });
        drawKeys();
        /* Once it has been laid out. */
        requestAnimationFrame(() => requestAnimationFrame(() => turn === drawn && wallOf().removeAttribute('aria-busy')));
    }

    /* What the picture depends on: it goes on moving while sentences come. */
    const pictured = () => `${at} ${Math.min(stage, 2)} ${at >= 0 && !scene().left_out ? viewNow() : ''} ${JSON.stringify(at >= 0 ? scene().runs : [])}`;
    let shown = '';

    function show() {
        const run = why === null ? null : scene().runs[why];
        const whole = card || at < 0 || scene().left_out || run;
        const key = pictured();
        dom.byId('title').textContent = at < 0 ? 'A club evening on commutation' : scene().title;
        pace = whole || isAsking() ? '' : pace;
        drawPlace();
        wallOf().className = at < 0 ? 'whole' : `${viewNow()} ${whole ? 'whole' : isAsking() ? 'asking' : 'looking'}${hasRuns() && scene().runs.length > 1 ? ' two' : ''}`;
        if (whole) {
            view.stop();
            view = {keys: [], stop() {}};
            drawn += 1;
            shown = '';
            wallOf().removeAttribute('aria-busy');
            wallOf().replaceChildren(...(card ? keyCard() : at === -2 ? opening() : at === -1 ? careful() : run ? because(run) : [dom.make('div', {class: 'opening'}, words())]));
        } else {
            wallOf().replaceChildren(picture, panel);
            drawWords();
            if (shown !== key) {
                drawn += 1;
                shown = key;
                wallOf().setAttribute('aria-busy', 'true');
                drawPicture();
            }
        }
        drawPickers();
        drawKeys();
        dom.say(wallOf().innerText);
    }

    function go(to, how) {
        at = to;
        stage = how;
        why = null;
        show();
    }

    /* ---- begins --------------------------------------------------------------------------------- */

    /* The file says what is shown. The library that it holds runs what is seen in slow motion; and beside, once more,
       what the file was made of, for the other faults, other pairs and reasons that may be asked for. */
    async function run() {
        const opening = {do: 'open', name: given.name, scenario: given.scenario, log: null, table: null};
        face.opensWith(() => opening);
        face.listen((done, total) => {
            progress.max = total;
            progress.value = done;
        });
        document.addEventListener('keydown', press);
        const open = await ask(opening);
        const about = open && await ask({do: 'about'});
        if (about) {
            ({machine} = open);
            ({cautions} = about);
            data = JSON.parse(dom.byId('evening').textContent);
            ({fault} = data);
            show();
            /* If it fails, it fails again for whoever asks for it, and is told then. */
            thinking.ask({do: 'lesson'}).catch(() => {});
        }
    }

    return {run};
}());
