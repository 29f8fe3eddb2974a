// Carrying a thing to another compartment: what is in the hand, over which one it
// is held, what would follow there, and what stood before. One question is under
// way at most, and the latest place wins; what was asked in this carry is kept.

import type { Pulled, PulledAnswer } from "../hand/types";
import { call, query, Refusal } from "../lib/server";
import { commit } from "../lib/trial";
import type { Edit } from "../lib/trytypes";
import type { Fault } from "../lib/types";
import { view } from "../lib/view.svelte";
import type { Locker, Stowage, Stowed, Thing } from "./types";

// The server ends what this page asked before, and nobody else's.
const page = `stowage-${Date.now().toString(36)}-${Math.random().toString(36).slice(2)}`;

class Carrying {
  stowage = $state.raw<Stowage | null>(null);
  /** The boat at rest, with the try that is on. */
  base = $state.raw<Pulled | null>(null);
  /** The boat as it would be with the thing laid down where it is held. */
  live = $state.raw<Pulled | null>(null);
  /** What stood before the last carry, to be set beside what stands now. */
  was = $state.raw<Pulled | null>(null);
  thing = $state.raw<Thing | null>(null);
  /** The compartment that it is held over; -1 for none. */
  over = $state(-1);
  /** How many of it are carried. */
  count = $state(0);
  trouble = $state("");
  faults = $state.raw<Fault[]>([]);
  loading = $state(false);
  /** What is said to those who hear. */
  said = $state("");
  /** What was carried by its button: whoever lays it down, or lets it go, finds it again. */
  again = $state("");

  #known = new Map<string, Pulled>();
  #wanted = "";
  #going: Promise<void> | null = null;
  #cut: AbortController | null = null;
  #mark = "";
  #loads = 0;
  #own = false;

  get now(): Stowed | null {
    return this.live?.stowed ?? this.base?.stowed ?? this.stowage?.now ?? null;
  }
  get lockers(): Locker[] {
    return this.stowage?.now.lockers ?? [];
  }
  get things(): Thing[] {
    return this.stowage?.now.things ?? [];
  }
  get answers(): PulledAnswer[] {
    return (this.live ?? this.base)?.answers ?? [];
  }
  /** What stands beside what is shown: the boat at rest while something is held, else as she was before the last carry. */
  get before(): Pulled | null {
    return this.live ? this.base : this.was;
  }
  in(locker: number): Thing[] {
    return this.things.filter((t) => t.locker === locker);
  }

