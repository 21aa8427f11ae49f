/* WebKitGTK through its own WebDriver, under Xvfb: plain requests of W3C WebDriver. What every engine
   offers: see engines.mjs. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { writeFileSync } from 'node:fs';
import { request } from 'node:http';
import { createServer } from 'node:net';
import { find } from './find.mjs';

const elementKey = 'element-6066-11e4-a52e-4f735466cecf'; /* W3C WebDriver, "web element identifier" */

async function freePort() {
    const server = createServer().listen(0, '127.0.0.1');
    await once(server, 'listening');
    const { port } = server.address();
    server.close();
    await once(server, 'close');
    return port;
}

/* A screen that nobody sees; it chooses its own number and tells it. */
async function startScreen() {
    const screen = spawn('Xvfb', ['-displayfd', '3', '-screen', '0', '1400x1200x24', '-nolisten', 'tcp'],
        { stdio: ['ignore', 'ignore', 'ignore', 'pipe'] });
    const [number] = await once(screen.stdio[3], 'data');
    return { screen, display: `:${String(number).trim()}` };
}

const ask = (port, method, path, body) => new Promise((resolve, reject) => {
    const text = body === undefined ? '' : JSON.stringify(body);
    const call = request({ port, method, path, host: '127.0.0.1', headers: { 'Content-Type': 'application/json', 'Content-Length': Buffer.byteLength(text) } }, (reply) => {
        let all = '';
        reply.setEncoding('utf8').on('data', (part) => { all += part; }).on('end', () => {
            const { value } = JSON.parse(all);
            return reply.statusCode === 200 ? resolve(value) : reject(new Error(`${path}: ${value.error}: ${value.message}`));
        });
    });
    call.on('error', reject);
    call.end(text);
});

/* The driver needs a moment until it listens. */
async function patiently(work) {
    for (let left = 100; ; left--) {
        try {
            return await work();
        } catch (problem) {
            if (problem.code !== 'ECONNREFUSED' || left === 0) {
                throw problem;
            }
            await new Promise((resolve) => setTimeout(resolve, 50));
        }
    }
}

/* WebDriver has no ear for a page, so it gets one of its own as soon as it is loaded. What is refused before
   that shows by what is missing then. Runs in the page. */
function listen() {
    window.heard = [];
    document.addEventListener('securitypolicyviolation', (event) =>
        window.heard.push(`policy: ${event.violatedDirective} ${event.blockedURI} ${event.sample}`));
    window.addEventListener('error', (event) => window.heard.push(`error: ${event.message}`));
    window.addEventListener('unhandledrejection', (event) => window.heard.push(`error: ${event.reason}`));
    ['log', 'warn', 'error'].forEach((name) => {
        console[name] = (...words) => window.heard.push(`${name}: ${words.join(' ')}`);
    });
}

function viewOf(session) {
    const evaluate = (work, ...values) =>
        session('POST', '/execute/sync', { script: `return (${work}).apply(null, arguments);`, args: values });
    const element = async (role, name) => {
        const found = await evaluate(find, role, name);
        if (!found) {
            throw new Error(`there is no ${role} "${name}"`);
        }
        return `/element/${found[elementKey]}`;
    };
    return {
        evaluate,
        click: async (role, name) => session('POST', `${await element(role, name)}/click`, {}),
        type: async (role, name, text) => {
            const field = await element(role, name);
            await session('POST', `${field}/clear`, {});
            await session('POST', `${field}/value`, { text });
        },
        screenshot: async (path) => writeFileSync(path, Buffer.from(await session('GET', '/screenshot'), 'base64')),
        listen: () => evaluate(listen),
        async reload() {
            await session('POST', '/refresh', {});
            await evaluate(listen);
        },
        complaints: () => evaluate(() => window.heard),
        close: async () => {}
    };
}

export async function launch({ program, width, height }) {
    const { screen, display } = await startScreen();
    const port = await freePort();
    /* Its sandbox does not start for root. */
    const root = process.getuid() === 0 ? { WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS: '1' } : {};
    const driver = spawn('WebKitWebDriver', [`--port=${port}`], { env: { ...process.env, ...root, DISPLAY: display }, stdio: 'ignore' });
    const stop = () => {
        driver.kill();
        screen.kill();
    };
    process.once('exit', stop);
    try {
        const args = ['--automation'];
        const capabilities = { alwaysMatch: { 'webkitgtk:browserOptions': { binary: program, args } } };
        const { sessionId } = await patiently(() => ask(port, 'POST', '/session', { capabilities }));
        const session = (method, path, body) => ask(port, method, `/session/${sessionId}${path}`, body);
        await session('POST', '/window/rect', { width, height });
        return {
            open: async (address) => {
                await session('POST', '/url', { url: address });
                const view = viewOf(session);
                await view.listen();
                return view;
            },
            close: async () => {
                await session('DELETE', '').catch(() => {});
                stop();
            }
        };
    } catch (problem) {
        stop();
        throw problem;
    }
}
