// A browser opens six connections to one server and lets the rest wait in their
// order, so that what a person does would wait behind answers that take long.
// Therefore questions pass through gates, and deeds do not.

/** Lets so many through at once; the others wait in their order. */
export class Gate {
  #free: number;
  #waiting: (() => void)[] = [];

  constructor(most: number) {
    this.#free = most;
  }

  /** Waits for its turn; the result is to be called when done. Who gives up before leaves the row. */
  async enter(signal?: AbortSignal): Promise<() => void> {
    signal?.throwIfAborted();
    if (this.#free > 0) this.#free--;
    else await this.#turn(signal);
    let inside = true;
    return () => {
      if (!inside) return;
      inside = false;
      const next = this.#waiting.shift();
      if (next) next();
      else this.#free++;
    };
  }

  #turn(signal?: AbortSignal): Promise<void> {
    return new Promise((done, failed) => {
      const givenUp = () => {
        this.#waiting = this.#waiting.filter((w) => w !== turn);
        failed(signal?.reason);
      };
      const turn = () => {
        signal?.removeEventListener("abort", givenUp);
        done();
      };
      signal?.addEventListener("abort", givenUp, { once: true });
      this.#waiting.push(turn);
    });
  }
}

// With the stream of changes these are five: one connection is always left for a deed.
/** Questions that are answered once. */
export const asks = new Gate(2);
/** Answers that come bit by bit. */
export const streams = new Gate(2);
