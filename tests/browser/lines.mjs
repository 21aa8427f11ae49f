/* A program that takes a JSON object a line and answers with one a line. */
import { spawn } from 'node:child_process';
import { createInterface } from 'node:readline';

export function talkTo(program) {
    const child = spawn(program, [], { stdio: ['pipe', 'pipe', 'inherit'] });
    const waiting = [];
    createInterface({ input: child.stdout }).on('line', (line) => waiting.shift().resolve(JSON.parse(line)));
    child.on('exit', (code) => waiting.splice(0).forEach(({ reject }) => reject(new Error(`${program} ended with ${code}`))));
    return {
        ask: (request) => new Promise((resolve, reject) => {
            waiting.push({ resolve, reject });
            child.stdin.write(`${JSON.stringify(request)}\n`);
        }),
        end: () => child.stdin.end()
    };
}
