// What is missing in the folder and what was taken for granted, over all questions.

import type { Boatful } from "./asker.svelte";
import * as changing from "./changing";
import { Refusal } from "./server";
import type { NeedsNow } from "./trytypes";

class Needs {
  now = $state.raw<NeedsNow | null>(null);
  trouble = $state("");
  #mark = "";
  #wanted: AbortController | null = null;

  missing = $derived(this.now?.needs ?? []);
  assumed = $derived(this.now?.assumptions ?? []);

  want(boat: Boatful) {
    if (boat.mark === this.#mark) return;
    this.#mark = boat.mark;
    this.#wanted?.abort();
    const wanted = (this.#wanted = new AbortController());
    changing.needs(boat, wanted.signal).then(
      (now) => {
        this.now = now;
        this.trouble = "";
      },
      (why) => {
        if (wanted.signal.aborted) return;
        this.#mark = "";
        if (why instanceof Refusal) this.trouble = why.message;
      },
    );
  }
}

export const needs = new Needs();
