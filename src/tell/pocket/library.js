// keyhour itself, compiled: unpacked from the page, asked one JSON object, answering one. It works in a
// worker made from this page, so that typing never waits; where the browser forbids that, in the page.

/// Also the worker's whole script, so it uses nothing from outside itself.
const startLibrary = async (packed, table) => {
  const unpack = async () => {
    const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"));
    return new Response(stream).arrayBuffer();
  };
  const module = await WebAssembly.compile(await unpack());
  let memory = null;
  const system = {
    // Of the machine only the clock is asked; whatever else C's library knows of is not there.
    clock_time_get: (id, precision, at) => {
      new DataView(memory.buffer).setBigUint64(at, BigInt(Math.round(Date.now() * 1e6)), true);
      return 0;
    },
    random_get: (at, n) => { new Uint8Array(memory.buffer, at, n).fill(7); return 0; },
    environ_sizes_get: (count, size) => {
      const view = new DataView(memory.buffer);
      view.setUint32(count, 0, true);
      view.setUint32(size, 0, true);
      return 0;
    },
    environ_get: () => 0,
    fd_write: (file, parts, n, written) => {
      const view = new DataView(memory.buffer);
      let sum = 0;
      for (let i = 0; i < n; i++) sum += view.getUint32(parts + 8 * i + 4, true);
      view.setUint32(written, sum, true);
      return 0;
    },
    proc_exit: () => { throw new Error("the library stopped"); },
  };
  const no_such_file = 8;
  const imports = {};
  for (const { module: from, name, kind } of WebAssembly.Module.imports(module)) {
    imports[from] ??= {};
    if (kind === "function") imports[from][name] = system[name] ?? (() => no_such_file);
  }
  const { exports } = await WebAssembly.instantiate(module, imports);
  memory = exports.memory;
  exports._initialize?.();
  const answer = (request) => {
    const words = new TextEncoder().encode(JSON.stringify(request));
    const at = exports.keyhour_take(words.length);
    new Uint8Array(memory.buffer, at, words.length).set(words);
    const reply = exports.keyhour_answer(at, words.length);
    exports.keyhour_give_back(at, words.length);
    const length = new DataView(memory.buffer).getUint32(reply, true);
    const text = new TextDecoder().decode(new Uint8Array(memory.buffer, reply + 4, length));
    exports.keyhour_give_back(reply, length + 4);
    return JSON.parse(text);
  };
  if (table) answer(table);
  return answer;
};

const workerScript = `"use strict";
const startLibrary = ${startLibrary};
let answer = null;
onmessage = async ({ data }) => {
  try {
    if (data.packed) { answer = await startLibrary(data.packed, data.table); postMessage({ ready: true }); }
    else postMessage({ id: data.id, reply: answer(data.request) });
  } catch (wrong) {
    postMessage({ id: data.id, failed: String(wrong && wrong.message || wrong) });
  }
};`;

class Library {
  #worker = null;
  #answer = null;
  #waiting = new Map();   // id: what to do with the reply
  #slots = new Map();     // of a slot only the newest question is asked
  #next = 1;
  #busy = false;
  #begin = null;          // starts it, or starts it anew

  /// @param stopped  told the words when it has stopped, whatever it was asked
  constructor(stopped) { this.stopped = stopped; }

  async start() {
    const packed = Library.bytesOf(find("library").textContent.trim());
    find("library").remove();
    const zones = find("zones");
    const table = zones ? JSON.parse(zones.textContent) : null;
    const message = table && (table.ask ? table : { ask: "zones", table });
    this.zones = Object.keys(message?.table ?? {});
    this.#begin = async () => {
      this.#worker?.terminate();
      this.#worker = null;
      try { await this.#startWorker(packed, message); } catch { this.#answer = await startLibrary(packed, message); }
    };
    await this.#begin();
  }

  static bytesOf(text) {
    if (Uint8Array.fromBase64) return Uint8Array.fromBase64(text);
    const letters = atob(text);
    const bytes = new Uint8Array(letters.length);
    for (let i = 0; i < letters.length; i++) bytes[i] = letters.charCodeAt(i);
    return bytes;
  }

  #startWorker(packed, table) {
    return new Promise((done, failed) => {
      const worker = new Worker(URL.createObjectURL(new Blob([workerScript], { type: "text/javascript" })));
      worker.onerror = () => failed(new Error("no worker"));
      worker.onmessage = ({ data }) => {
        if (data.ready) { this.#worker = worker; return done(); }
        if (!this.#worker) return failed(new Error(data.failed));
        this.#take(data);
      };
      worker.postMessage({ packed, table });
    });
  }

  async #take({ id, reply, failed }) {
    const { done } = this.#waiting.get(id);
    this.#waiting.delete(id);
    // What has stopped half-way is not asked again.
    let again = "was started anew";
    if (failed) await this.#begin().catch((wrong) => { again = `can't be started anew (${wrong.message}): load the page again`; });
    this.#busy = false;
    if (failed) {
      this.stopped(`keyhour stopped on a question (${failed}) and ${again}. What you typed is untouched.`);
      reply = { ok: false, stopped: true, problems: [{ text: `keyhour stopped on this question (${failed}).` }] };
    }
    done(reply);
    this.#send();
  }

  /// The reply; null where a newer question took this one's slot before it was asked.
  ask(request, slot = "") {
    return new Promise((done) => {
      const id = this.#next++;
      const key = slot || `once ${id}`;
      const before = this.#slots.get(key);
      if (before) { this.#slots.delete(key); before.done(null); }
      this.#slots.set(key, { id, request, done });
      this.#send();
    });
  }

  #send() {
    if (this.#busy || this.#slots.size === 0) return;
    const [key, { id, request, done }] = this.#slots.entries().next().value;
    this.#slots.delete(key);
    this.#waiting.set(id, { done });
    this.#busy = true;
    if (this.#worker) return this.#worker.postMessage({ id, request });
    setTimeout(() => {
      try { this.#take({ id, reply: this.#answer(request) }); }
      catch (wrong) { this.#take({ id, failed: wrong.message }); }
    }, 0);
  }
}
