/* Elements, made and filled. Text is only ever set as text. */
const dom = (function () {
    const svgSpace = 'http://www.w3.org/2000/svg';
    const byId = (id) => document.getElementById(id);

    /* A number and its unit stay on one line; text that is copied or compared is left as it is. */
    const unit = /(\d) (?=(?:%|[kmM\u00b5]?(?:V|A|W|H|F|Hz|s|ohm|Nm|mm)|kilohm|milliohm|rev\/min|rpm|N|degrees?|seconds?|minutes?|turns?|times)(?![\w/-]))/g;
    const joined = (text) => text.replace(unit, '$1\u00a0').replace(/\bN m\b/g, 'N\u00a0m');
    const kept = new Set(['pre', 'option', 'textarea']);

    function fill(element, attributes, children) {
        Object.entries(attributes || {}).forEach(([name, value]) => {
            if (value === null || value === undefined || value === false) {
                return;
            }
            if (name.startsWith('on')) {
                element.addEventListener(name.slice(2), value);
            } else if (name in element && typeof value !== 'string') {
                element[name] = value;
            } else {
                element.setAttribute(name, value === true ? '' : value);
            }
        });
        const isOwn = kept.has(element.localName);
        element.append(...children.flat().filter((child) => child !== null && child !== undefined)
            .map((child) => (typeof child === 'string' && !isOwn ? joined(child) : child)));
        return element;
    }

    /* Sentence by sentence. */
    const sentences = (text) => text.replace(/\. (?=[A-Z])/g, '.\n').split('\n');

    const make = (name, attributes, ...children) => fill(document.createElement(name), attributes, children);

    /* Of a drawing: every attribute is one of XML. */
    function draw(name, attributes, ...children) {
        const element = document.createElementNS(svgSpace, name);
        Object.entries(attributes || {}).forEach(([key, value]) => element.setAttribute(key, value));
        element.append(...children);
        return element;
    }

    const button = (text, action, attributes) =>
        make('button', {type: 'button', onclick: action, ...attributes}, text);

    /* A part that is folded until it is wanted. */
    const fold = (title, open, ...children) =>
        make('details', {open}, make('summary', {}, title), ...children);

    /* ---- pictures ------------------------------------------------------------------------------- */

    const drawn = new Set(['svg', 'g', 'defs', 'title', 'desc', 'path', 'rect', 'circle', 'ellipse', 'line', 'polyline',
        'polygon', 'text', 'tspan', 'clipPath', 'marker', 'pattern', 'linearGradient', 'stop', 'use']);

    /* The page's policy lets styles in by the object model only; even a parser that met one would be
       refused. So they are carried past it under another name. */
    const carryStyles = (text) => text.replaceAll(' style="', ' data-style="');

    /* Styles put back, and nothing left that would run, fetch or send. */
    function settle(element) {
        [...element.attributes].forEach(({name, value}) => {
            const outward = /^(xlink:)?href$|^src$/i.test(name) && !value.startsWith('#');
            if (/^on/i.test(name) || outward) {
                element.removeAttribute(name);
            }
        });
        if (element.dataset.style) {
            element.style.cssText = element.dataset.style;
            delete element.dataset.style;
        }
        return element;
    }

    /* Leaves only what draws. */
    function clean(element) {
        [...element.children].forEach((child) => (drawn.has(child.localName) ? clean(child) : child.remove()));
        return settle(element);
    }

    /* A figure from the text of an SVG, or null when it is none. */
    function picture(text, words) {
        const parsed = new DOMParser().parseFromString(carryStyles(text), 'image/svg+xml').documentElement;
        if (parsed.localName !== 'svg' || parsed.namespaceURI !== svgSpace) {
            return null;
        }
        const image = clean(document.importNode(parsed, true));
        image.setAttribute('role', 'img');
        if (words) {
            image.setAttribute('aria-label', words);
        }
        return make('figure', {class: 'picture'}, image);
    }

    /* A whole document of the library in a room of its own, so that its styles stay with it. */
    function paper(html) {
        const styles = [];
        const bare = html.replace(/<style>([^]*?)<\/style>/g, (all, style) => {
            styles.push(style.replace(/\bbody\b/g, '.body').replace(/:root\b/g, ':host'));
            return '';
        });
        const parsed = new DOMParser().parseFromString(carryStyles(bare), 'text/html');
        parsed.querySelectorAll('style, script, meta, link, base, iframe, object, embed, form, img').forEach((one) => one.remove());
        /* It is a part of the page here: its main part is none of the page's. */
        parsed.querySelectorAll('main').forEach((one) => one.replaceWith(...one.childNodes));
        const body = make('div', {class: 'body'}, [...parsed.body.childNodes].map((node) => document.importNode(node, true)));
        body.querySelectorAll('*').forEach(settle);
        const host = make('div', {class: 'paper'});
        const shadow = host.attachShadow({mode: 'open'});
        const sheet = new CSSStyleSheet();
        sheet.replaceSync(styles.join('\n'));
        /* Paper is white, in the dark too. */
        for (let k = sheet.cssRules.length - 1; k >= 0; k--) {
            if (/prefers-color-scheme/.test(sheet.cssRules[k].conditionText || '')) {
                sheet.deleteRule(k);
            }
        }
        shadow.adoptedStyleSheets = [sheet];
        shadow.append(body);
        return host;
    }

    /* ---- words ---------------------------------------------------------------------------------- */

    /* A clause as a sentence of its own. */
    const sentence = (text) => `${text.charAt(0).toUpperCase()}${text.slice(1)}${/[.!?]$/.test(text) ? '' : '.'}`;

    /* A number with so many decimals; with a minus sign, and none before a zero. */
    const figure = (value, decimals) => Number(value).toFixed(decimals).replace(/^-(?=[0.]*$)/, '').replace('-', '\u2212');

    /* What a reader of screens hears. */
    function say(text) {
        byId('say').textContent = text;
    }

    return {byId, make, draw, button, fold, picture, paper, sentence, sentences, figure, say};
}());
