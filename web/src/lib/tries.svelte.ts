// What the person tries out: named lists of edits, stored by the server beside
// the folder's files. What is done here is a list of deeds on top of what the
// server has; a deed is forgotten only when the server has it. So nothing is
// lost while the server is gone, and when another page has stored in between,
// the deeds are done again on what it stored.

import * as changing from "./changing";
import { compact } from "./compact";
import { Refusal } from "./server";
import type { Change, Edit, Tried, Try } from "./trytypes";
import type { Fault } from "./types";

type Deed =
  | { do: "make"; name: string; edits: Edit[] }
  | { do: "add"; name: string; edits: Edit[] }
  | { do: "take back"; name: string; from: Edit[]; to: Edit[] }
  | { do: "rename"; name: string; to: string }
  | { do: "drop"; name: string };

/** What one step put into a try, and the try's edits before and after. */
interface Step {
  put: Edit[];
  before: Edit[];
  after: Edit[];
}

/** How a keeping ended: the lines written, or why none were. */
export type Kept = { changes: Change[] } | { trouble: string; faults: Fault[] };

/** The longest name of a try that is stored. */
export const longest = 80;

const pause = 1500; // ms before what could not be sent is sent again
const same = (a: unknown, b: unknown) => JSON.stringify(a) === JSON.stringify(b);

/** Does the deeds on a list; failed hears of each that cannot be done. */
function done(tries: Try[], deeds: Deed[], failed: (say: string) => void): Try[] {
  let all = tries.map((t) => ({ name: t.name, edits: t.edits ?? [] }));
  for (const deed of deeds) {
    const there = all.find((t) => t.name === deed.name);
    if (deed.do === "make" || (deed.do === "add" && !there)) {
      // A try that another page dropped meanwhile comes back: its edits are not lost.
      all.push({ name: unused(deed.name, all), edits: compact(deed.edits) });
    } else if (!there) {
      if (deed.do !== "drop") failed(`“${deed.name}” is no longer there`);
    } else if (deed.do === "add") {
      there.edits = compact([...there.edits, ...deed.edits]);
    } else if (deed.do === "take back") {
      if (same(there.edits, deed.from)) there.edits = deed.to;
      else failed(`“${deed.name}” has other changes since, so nothing was taken back`);
    } else if (deed.do === "rename") {
      there.name = unused(deed.to, all.filter((t) => t !== there));
    } else {
      all = all.filter((t) => t !== there);
    }
  }
  return all;
}

function unused(name: string, all: Try[]): string {
  const wanted = name.trim().slice(0, longest) || "try";
  if (!all.some((t) => t.name === wanted)) return wanted;
  for (let n = 2; ; n++) {
    const other = `${wanted.slice(0, longest - 4)} ${n}`;
    if (!all.some((t) => t.name === other)) return other;
  }
}

class Tries {
  /** As the server has them, with what it has not yet been told. */
  list = $state.raw<Tried[]>([]);
  loaded = $state(false);
  /** How many deeds the server has not yet been told, because it could not be reached. */
  unsent = $state(0);
  /** Why not, where the server said so itself. */
  why = $state("");
  /** What has to be said of tries that went otherwise than asked. */
  said = $state("");
  /** The try that is being written into the files: it may be gone from the tries at any moment. */
  keeping = $state("");
  /** The try dropped last: it can be brought back. */
  dropped = $state.raw<Try | null>(null);

  #stored: Tried[] = [];
  #version = 0;
  #deeds: Deed[] = [];
  #sending: Promise<void> | null = null;
  #again: ReturnType<typeof setTimeout> | undefined;
  #heard: () => void = () => {};
  #numbers = new Map<string, number>();
  #steps = new Map<string, Step[]>();
  #undone = $state.raw<Record<string, Edit[][]>>({});

  /** Calls when what the server has of the tries is another. */
  hear(changed: () => void) {
    this.#heard = changed;
  }

  find(name: string): Tried | undefined {
    return this.list.find((t) => t.name === name);
  }

  /** Whether the server has this try as it is shown. */
  stored(name: string): boolean {
    const here = this.find(name);
    const there = this.#stored.find((t) => t.name === name);
    return here !== undefined && there !== undefined && same(here.edits, there.edits);
  }

  /** Marks a try's content: the same edits, under whatever name, bear the same mark; none bear 0. */
  mark(name: string): number {
    const edits = this.find(name)?.edits ?? [];
    if (edits.length === 0) return 0;
    const words = JSON.stringify(edits);
    const known = this.#numbers.get(words);
    if (known) return known;
    this.#numbers.set(words, this.#numbers.size + 1);
    return this.#numbers.size;
  }

  /** A name for a try that nobody named. */
  fresh(): string {
    for (let n = 1; ; n++) if (!this.find(`try ${n}`)) return `try ${n}`;
  }

