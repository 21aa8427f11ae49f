/* WebKitGTK through its own WebDriver, under Xvfb: plain requests of W3C WebDriver. What every engine
   offers: see engines.mjs. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { request } from 'node:http';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
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

/* WebDriver has no ear for a page, so it gets one of its own as soon as it is loaded; what its console tells
   before that: complaintsAtLoad. Runs in the page. */
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

/* Its sandbox does not start for root. */
const forRoot = () => (process.getuid() === 0 ? { WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS: '1' } : {});

/* What the console tells while these pages load, without a driver: lines that the browser itself writes (to its
   standard error), until one holds `last`, and `after` milliseconds on. Null: it never came. */
export async function complaintsAtLoad(program, addresses, last, after) {
    const { screen, display } = await startScreen();
    const home = mkdtempSync(join(tmpdir(), 'webkit-'));
    const env = { ...process.env, ...forRoot(), DISPLAY: display, HOME: home, XDG_DATA_HOME: home, XDG_CACHE_HOME: home, XDG_CONFIG_HOME: home };
    const browser = spawn(program, ['--enable-write-console-messages-to-stdout=true', ...addresses], { env, stdio: ['ignore', 'ignore', 'pipe'] });
    let written = '';
    browser.stderr.setEncoding('utf8').on('data', (part) => { written += part; });
    const told = () => written.split('\n').filter((line) => line.includes('CONSOLE'));
    for (let left = 300; left > 0 && !told().some((line) => line.includes(last)); left--) {
        await new Promise((resolve) => setTimeout(resolve, 100));
    }
    await new Promise((resolve) => setTimeout(resolve, after));
    browser.kill();
    await once(browser, 'exit');
    screen.kill();
    rmSync(home, { recursive: true, force: true });
    return told().some((line) => line.includes(last)) ? told().filter((line) => !line.includes(last)) : null;
}

export async function launch({ program, width, height }) {
    const { screen, display } = await startScreen();
    const port = await freePort();
    const driver = spawn('WebKitWebDriver', [`--port=${port}`], { env: { ...process.env, ...forRoot(), DISPLAY: display }, stdio: 'ignore' });
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
