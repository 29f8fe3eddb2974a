// One pull at a time: what the finger wants, what the server made of it, and
// what stood before. One pull is under way at most, and the latest place wins;
// what is asked for another handle, or of the boat at rest, ends the one before.

import { call, Refusal, type World } from "../lib/server";
import { tries } from "../lib/tries.svelte";
import { commit } from "../lib/trial";
import type { Edit } from "../lib/trytypes";
import type { Fault } from "../lib/types";
import { view } from "../lib/view.svelte";
import type { Handle, Place, Pulled, PulledAnswer } from "./types";
import { placeOf } from "./views";

interface Wanted {
  handle: Handle;
  about: boolean;
  to: Place;
}

// The server ends what this page asked before, and nobody else's.
const page = `hand-${Date.now().toString(36)}-${Math.random().toString(36).slice(2)}`;

class Pulling {
  /** The boat at rest, with the try that is on. */
  base = $state.raw<Pulled | null>(null);
  /** The boat as pulled, while something is pulled. */
  live = $state.raw<Pulled | null>(null);
  /** Answers before the last pull, to be set beside those of now. */
  was = $state.raw<PulledAnswer[]>([]);
  handle = $state.raw<Handle | null>(null);
  /** Whether the readings about it are taken along. */
  about = $state(false);
  to = $state.raw<Place | null>(null);
  /** The place that the last answer is of. */
  answered = $state.raw<Place | null>(null);
  trouble = $state("");
  faults = $state.raw<Fault[]>([]);
  loading = $state(false);
  /** How many pulls have come to rest; who counts knows that there is something new to say. */
  rested = $state(0);

  #wanted: Wanted | null = null;
  #cut: AbortController | null = null; // of the pull under way
  #going: Promise<void> | null = null;
  #loads = 0;
  #mark = "";

  get views() {
    return this.live?.views ?? this.base?.views;
  }
  get answers(): PulledAnswer[] {
    return (this.live ?? this.base)?.answers ?? [];
  }
  get active() {
    return this.handle !== null;
  }

  /** What the server is to start from: the try as it has it, or the edits that it has not yet. */
  #ground(): { world: World; edits: Edit[] } {
    const { boatful } = view;
    if (!boatful.try || tries.stored(boatful.try)) return { world: boatful, edits: [] };
    return { world: { try: "", units: boatful.units }, edits: tries.find(boatful.try)?.edits ?? [] };
  }

  async #ask(wanted: Wanted | null, signal?: AbortSignal): Promise<{ pulled: Pulled; own: Edit[] }> {
    const { world, edits } = this.#ground();
    const pulls = [];
    if (wanted) {
      const [x, y, z] = wanted.to;
      const free = wanted.handle.free;
      pulls.push({ handle: (wanted.about ? "shape:" : "") + wanted.handle.id, ...(free[0] ? { x } : {}), ...(free[1] ? { y } : {}), ...(free[2] ? { z } : {}) });
    }
    const body = { page, edits, pulls, day: view.day, views: true, ...(world.try ? { try: world.try } : {}), ...(world.units ? { units: world.units } : {}), ...(view.condition ? { condition: view.condition } : {}) };
    const pulled = await call<Pulled>("/api/pull", { method: "POST", body, signal });
    return { pulled, own: (pulled.edits ?? []).slice(edits.length) };
  }

  /** Shows the boat at rest as the address says; a pull that is under way stays. */
  async load() {
    if (this.active) return;
    const turn = ++this.#loads;
    const mark = [view.boatful.mark, view.day, view.condition].join("\n");
    if (mark === this.#mark && this.base) return;
    this.loading = true;
    try {
      const { pulled } = await this.#ask(null);
      if (turn !== this.#loads || this.active) return;
      if (!pulled.views) {
        this.trouble = pulled.faults?.[0]?.say ?? "The boat cannot be drawn so.";
        return;
      }
      // The answers before the last pull stay beside those of now, unless another day or try is looked at.
      if (!this.#own) this.was = [];
      this.#own = false;
      this.#mark = mark;
      this.base = pulled;
      this.trouble = "";
      this.faults = [];
    } catch (why) {
      if (turn === this.#loads && !this.active) this.trouble = why instanceof Refusal ? why.message : "The program does not answer. The lines shown are the last that came.";
    } finally {
      if (turn === this.#loads) this.loading = false;
    }
  }
  #own = false; // the change that is to be loaded is what was pulled here

  take(handle: Handle, about: boolean) {
    if (this.active) return;
    this.handle = handle;
    this.about = about;
    this.to = placeOf(handle);
    this.trouble = "";
    this.faults = [];
  }

  move(to: Place) {
    if (!this.handle) return;
    this.to = to;
    this.#wanted = { handle: this.handle, about: this.about, to };
    this.#going ??= this.#run().finally(() => (this.#going = null));
  }

  async #run() {
    let ended = 0; // how often what is wanted was ended by the server
    while (this.#wanted) {
      const wanted: Wanted = this.#wanted;
      this.#wanted = null;
      try {
        const { pulled, own } = await this.#ask(wanted, (this.#cut = new AbortController()).signal);
        ended = 0;
        if (this.handle?.id !== wanted.handle.id) continue; // let go of, and perhaps another taken
        this.faults = pulled.faults ?? [];
        this.trouble = "";
        this.answered = wanted.to;
        if (pulled.views) this.live = { ...pulled, edits: own };
        if (pulled.portrait) view.now.drawn = pulled.portrait; // she lies on the water as she would
      } catch (why) {
        if (this.handle?.id !== wanted.handle.id) continue;
        if (why instanceof Refusal && why.status === 503 && ended++ < 5) {
          this.#wanted ??= wanted; // ended by a request of this page that came late: asked again
          continue;
        }
        this.trouble = why instanceof Refusal ? why.message : "The program does not answer. Nothing of this pull is kept.";
        this.#wanted = null;
        this.live = null;
      }
    }
  }

  /** The finger lifts: what was shown last goes into the try. */
  rest(): Promise<void> {
    this.#resting ??= this.#rest().finally(() => (this.#resting = null));
    return this.#resting;
  }
  #resting: Promise<void> | null = null;

  async #rest() {
    if (!this.handle) return;
    while (this.#going) await this.#going;
    const { live } = this;
    const edits = live?.edits ?? [];
    this.handle = null;
    this.to = null;
    this.live = null;
    this.faults = [];
    if (!live || edits.length === 0) return;
    this.was = this.base?.answers ?? [];
    this.base = live;
    this.#own = true;
    this.rested++;
    commit(edits);
  }

  /** Puts it back where it was. */
  back() {
    if (this.live && this.base?.portrait) view.now.drawn = this.base.portrait;
    this.#wanted = null;
    this.handle = null;
    this.#cut?.abort();
    this.to = null;
    this.live = null;
    this.faults = [];
    this.trouble = "";
  }

  /** The handle of that name where it stands now. */
  find(id: string): Handle | undefined {
    return this.views?.handles?.find((h) => h.id === id);
  }
}

export const pulling = new Pulling();
