// What came from the server and may be wanted again.

/** Keeps the last so many values. */
export class Shelf<T> {
  #held = new Map<string, T>();
  #room: number;

  constructor(room: number) {
    this.#room = room;
  }
  get(key: string): T | undefined {
    return this.#held.get(key);
  }
  put(key: string, value: T) {
    this.#held.delete(key);
    this.#held.set(key, value);
    const oldest = this.#held.keys().next();
    if (this.#held.size > this.#room && !oldest.done) this.#held.delete(oldest.value);
  }
  clear() {
    this.#held.clear();
  }
}
