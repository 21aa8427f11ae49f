/* Finds what somebody would tap, by role and name as a reader of screens says them. Runs inside the page,
   so it is whole in itself: no import, no closure. */
export function find(role, name) {
    const places = {
        button: 'button, summary, input[type=button], input[type=submit], label.button, [role=button]',
        switch: '[role=switch]',
        textbox: 'input:not([type]), input[type=text], textarea',
        combobox: 'select',
        heading: 'h1, h2, h3, h4',
        link: 'a[href]',
        image: 'svg[role=img], img'
    };
    const plain = (text) => (text || '').replace(/\s+/g, ' ').trim();
    /* Without what is only for the eye. */
    const spoken = (element) => {
        const copy = element.cloneNode(true);
        copy.querySelectorAll('[aria-hidden=true]').forEach((one) => one.remove());
        return copy.textContent;
    };
    const labelOf = (element) => {
        const own = element.getAttribute('aria-label') || (element.labels && element.labels[0] && element.labels[0].textContent);
        return plain(own || spoken(element) || element.value);
    };
    const seen = [...document.querySelectorAll(places[role] || `[role=${role}]`)].filter((element) => element.getClientRects().length > 0);
    /* The whole name; else one that begins so. */
    return seen.find((element) => labelOf(element) === name) || seen.find((element) => labelOf(element).startsWith(name)) || null;
}
