/* A machine led through the face of the library alone, without a page: the same questions, no taps. */
import { talkTo } from './lines.mjs';

export async function open() {
    const face = talkTo(process.env.FACE);
    let form = null;
    const ask = async (request) => {
        const reply = await face.ask(request);
        if (!reply.ok) {
            throw new Error(`${request.do}: ${reply.summary} ${reply.problems.map(({ text }) => text).join(' ')}`);
        }
        return reply;
    };
    return {
        begin: (scenario) => ask({ do: 'open', name: 'hidden.yaml', scenario }),
        async advice() {
            const reply = await ask({ do: 'advice' });
            form = reply.form;
            return reply.json.advice;
        },
        advised: () => (form ? form.kind : ''),
        /* Answers question after question; a text says what did not fit. */
        async write(kind, answer) {
            const values = {};
            for (let k = 0; k < 60; k++) {
                const { questions } = await ask({ do: 'form', kind, values });
                const next = questions.find(({ key }) => !(key in values));
                if (!next) {
                    const reply = await face.ask({ do: 'answer', kind, values, time: '2026-11-29T15:04:05+01:00' });
                    return reply.ok ? null : reply.problems.map(({ key, text }) => `${key}: ${text}`).join(' ') || reply.summary;
                }
                const text = answer({ ...next, words: next.choices && next.choices.map(({ word }) => word) });
                if (text === null) {
                    return `${kind}: "${next.text}"`;
                }
                values[next.key] = text;
            }
            return `${kind}: there is no end of questions`;
        },
        taps: () => 0,
        end: () => face.end()
    };
}
