/* The way to the library: requests go to a Worker, answers come back in order. A Worker that fell over or
   was stopped is replaced by a new one, which is told of the case again before it is asked anything. What
   takes long and needs nothing but the case is done aside, by a Worker of its own, while the page goes on. */
const face = (function () {
    let last = 0;
    let onProgress = () => {};
    /* The request that opens the case in hand, or null. */
    let opening = () => null;

    const bytesOf = (base64) => Uint8Array.from(window.atob(base64), (letter) => letter.charCodeAt(0));

    /* A Worker, once it is asked something, and what it has not answered yet. */
    function makeHand() {
        let worker = null;
        let waiting = new Map();
        const hand = {stop: () => hand.end({stopped: true})};

        hand.isBusy = () => waiting.size > 0;

        hand.end = (reason) => {
            const left = [...waiting.values()];
            if (worker) {
                worker.terminate();
            }
            worker = null;
            waiting = new Map();
            left.forEach(({reject}) => reject(reason));
        };

        function hear({data}) {
            if (data.progress) {
                onProgress(hand, data.progress[0], data.progress[1]);
            } else if (data.failed) {
                hand.end({crashed: data.failed});
            } else if (waiting.has(data.id)) {
                const {resolve} = waiting.get(data.id);
                waiting.delete(data.id);
                resolve(data.text);
            }
        }

        function begin() {
            const script = new Blob([dom.byId('worker').textContent], {type: 'text/javascript'});
            worker = new Worker(URL.createObjectURL(script));
            worker.onmessage = hear;
            worker.onerror = (event) => hand.end({crashed: event.message || 'it stopped'});
            const library = bytesOf(dom.byId('library').textContent.trim()).buffer;
            worker.postMessage({library}, [library]);
        }

        function post(request) {
            return new Promise((resolve, reject) => {
                last += 1;
                waiting.set(last, {resolve, reject});
                worker.postMessage({id: last, text: JSON.stringify(request)});
            });
        }

        hand.ask = async (request) => {
            if (!worker) {
                begin();
                const open = request.do === 'open' ? null : opening();
                if (open) {
                    post(open).catch(() => {});
                }
            }
            return JSON.parse(await post(request));
        };
        return hand;
    }

    const main = makeHand();
    const asides = new Set();

    /* What `run` asks of a hand, one request after the other, as one piece of work. */
    async function aside(hand, run) {
        asides.add(hand);
        try {
            return await run(hand.ask);
        } finally {
            asides.delete(hand);
        }
    }

    async function askAside(request) {
        const hand = makeHand();
        try {
            return await aside(hand, (ask) => ask(request));
        } finally {
            hand.end({});
        }
    }

    return {
        /* The answer's object. Rejects with {stopped}, {left} or {crashed: why}. */
        ask: main.ask,
        askAside,
        /* One that is kept for several pieces of work, until its `end`. Its `stop` may be put in other words. */
        makeHand,
        aside,
        /* Whatever is being worked on. */
        stop() {
            [...asides].forEach((hand) => hand.stop());
            if (main.isBusy()) {
                main.end({stopped: true});
            }
        },
        /* Another case is taken up: nobody waits for what is worked out aside of this one. */
        leave: () => [...asides].forEach((hand) => hand.end({left: true})),
        /* Told of what is done aside, where there is such work, else of what the page waits for. */
        listen(progress) {
            onProgress = (hand, done, total) => {
                if (hand !== main || !asides.size) {
                    progress(done, total);
                }
            };
        },
        opensWith(request) {
            opening = request;
        }
    };
}());
