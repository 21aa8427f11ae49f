/* The way to the library: requests go to a Worker, answers come back in order. A Worker that fell over or
   was stopped is replaced by a new one, which is told of the case again before it is asked anything. */
const face = (function () {
    let worker = null;
    let waiting = new Map();
    let last = 0;
    let onProgress = () => {};
    /* The request that opens the case in hand, or null. */
    let opening = () => null;

    const bytesOf = (base64) => Uint8Array.from(window.atob(base64), (letter) => letter.charCodeAt(0));

    function end(reason) {
        const left = [...waiting.values()];
        if (worker) {
            worker.terminate();
        }
        worker = null;
        waiting = new Map();
        left.forEach(({reject}) => reject(reason));
    }

    function hear({data}) {
        if (data.progress) {
            onProgress(data.progress[0], data.progress[1]);
        } else if (data.failed) {
            end({crashed: data.failed});
        } else if (waiting.has(data.id)) {
            const {resolve} = waiting.get(data.id);
            waiting.delete(data.id);
            resolve(data.text);
        }
    }

    function begin() {
        const script = new Blob([dom.byId('worker').textContent], {type: 'text/javascript'});
        const address = URL.createObjectURL(script);
        worker = new Worker(address);
        worker.onmessage = hear;
        worker.onerror = (event) => end({crashed: event.message || 'it stopped'});
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

    /* The answer's object. Rejects with {stopped} or {crashed: why}. */
    async function ask(request) {
        if (!worker) {
            begin();
            const open = request.do === 'open' ? null : opening();
            if (open) {
                post(open).catch(() => {});
            }
        }
        return JSON.parse(await post(request));
    }

    return {
        ask,
        stop: () => end({stopped: true}),
        listen(progress) {
            onProgress = progress;
        },
        opensWith(request) {
            opening = request;
        }
    };
}());
