// Prints the figures that the module says, as tests/c/figures.c reads them; and asks keyhour.wasm for the sun
// as a page would, through its memory alone.
//   node say_figures.mjs figures.wasm keyhour.wasm
import { readFileSync } from 'node:fs';

const [, , figuresPath, libraryPath] = process.argv;
const text = (memory, at) => {
    const bytes = new Uint8Array(memory.buffer, at);
    return new TextDecoder().decode(bytes.subarray(0, bytes.indexOf(0)));
};
const said = [];
const figures = new WebAssembly.Instance(new WebAssembly.Module(readFileSync(figuresPath)), {
    host: {
        say(name, value) {
            const bits = new DataView(new ArrayBuffer(8));
            bits.setFloat64(0, value);
            said.push(`${text(figures.exports.memory, name)}\t${bits.getBigUint64(0).toString(16).padStart(16, '0')}`);
        },
    },
});
figures.exports._initialize();
const status = figures.exports.figures();
if (status !== 0) throw new Error(`the module says status ${status}`);

const module = new WebAssembly.Module(readFileSync(libraryPath));
if (WebAssembly.Module.imports(module).length > 0) throw new Error('keyhour.wasm asks its host for something');
const library = new WebAssembly.Instance(module, {}).exports;
library._initialize();
// keyhour_observer_at returns its struct where the first argument points; doubles follow one another.
const observer = (library.__heap_base.value + 15) & ~15, sun = observer + 40;
library.keyhour_observer_at(observer, 52.9536, -1.1505, 61);
const nineOnFebruary17 = 1771286400 + 9 * 3600;
if (library.keyhour_sun_at(observer, nineOnFebruary17, sun) !== 0) throw new Error('no sun');
const azimuth = new DataView(library.memory.buffer).getBigUint64(sun, true).toString(16).padStart(16, '0');
if (said[0] !== `sun azimuth, degrees\t${azimuth}`) throw new Error(`${said[0]}, but through memory ${azimuth}`);
console.log(said.join('\n'));
