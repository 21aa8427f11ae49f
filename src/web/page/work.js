/* The library at work beside the page (src/web/library.js stands above): takes requests as JSON texts,
   answers in their order. */
let library = null;

/* It comes packed by gzip. (Not by way of a Blob's stream, which WebKit does not read in a Worker.) */
function unpack(bytes) {
    const packed = new DecompressionStream('gzip');
    const writer = packed.writable.getWriter();
    writer.write(bytes);
    writer.close();
    return new Response(packed.readable).arrayBuffer();
}

function tell(done, total) {
    postMessage({progress: [done, total]});
    return 0;
}

let queue = Promise.resolve();

onmessage = ({data}) => {
    queue = queue.then(async () => {
        try {
            if (data.library) {
                library = await openLibrary(await unpack(data.library), tell, () => {});
            } else {
                postMessage({id: data.id, text: library.callText(data.text)});
            }
        } catch (problem) {
            postMessage({failed: String(problem && problem.message || problem)});
        }
    });
};
