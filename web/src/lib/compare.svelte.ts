// The answers of several tries side by side, asked one try after the other.

import * as server from "./server";
import type { Boatful } from "./asker.svelte";
import { Shelf } from "./shelf";
import type { Told } from "./types";

const tellings = new Shelf<Record<string, Told>>(40);

export class Comparison {
  /** What was told of each boat, by its mark. */
  told = $state.raw<Record<string, Record<string, Told>>>({});
  busy = $state(false);
  #end: () => void = () => {};
  #wanted = "";

  /** Asks every question of each boat, at a moment. */
  want(boats: Boatful[], day: number, condition: string) {
    const moment = `${day}\n${condition}`;
    const wanted = boats.map((b) => b.mark).join("\n") + "\n\n" + moment;
    if (wanted === this.#wanted) return;
    this.#wanted = wanted;
    this.#end();
    const told: Record<string, Record<string, Told>> = {};
    for (const { mark } of boats) told[mark] = tellings.get(mark + moment) ?? {};
    this.told = told;
    const left = boats.filter((b) => !tellings.get(b.mark + moment));
    const next = () => {
      const boat = left.shift();
      this.busy = boat !== undefined;
      if (!boat) return;
      this.#end = server.answers(
        boat,
        day,
        condition,
        (one) => {
          if (this.#wanted === wanted) this.told = { ...this.told, [boat.mark]: { ...this.told[boat.mark], [one.question]: one } };
        },
        (end) => {
          if (this.#wanted !== wanted) return;
          const all = this.told[boat.mark];
          if (end && !end.trouble && all) tellings.put(boat.mark + moment, all);
          else if (!end) this.#wanted = "";
          next();
        },
      );
    };
    next();
  }

  stop() {
    this.#end();
    this.#wanted = "";
    this.busy = false;
  }
}
