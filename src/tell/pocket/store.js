// What is typed is kept in this browser's own storage, nowhere else, so that it outlives a closed tab.
class Store {
  static prefix = "keyhour ";
  #broken = "";

  /// The first thing that went wrong, in words; empty while all is well.
  get trouble() { return this.#broken; }

  #try(work) {
    try {
      const done = work();
      this.#broken = "";
      return done;
    } catch (wrong) {
      const full = wrong.name === "QuotaExceededError" || wrong.name === "NS_ERROR_DOM_QUOTA_REACHED";
      this.#broken = full
        ? "This browser's storage is full. What you type is kept only while this tab stays open: save the file now (under File)."
        : "This browser keeps nothing for a page opened like this. What you type is lost with the tab: save the file (under File).";
      return undefined;
    }
  }

  read(key) {
    const text = this.#try(() => localStorage.getItem(Store.prefix + key));
    try { return text ? JSON.parse(text) : null; } catch { return null; }
  }
  /// @return whether it is kept; what was kept before stays if it is not
  write(key, value) {
    return this.#try(() => { localStorage.setItem(Store.prefix + key, JSON.stringify(value)); return true; }) ?? false;
  }
  forget(key) { this.#try(() => localStorage.removeItem(Store.prefix + key)); }
  keys() {
    return this.#try(() => Object.keys(localStorage).filter((k) => k.startsWith(Store.prefix)).map((k) => k.slice(Store.prefix.length))) ?? [];
  }
  erase() { for (const key of this.keys()) this.forget(key); }
  bytes() {
    // What the keys meet is the trouble; a sum of none would say that there is none.
    const keys = this.keys();
    return this.#broken ? 0 : this.#try(() => keys.reduce((sum, k) => sum + k.length + (localStorage.getItem(Store.prefix + k) ?? "").length, 0)) ?? 0;
  }
}
