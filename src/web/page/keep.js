/* What the browser keeps: one case a key, so that neither a reload nor a killed tab loses anything.
   Where nothing can be kept the page works on and says so. */
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

    const isOurs = (key) => key !== null && key.startsWith(family);

    return {write, read, remove, keys, mark, isOurs, named: (key) => family + key};
}());