  #body(pulls: unknown[]) {
    const { boatful } = view;
    // What is asked at rest is nobody else's to end.
    return { ...(pulls.length > 0 ? { page } : {}), edits: [] as Edit[], pulls, day: view.day, stowage: true, ...(boatful.try ? { try: boatful.try } : {}), ...(boatful.units ? { units: boatful.units } : {}), ...(view.condition ? { condition: view.condition } : {}) };
  }

  /** Shows the boat at rest as the address says. */
  async load() {
    if (this.thing) return;
    const turn = ++this.#loads;
    const mark = [view.boatful.mark, view.day, view.condition].join("\n");
    if (mark === this.#mark && this.stowage) return;
    this.loading = true;
    try {
      const [stowage, base] = await Promise.all([
        call<Stowage>("/api/stowage" + query(view.boatful, { day: view.day, condition: view.condition })),
        call<Pulled>("/api/pull", { method: "POST", body: this.#body([]) }),
      ]);
      if (turn !== this.#loads || this.thing) return;
      if (!this.#own) this.was = null;
      this.#own = false;
      this.#mark = mark;
      this.stowage = stowage;
      this.base = base;
      this.trouble = "";
    } catch (why) {
      if (turn !== this.#loads || this.thing) return;
      this.trouble = why instanceof Refusal ? why.message : "The program does not answer. What is shown is what came last.";
    } finally {
      if (turn === this.#loads) this.loading = false;
    }
  }

  take(thing: Thing, byButton = false) {
    if (this.thing || thing.fixed) return;
    this.again = byButton ? thing.id : "";
    this.thing = thing;
    this.count = thing.count;
    this.over = -1;
    this.faults = [];
    this.trouble = "";
    this.#known.clear();
    this.said = `${thing.name} picked up${thing.locker >= 0 ? ` from ${this.lockers[thing.locker]?.name}` : ""}.${thing.pinned ? " It is pinned there." : ""} Go to a compartment, Enter lays it down, Escape lets it go.`;
  }

  /** Holds it over a compartment, or over none. */
  hold(locker: number) {
    if (!this.thing || locker === this.over) return;
    this.over = locker;
    this.#look();
  }

  /** Carries so many of it. */
  many(count: number) {
    const { thing } = this;
    if (!thing || !Number.isFinite(count)) return;
    this.count = Math.max(1, Math.min(thing.count, Math.round(count)));
    this.#look();
  }

  #key() {
    return `${this.over} ${this.count}`;
  }

  #look() {
    const { thing } = this;
    this.faults = [];
    this.trouble = "";
    if (!thing || this.over < 0 || this.over === thing.locker) {
      this.#wanted = "";
      this.#show(null);
      return;
    }
    const known = this.#known.get(this.#key());
    if (known) return this.#show(known);
    this.#wanted = this.#key();
    this.#going ??= this.#run().finally(() => (this.#going = null));
  }

  #show(pulled: Pulled | null) {
    this.live = pulled && !pulled.faults?.length ? pulled : null;
    this.faults = pulled?.faults ?? [];
    const drawn = (this.live ?? this.base)?.portrait;
    if (drawn) view.now.drawn = drawn; // she lies on the water as she would
    const to = this.lockers[this.over];
    if (pulled && to) this.said = this.tell(`Over ${to.name}`);
  }

  /** What follows, in words. */
  tell(begin: string): string {
    const now = this.now;
    const at = now?.lockers?.[this.over];
    const answers = this.answers.map((a) => `${a.title} ${a.trouble ? "not worked out" : a.verdict}${a.margin ? `, ${a.margin.shown}` : ""}.`);
    return `${begin}: ${at ? `${at.room}.` : ""} ${now?.afloat.why ? "" : `Trim ${now?.afloat.trim}, heel ${now?.afloat.heel}.`} ${answers.join(" ")}`;
  }

  async #run() {
    while (this.#wanted && this.thing) {
      const key = this.#wanted;
      const { thing } = this;
      this.#wanted = "";
      const to = this.lockers[this.over];
      if (!to) return;
      try {
        const pulled = await call<Pulled>("/api/pull", {
          method: "POST",
          body: this.#body([{ handle: thing.id, into: to.word, ...(this.count < thing.count ? { count: this.count } : {}) }]),
          signal: (this.#cut = new AbortController()).signal,
        });
        if (this.thing?.id !== thing.id) continue;
        this.#known.set(key, pulled);
        if (key === this.#key()) this.#show(pulled);
      } catch (why) {
        if (this.thing?.id !== thing.id) continue;
        if (why instanceof Refusal && why.status === 503) {
          this.#wanted ||= key === this.#key() ? key : "";
          continue;
        }
        this.trouble = why instanceof Refusal ? why.message : "The program does not answer. Nothing of this is kept.";
        this.live = null;
      }
    }
  }

  /** Lays it down where it is held: into the try. */
  async lay() {
    const { thing } = this;
    if (!thing) return;
    const to = this.over;
    while (this.#going) await this.#going;
    if (this.thing?.id !== thing.id) return;
    const { live } = this;
    const edits = live?.edits ?? [];
    const name = this.lockers[to]?.name ?? "";
    if (!live || edits.length === 0) {
      if (this.faults.length === 0 && !this.trouble) this.back();
      return;
    }
    this.said = this.tell(`${this.count < thing.count ? `${this.count} of ` : ""}${thing.name} laid in ${name}`);
    this.was = this.base;
    this.base = live;
    this.#end();
    this.#own = true;
    commit(edits);
  }

  /** Puts it back where it was. */
  back() {
    if (!this.thing) return;
    this.said = `${this.thing.name} let go. It stays where it was.`;
    if (this.live && this.base?.portrait) view.now.drawn = this.base.portrait;
    this.#cut?.abort();
    this.#end();
  }

  #end() {
    this.thing = null;
    this.over = -1;
    this.live = null;
    this.faults = [];
    this.trouble = "";
    this.#wanted = "";
  }

  /** Says of a thing that it stays where it is, or that it need not. */
  pin(thing: Thing) {
    if (!thing.pin_key) return;
    this.#own = true;
    this.was = this.base;
    this.said = thing.pinned ? `${thing.name} may be carried.` : `${thing.name} is pinned.`;
    commit([{ file: thing.file, key: thing.pin_key, of: thing.name, was: thing.pin_was, text: thing.pinned ? "no" : "yes" }]);
  }
}

export const carrying = new Carrying();
