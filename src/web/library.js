/*
 * The library as WebAssembly, for a page's Worker and for node: one call, objects in and out.
 *
 *     const library = await openLibrary(bytes, (done, total) => 0);
 *     const answer = library.call({ do: "advice" });
 *
 * Requests and answers: docs/face.md. A progress function that returns other than 0 stops the work.
 * A call that throws has ended the instance: its memory may be inconsistent, so open a new one with
 * the same texts.
 */

/* Of WASI (wasi_snapshot_preview1), which the C library asks for: there are a clock and nothing else;
 * no files, no environment, no random numbers. */
const NO_FILE = 8; /* EBADF */
const NO_SUCH_CALL = 52; /* ENOSYS */

function systemCalls(memory, say) {
    const view = () => new DataView(memory().buffer);
    const calls = {
        clock_time_get(clock, precision, result) {
            view().setBigUint64(result, BigInt(Date.now()) * 1000000n, true);
            return 0;
        },
        environ_sizes_get(count, size) {
            view().setUint32(count, 0, true);
            view().setUint32(size, 0, true);
            return 0;
        },
        environ_get: () => 0,
        fd_prestat_get: () => NO_FILE,
        fd_write(file, vectors, count, written) {
            let total = 0, text = "";
            for (let k = 0; k < count; k++) {
                const at = view().getUint32(vectors + 8 * k, true);
                const size = view().getUint32(vectors + 8 * k + 4, true);
                text += new TextDecoder().decode(new Uint8Array(memory().buffer, at, size));
                total += size;
            }
            say(text);
            view().setUint32(written, total, true);
            return 0;
        },
        proc_exit(status) {
            throw new Error("the library gave up: " + status);
        },
    };
    return new Proxy(calls, { get: (known, name) => known[name] ?? (() => NO_SUCH_CALL) });
}

export async function openLibrary(bytes, onProgress = () => 0, say = console.warn) {
    let exports = null;
    const memory = () => exports.memory;
    const { instance } = await WebAssembly.instantiate(bytes, {
        env: { hp_web_progress: (done, total) => onProgress(done, total) | 0 },
        wasi_snapshot_preview1: systemCalls(memory, say),
    });
    exports = instance.exports;
    exports._initialize();
    const web = exports.hp_web_create();
    if (!web)
        throw new Error("no memory for the library");
    const put = (text) => {
        const raw = new TextEncoder().encode(text);
        const at = exports.malloc(raw.length + 1);
        if (!at)
            throw new Error("no memory for a request");
        const room = new Uint8Array(exports.memory.buffer, at, raw.length + 1);
        room.set(raw);
        room[raw.length] = 0;
        return at;
    };
    const take = (at) => {
        if (!at)
            throw new Error("no memory for an answer");
        const all = new Uint8Array(exports.memory.buffer, at);
        const text = new TextDecoder().decode(all.subarray(0, all.indexOf(0)));
        exports.free(at);
        return text;
    };
    const callText = (request) => {
        const at = put(request), answer = exports.hp_web_call(web, at);
        exports.free(at);
        return take(answer);
    };
    return { call: (request) => JSON.parse(callText(JSON.stringify(request))), callText };
}
