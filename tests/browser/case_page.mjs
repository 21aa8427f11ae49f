/* The empty page with a case put in, as the program does it. */
import { readFileSync, writeFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';

/* The address of a page with this scenario of `pages`. */
export function casePage(name) {
    const given = JSON.stringify({ name, scenario: readFileSync(`pages/${name}`, 'utf8'), log: null, table: null });
    const file = `pages/${name.replace(/\.yaml$/, '')}-${process.pid}.html`;
    writeFileSync(file, readFileSync('tool.html', 'utf8').replace(/(<script type="application\/json" id="case">)[^]*?(<\/script>)/,
        (all, begin, end) => begin + given.replaceAll('<', '\\u003c') + end));
    return pathToFileURL(file).href;
}
