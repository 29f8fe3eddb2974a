// A search under way: the best so far, how long it has looked, and its end. It
// belongs to one boat and one question; whoever comes back finds it again.

import type { Begun, Found, FoundLast } from "../stow/types";
import { call, query, stream } from "./server";
import type { Boatful } from "./asker.svelte";

export class Search {
  found = $state.raw<Found | null>(null);
  end = $state.raw<FoundLast | null>(null);
  going = $state(false);
  stopping = $state(false);
  /** Seconds that it has looked, and will at most. */
  elapsed = $state(0);
  seconds = $state(0);
  trouble = $state("");

  #close = () => {};
  #clock: ReturnType<typeof setInterval> | undefined;
  #id = "";
  #boat: Boatful | null = null;

  start(boat: Boatful, id: string, seconds: number, again: boolean) {
    this.leave();
    Object.assign(this, { found: null, end: null, going: true, stopping: false, elapsed: 0, seconds, trouble: "" });
    this.#id = id;
    this.#boat = boat;
    const path = `/api/search/${encodeURIComponent(id)}${query(boat, { seconds, ...(again ? { again: "true" } : {}) })}`;
    this.#close = stream<FoundLast>(
      path,
      {
        begun: (b: Begun) => {
          this.seconds = b.seconds;
          const since = performance.now() - 1000 * b.elapsed_s;
          clearInterval(this.#clock);
          this.#clock = setInterval(() => (this.elapsed = Math.min(this.seconds, (performance.now() - since) / 1000)), 250);
        },
        found: (f: Found) => (this.found = f),
      },
      (end) => {
        clearInterval(this.#clock);
        this.going = false;
        this.stopping = false;
        this.end = end;
        this.trouble = end ? (end.trouble ?? "") : "The program does not answer. What was found is kept there: look again when it is back.";
        if (end && !end.trouble) this.found = end.found;
      },
    );
  }

  /** Ends it; the best so far then comes as its end. */
  async stop() {
    const boat = this.#boat;
    if (!boat || !this.going) return;
    this.stopping = true;
    try {
      await call(`/api/search/${encodeURIComponent(this.#id)}/stop`, { method: "POST", body: { ...(boat.try ? { try: boat.try } : {}), ...(boat.units ? { units: boat.units } : {}) } });
    } catch {
      this.stopping = false; // it goes on to its time, and can be stopped again
    }
  }

  /** Looks away. It goes on for a while, and what it finds is kept. */
  leave() {
    this.#close();
    this.#close = () => {};
    clearInterval(this.#clock);
    this.going = false;
  }
}
