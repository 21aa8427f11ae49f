/* hubphase_face once more, over the WebAssembly: a request a line in, an answer a line out.
 *
 *   node face_wasm.mjs hubphase.wasm library.js */
import { readFileSync } from "node:fs";
import { createInterface } from "node:readline";

const [, , wasm, script] = process.argv;
/* The page's script is a module by its use, not by its name. */
const source = "data:text/javascript;base64," + readFileSync(script).toString("base64");
const { openLibrary } = await import(source);
const library = await openLibrary(readFileSync(wasm));
for await (const line of createInterface({ input: process.stdin }))
    process.stdout.write(library.callText(line) + "\n");
