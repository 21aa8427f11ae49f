/* What the browser keeps: one case a key, so that neither a reload nor a killed tab loses anything, and a
   name of this window. Where nothing can be kept the page works on and says so. */
const keep = (function () {
    const family = 'hubphase ';
    let store = null;
    try {
        store = window.localStorage;
    } catch (problem) {
        store = null;
    }

    function write(key, value) {
        try {
            store.setItem(family + key, JSON.stringify(value));
            return true;
        } catch (problem) {
            return false;
        }
    }

    function read(key) {
        try {
            return JSON.parse(store.getItem(family + key));
        } catch (problem) {
            return null;
        }
    }

    function remove(key) {
        try {
            store.removeItem(family + key);
        } catch (problem) {
            /* It could not be kept either. */
        }
    }

    /* The names of all that is kept. */
    function keys() {
        try {
            return Object.keys(store).filter((key) => key.startsWith(family)).map((key) => key.slice(family.length));
        } catch (problem) {
            return [];
        }
    }

    /* A short name for a text: FNV-1a, twice over. */
    function mark(text) {
        const half = (seed) => {
            let hash = seed;
            for (let k = 0; k < text.length; k++) {
                hash = Math.imul(hash ^ text.charCodeAt(k), 16777619);
            }
            return (hash >>> 0).toString(16).padStart(8, '0');
        };
        return half(2166136261) + half(84696351);
    }

    /* Whether anything can be kept. */
    function works() {
        const good = write('trial', 1);
        remove('trial');
        return good;
    }

    /* What this window is called, the same after a reload where the browser allows that. */
    function ownName() {
        const drawn = mark(`${Math.random()} ${Date.now()}`);
        try {
            const own = window.sessionStorage.getItem(`${family}window`) || drawn;
            window.sessionStorage.setItem(`${family}window`, own);
            return own;
        } catch (problem) {
            return drawn;
        }
    }

    return {works, write, read, remove, keys, mark, named: (key) => family + key, me: ownName()};
}());
