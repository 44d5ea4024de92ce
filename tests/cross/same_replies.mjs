// Are these the same replies? To the byte, or where a number's last digits come from another C library, every text
// alike and every number within a thousandth, or a thousandth part.
//   node same_replies.mjs A B [BYTES_ALIKE_AT_LEAST]
import { readFileSync } from 'node:fs';

const [, , pathA, pathB, least] = process.argv;
const linesOf = (path) => readFileSync(path, 'utf8').trimEnd().split('\n');
const a = linesOf(pathA), b = linesOf(pathB);
if (a.length !== b.length) throw new Error(`${a.length} replies and ${b.length}`);

const time = /^\d{4}-\d\d-\d\dT[\d:.]+/;
function compare(x, y, path) {
    if (typeof x !== typeof y || Array.isArray(x) !== Array.isArray(y)) return [`${path}: ${x} and ${y}`];
    if (typeof x === 'number')
        return Math.abs(x - y) <= 1e-3 * Math.max(1, Math.abs(x)) ? [] : [`${path}: ${x} and ${y}`];
    if (typeof x === 'string' && time.test(x) && x.length === y.length)
        return Math.abs(Date.parse(x) - Date.parse(y)) <= 1000 ? [] : [`${path}: ${x} and ${y}`];
    if (x === null || typeof x !== 'object') return x === y ? [] : [`${path}: ${x} and ${y}`];
    const keys = Object.keys(x);
    if (keys.join() !== Object.keys(y).join()) return [`${path}: other members`];
    return keys.flatMap((key) => compare(x[key], y[key], `${path}.${key}`));
}

let alike = 0;
const faults = [];
a.forEach((line, i) => {
    if (line === b[i]) alike += 1;
    else faults.push(...compare(JSON.parse(line), JSON.parse(b[i]), `reply ${i + 1}`));
});
console.log(`${alike} of ${a.length} replies alike to the byte`);
for (const fault of faults.slice(0, 20)) console.error(fault.slice(0, 400));
if (faults.length > 0 || alike < Number(least ?? 0)) process.exit(1);