  async load() {
    if (this.#deeds.length > 0) return this.#send();
    const now = await changing.tries();
    this.#take(now.version, now.tries ?? []);
  }

  /** Hears the version that the server has. */
  at(version: number) {
    if (version !== this.#version) this.load().catch(() => {});
  }

  /** Makes a try; the result is the name it got. */
  make(name: string, edits: Edit[]): string {
    const given = unused(name, this.list);
    if (edits.length > 0) this.#steps.set(given, [{ put: edits, before: [], after: compact(edits) }]);
    this.#do({ do: "make", name: given, edits });
    return given;
  }

  /** Puts edits into a try, as one step. */
  add(name: string, edits: Edit[]) {
    const before = this.find(name)?.edits ?? [];
    this.#steps.set(name, [...(this.#steps.get(name) ?? []), { put: edits, before, after: compact([...before, ...edits]) }]);
    this.#undone = { ...this.#undone, [name]: [] };
    this.#do({ do: "add", name, edits });
  }

  undo(name: string) {
    const edits = this.find(name)?.edits ?? [];
    if (edits.length === 0) return;
    const steps = this.#steps.get(name) ?? [];
    const last = steps.at(-1);
    const known = last !== undefined && same(last.after, edits);
    if (known) this.#steps.set(name, steps.slice(0, -1));
    // What another page added, or an earlier visit, is taken back one edit at a time.
    const { put, before } = known ? last : { put: edits.slice(-1), before: edits.slice(0, -1) };
    this.#undone = { ...this.#undone, [name]: [...(this.#undone[name] ?? []), put] };
    this.#do({ do: "take back", name, from: edits, to: before });
  }

  redo(name: string) {
    const undone = this.#undone[name] ?? [];
    const step = undone.at(-1);
    if (!step) return;
    this.add(name, step);
    this.#undone = { ...this.#undone, [name]: undone.slice(0, -1) };
  }

  redoable(name: string): boolean {
    return (this.#undone[name]?.length ?? 0) > 0;
  }

  /** Renames a try; the result is the name it got. */
  rename(name: string, to: string): string {
    const given = unused(to, this.list.filter((t) => t.name !== name));
    if (given === name) return name;
    this.#steps.set(given, this.#steps.get(name) ?? []);
    this.#undone = { ...this.#undone, [given]: this.#undone[name] ?? [] };
    this.#do({ do: "rename", name, to: given });
    return given;
  }

  drop(name: string) {
    const gone = this.find(name);
    this.dropped = gone ? { name, edits: gone.edits ?? [] } : null;
    this.#do({ do: "drop", name });
  }

  /** Brings the try dropped last back; the result is its name. */
  restore(): string {
    const gone = this.dropped;
    this.dropped = null;
    return gone ? this.make(gone.name, gone.edits ?? []) : "";
  }

  /** Writes a try into the folder's files; it is then no longer a try. */
  async keep(name: string): Promise<Kept> {
    await this.#send();
    if (this.#deeds.length > 0) return { trouble: "The program does not answer. Nothing was written; keep it when the program is back.", faults: [] };
    this.keeping = name;
    try {
      const kept = await changing.keep(name, this.#version);
      this.#take(this.#version, this.#stored.filter((t) => t.name !== name));
      await this.load().catch(() => {}); // it is written, whatever else can be heard now
      return { changes: kept.changes ?? [] };
    } catch (why) {
      if (!(why instanceof Refusal)) return { trouble: "The program does not answer. Whether it was written shows when it is back: a try that was kept is no longer among the tries.", faults: [] };
      await this.load().catch(() => {});
      return { trouble: why.message, faults: why.faults };
    } finally {
      this.keeping = "";
      this.#heard();
    }
  }

  /** Sends what could not be sent. */
  retry() {
    if (this.#deeds.length > 0) void this.#send();
  }

  #do(deed: Deed) {
    this.said = "";
    this.#deeds.push(deed);
    this.#show();
    void this.#send();
  }

  #show() {
    const now = done(this.#stored, this.#deeds, () => {});
    this.list = now.map((t) => {
      const stored = this.#stored.find((s) => same(s.edits ?? [], t.edits));
      return { name: t.name, edits: t.edits, changes: stored?.changes ?? [], faults: stored?.faults ?? [] };
    });
  }

  #take(version: number, tries: Tried[]) {
    this.#version = version;
    this.#stored = tries;
    this.loaded = true;
    this.#show();
    this.#heard();
  }

  #send(): Promise<void> {
    this.#sending ??= this.#sendAll().finally(() => {
      this.#sending = null;
      // What was done while the last sending came to its end.
      if (this.#deeds.length > 0 && this.unsent === 0) void this.#send();
    });
    return this.#sending;
  }

  /** Keeps what could not be sent, for another time. */
  #later(why: unknown) {
    this.unsent = this.#deeds.length;
    this.why = why instanceof Refusal ? why.message : "";
    this.#again = setTimeout(() => void this.#send(), pause);
  }

  async #sendAll() {
    clearTimeout(this.#again);
    while (this.#deeds.length > 0) {
      const many = this.#deeds.length;
      const troubles: string[] = [];
      try {
        if (!this.loaded) {
          const now = await changing.tries();
          this.#take(now.version, now.tries ?? []);
        }
        const all = done(this.#stored, this.#deeds.slice(0, many), (say) => troubles.push(say));
        const now = await changing.store(this.#version, all);
        this.#deeds.splice(0, many);
        this.unsent = 0;
        this.why = "";
        if (troubles.length > 0) this.said = `Another page had changed the tries: ${troubles.join("; ")}.`;
        this.#take(now.version, now.tries ?? []);
      } catch (why) {
        if (!(why instanceof Refusal) || why.status >= 500) {
          this.#later(why);
          return;
        }
        if (why.status === 409) {
          try {
            const now = await changing.tries();
            const moved = now.version !== this.#version;
            this.#take(now.version, now.tries ?? []);
            if (moved) {
              this.said = "Another page changed the tries meanwhile. Its changes were taken, and what was done here was done again on top of them.";
              continue;
            }
          } catch (later) {
            this.#later(later);
            return;
          }
        }
        // Refused for good: what is shown goes back to what the server has.
        this.#deeds.splice(0, many);
        this.unsent = 0;
        this.said = `This could not be stored. ${why.message} ${why.faults.map((f) => f.say).join("; ")}`.trim();
        this.#show();
        this.#heard();
      }
    }
  }
}

export const tries = new Tries();
