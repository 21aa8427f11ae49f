/* The library at work beside the page: takes requests as JSON texts, answers in their order. The few
   calls of WASI that it imports go nowhere: it neither reads nor writes files. */
'use strict';

let library = null;
let bench = 0;

const memory = () => new DataView(library.memory.buffer);

const wasi = {
    /* All that is written is taken and thrown away. */
    fd_write(file, parts, count, written) {
        let sum = 0;
        for (let k = 0; k < count; k++) {
            sum += memory().getUint32(parts + 8 * k + 4, true);
        }
        memory().setUint32(written, sum, true);
        return 0;
    },
    clock_time_get(id, precision, out) {
        memory().setBigUint64(out, BigInt(Date.now()) * 1000000n, true);
        return 0;
    },
    environ_sizes_get(count, size) {
        memory().setUint32(count, 0, true);
        memory().setUint32(size, 0, true);
        return 0;
    },
    args_sizes_get(count, size) {
        return wasi.environ_sizes_get(count, size);
    },
    environ_get: () => 0,
    args_get: () => 0,
    proc_exit(code) {
        throw new Error(`the library ended with ${code}`);
    }
};

/* Any other call fails as on a system that has no files: "not supported". */
const imports = {
    wasi_snapshot_preview1: new Proxy(wasi, {get: (calls, name) => calls[name] || (() => 58)}),
    env: {
        hp_web_progress(done, total) {
            postMessage({progress: [done, total]});
        }
    }
};

function ask(text) {
    const bytes = new TextEncoder().encode(text);
    const request = library.malloc(bytes.length + 1);
    if (!request) {
        throw new Error('no memory');
    }
    const room = new Uint8Array(library.memory.buffer, request, bytes.length + 1);
    room.set(bytes);
    room[bytes.length] = 0;
    const answer = library.hp_web_call(bench, request);
    library.free(request);
    if (!answer) {
        throw new Error('no memory');
    }
    const all = new Uint8Array(library.memory.buffer);
    const reply = new TextDecoder().decode(all.subarray(answer, all.indexOf(0, answer)));
    library.free(answer);
    return reply;
}

async function begin(bytes) {
    const module = await WebAssembly.instantiate(bytes, imports);
    library = module.instance.exports;
    if (library._initialize) {
        library._initialize();
    }
    bench = library.hp_web_create();
}

let queue = Promise.resolve();

onmessage = ({data}) => {
    queue = queue.then(async () => {
        try {
            if (data.library) {
                await begin(data.library);
                postMessage({ready: true});
            } else {
                postMessage({id: data.id, text: ask(data.text)});
            }
        } catch (problem) {
            postMessage({failed: String(problem && problem.message || problem)});
        }
    });
};
