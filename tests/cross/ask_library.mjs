// A request a line on standard input, a reply a line on standard output, by keyhour.wasm as a page loads it.
//   node ask_library.mjs keyhour.wasm [--time]     --time: processor time of each, on standard error
import { readFileSync } from 'node:fs';

export function open(path) {
    const module = new WebAssembly.Module(readFileSync(path));
    const asked = WebAssembly.Module.imports(module);
    if (asked.length > 0) throw new Error(`keyhour.wasm asks its host for ${asked.map((i) => i.name).join(', ')}`);
    const library = new WebAssembly.Instance(module, {}).exports;
    library._initialize();
    return {
        memory: library.memory,
        answer(request) {
            const bytes = new TextEncoder().encode(request);
            const at = library.keyhour_take(bytes.length);
            new Uint8Array(library.memory.buffer, at, bytes.length).set(bytes);
            const reply = library.keyhour_answer(at, bytes.length);
            library.keyhour_give_back(at, bytes.length);
            const length = new DataView(library.memory.buffer).getUint32(reply, true);
            const text = new TextDecoder().decode(new Uint8Array(library.memory.buffer, reply + 4, length));
            library.keyhour_give_back(reply, length + 4);
            return text;
        },
    };
}

const [, , path, time] = process.argv;
const spent = () => { const { user, system } = process.cpuUsage(); return (user + system) / 1000; };
const started = spent();
const library = open(path);
for (const request of readFileSync(0, 'utf8').split('\n').filter((line) => line !== '')) {
    const before = spent();
    console.log(library.answer(request));
    if (time) {
        const asked = JSON.parse(request);
        console.error(`${asked.ask}: ${(spent() - before).toFixed(1)} ms`);
    }
}
if (time)
    console.error(`all: ${(spent() - started).toFixed(0)} ms, memory ${library.memory.buffer.byteLength >> 20} MiB`);
