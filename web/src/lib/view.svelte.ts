// What the page shows: where it stands, the boat, the moment, the try. The
// address is written from here and from nowhere else.

import * as address from "./address";
import { Asker, forget, type Boatful } from "./asker.svelte";
import * as server from "./server";
import { Shelf } from "./shelf";
import { tries } from "./tries.svelte";
import type { Boat, Part, QuestionShown } from "./types";

const settle = 45; // ms without another move of the slider before the server is asked

class View {
  /** The folder as it stands. */
  folder = $state.raw<Boat | null>(null);
  #tried = $state.raw<{ mark: string; boat: Boat } | null>(null);
  page = $state<address.Beside | "">("");
  question = $state("");
  day = $state(0);
  condition = $state("");
  part = $state(""); // a part to cut; empty for the question itself
  wall = $state(false);
  point = $state(0);
  alone = $state(false);
  shed = $state(false);
  try = $state(""); // empty: the folder as it stands
  units = $state(""); // empty: the folder's own
  file = $state("");
  key = $state("");

  cut = $state.raw<Part | null>(null); // the last part that came
  lost = $state(false);
  /** What is to be said of where the address led. */
  said = $state("");

  /** With the try, if there is one, and as the folder stands. */
  now = new Asker(true, () => this.boat?.days ?? 0);
  before = new Asker(false, () => this.boat?.days ?? 0);

  #parts = new Shelf<Part>(40);
  #partTrouble = $state("");
  #partBusy = $state(false);
  #wanted: AbortController | null = null;
  /** The try whose own days are being read, or were last. */
  #reading = { mark: "", wanted: new AbortController() };
  #timer: ReturnType<typeof setTimeout> | undefined;
  #stop: () => void = () => {};
  #usualUnits = "";

  /** The folder with what the try says of its name and its days. */
  boat: Boat | null = $derived.by(() => {
    const tried = this.trying ? this.#tried?.boat : null;
    if (!this.folder || !tried) return this.folder;
    const { name, about, days, leave, first_day_conditions, events } = tried;
    return { ...this.folder, name, about, days, leave, first_day_conditions, events };
  });
  row: QuestionShown | undefined = $derived(this.boat?.questions.find((q) => q.id === this.question));

  get told() {
    return this.now.told;
  }
  get asked() {
    return this.now.asked;
  }
  get drawn() {
    return this.now.drawn;
  }
  get busy() {
    return this.part ? this.#partBusy : this.now.busy;
  }
  /** How far the answer is that is being worked out; nothing while it is not known. */
  get progress() {
    return this.busy && !this.part ? this.now.progress : null;
  }
  get trouble() {
    return this.part ? this.#partTrouble : this.now.trouble;
  }
  /** The units in which everything is shown. */
  get shownUnits(): "metric" | "feet" {
    return (this.units || this.boat?.units || "metric") as "metric" | "feet";
  }
  /** Whether what is shown may differ from the folder as it stands. */
  get trying(): boolean {
    return this.try !== "" && tries.mark(this.try) > 0;
  }
  /** The boat that is shown. */
  get boatful(): Boatful {
    return this.#boatful(this.try);
  }
  /** Whether anything can be asked: a folder was read, and the server knows the try. */
  get ready(): boolean {
    return Boolean(this.folder?.stamp) && (!this.try || (tries.loaded && tries.keeping !== this.try && (tries.mark(this.try) === 0 || tries.stored(this.try))));
  }

  start() {
    this.#take(address.read(location));
    const back = () => {
      this.#take(address.read(location));
      this.#settled();
      this.#ask();
    };
    addEventListener("popstate", back);
    tries.hear(() => this.#heardTries());
    const end = server.changes(
      (now) => {
        if (!this.boat || now.number !== this.boat.number || now.stamp !== this.boat.stamp) void this.#read();
        if (now.tries !== undefined && tries.loaded) tries.at(now.tries);
      },
      (is) => {
        const returned = this.lost && !is;
        this.lost = is;
        if (!returned) return;
        tries.retry();
        void this.#read();
      },
    );
    this.#stop = () => {
      removeEventListener("popstate", back);
      end();
      this.now.stop();
      this.before.stop();
    };
    return () => this.#stop();
  }

  #place(): address.Place {
    const { page, question, day, condition, part, wall, point, alone, shed, units, file, key } = this;
    return { page, question, day, condition, part, wall, point, alone, shed, units, file, key, try: this.try };
  }

  #href(other: Partial<address.Place> = {}): string {
    return address.write({ ...this.#place(), ...other }, this.boat?.first_day_conditions[0] ?? "", this.#usualUnits);
  }

  /** Writes the address anew at the same place of the page: the block that it leads to stays. */
  #rewrite() {
    history.replaceState(null, "", this.#href() + location.hash);
  }

  /** The address of a question, or of a part of its answer, at the moment shown. */
  href(question: string, part = "", wall = false): string {
    return this.#href({ page: "", question, part, wall, point: 0, alone: false, shed: false });
  }

  /** The address of a page beside the questions. */
  hrefBeside(page: address.Beside, file = "", key = ""): string {
    return this.#href({ page, part: "", wall: false, shed: false, file, key });
  }

  /** Shows a question, or a part of its answer. */
  go(question: string, part = "", wall = false) {
    if (!this.page && question === this.question && part === this.part && wall === this.wall) return;
    // On the wall one goes through many parts; the way back leads past them all.
    const past = wall && this.wall;
    const to = { page: "", question, part, wall, point: 0, alone: this.alone } as const;
    Object.assign(this, to, { shed: this.shed && !part });
    if (past) history.replaceState(null, "", this.#href());
    else history.pushState(null, "", this.#href());
    this.#ask();
  }

  /** Shows a page beside the questions. */
  goBeside(page: address.Beside, file = "", key = "") {
    const there = page === this.page;
    if (there && file === this.file && key === this.key) return;
    Object.assign(this, { page, file, key, part: "", wall: false, shed: false });
    history.pushState(null, "", this.#href());
    if (!there) this.#ask();
  }

  /** Remembers the line that is looked at, without a step back to it. */
  stay(file: string, key: string) {
    if (file === this.file && key === this.key) return;
    this.file = file;
    this.key = key;
    history.replaceState(null, "", this.#href());
  }

  /** Shows the answer in one figure, or as it is. */
  setShed(shed: boolean) {
    if (shed === this.shed) return;
    const besides = this.page !== "";
    this.shed = shed;
    if (shed) Object.assign(this, { page: "", part: "", wall: false });
    history[shed ? "pushState" : "replaceState"](null, "", this.#href());
    if (besides) this.#ask();
  }

  /** Shows the boat with a try, or as the folder stands. */
  use(name: string) {
    if (name === this.try) return;
    this.try = name;
    this.#rewrite();
    this.said = "";
    this.#ask();
  }

  measure(units: "metric" | "feet") {
    if (units === this.shownUnits) return;
    this.units = units === this.#usualUnits ? "" : units;
    this.#rewrite();
    this.#ask();
    void this.#read();
  }

  /** Shows other points of the part on the wall. */
  turn(point: number, alone = this.alone) {
    this.point = point;
    this.alone = alone;
    history.replaceState(null, "", this.#href());
  }

  move(day: number) {
    const last = this.boat?.days ?? 0;
    const to = Math.max(0, Math.min(last, Math.round(day)));
    if (to === this.day) return;
    this.day = to;
    this.#soon();
  }

  stand(condition: string) {
    if (condition === this.condition) return;
    this.condition = condition;
    this.#soon();
  }

  #take(place: address.Place) {
    const question = place.page ? this.question : place.question;
    Object.assign(this, place, { question });
  }

  /** Brings what the address said within what the folder has. */
  #settled() {
    const boat = this.boat;
    if (!boat) return;
    if (!boat.questions.some((q) => q.id === this.question)) this.question = boat.questions[0]?.id ?? "";
    this.day = Math.min(this.day, boat.days);
    if (!boat.first_day_conditions.includes(this.condition)) this.condition = boat.first_day_conditions[0] ?? "";
  }

  async #read() {
    try {
      // The folder's own name, days and faults: a try's are told on its bar.
      const [boat] = await Promise.all([server.boat({ try: "", units: "" }), tries.loaded ? null : tries.load()]);
      const other = boat.stamp !== this.folder?.stamp || boat.number !== this.folder.number;
      this.folder = boat;
      this.#usualUnits = boat.units;
      this.#settled();
      this.#leaveGone();
      if (other) {
        forget();
        this.#parts.clear();
        this.#ask();
        if (tries.loaded && this.try) void tries.load().catch(() => {}); // their lines may have moved
      } else if (this.trouble || !(this.part ? this.cut : this.asked)) {
        this.#ask();
      }
    } catch {
      this.lost = true; // the stream of changes tells when it is back
    }
  }

  /** A try in the address that is no longer there is left. */
  #leaveGone() {
    if (!this.try || !tries.loaded || tries.find(this.try)) return;
    this.said = `There is no try “${this.try}” any more. The folder is shown as it stands.`;
    this.try = "";
    this.#rewrite();
  }

  #heardTries() {
    if (!this.boat) return;
    this.#leaveGone();
    this.#ask();
  }

  /** The boat with a try of that name; without one, as the folder stands. */
  with(name: string): Boatful {
    return this.#boatful(name);
  }

  #boatful(name: string): Boatful {
    const mark = tries.mark(name);
    return { try: mark ? name : "", units: this.units, mark: [this.folder?.stamp, mark, this.shownUnits].join(" ") };
  }

  #moment() {
    return { question: this.page ? "" : this.question, day: this.day, condition: this.condition };
  }

  /** Asks once the slider rests. */
  #soon() {
    this.#rewrite();
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.#ask(), settle);
    if (!this.part && this.ready && this.#wantNow()) {
      clearTimeout(this.#timer);
      this.#askBefore();
    }
  }

  #wantNow() {
    return this.now.want(this.#boatful(this.try), this.#moment());
  }

  #ask() {
    clearTimeout(this.#timer);
    if (!this.ready) {
      if (this.try) this.now.busy = true;
      return;
    }
    if (this.part) return this.#askPart();
    if (!this.#wantNow()) this.now.ask();
    this.#askBefore();
    void this.#readTried();
  }

  /** Reads how the try's own days differ from the folder's. */
  async #readTried() {
    const boat = this.#boatful(this.try);
    if (boat.mark === this.#reading.mark) return;
    this.#reading.wanted.abort();
    const { wanted } = (this.#reading = { mark: boat.mark, wanted: new AbortController() });
    if (!boat.try || this.#tried?.mark === boat.mark) return;
    try {
      const tried = await server.boat(boat, wanted.signal);
      if (wanted.signal.aborted) return;
      this.#tried = { mark: boat.mark, boat: tried };
      this.#settled();
    } catch {
      // A try that does not fit has no days of its own; why is told beside it.
      if (!wanted.signal.aborted) this.#reading = { mark: "", wanted };
    }
  }

  /** With a try on, the folder as it stands is asked too. */
  #askBefore() {
    if (!this.trying) return this.before.stop();
    if (!this.before.want(this.#boatful(""), this.#moment())) this.before.ask();
  }

  /** Shows a part, and has its neighbours ready. */
  #askPart() {
    this.#wanted?.abort();
    this.now.stop();
    this.before.stop();
    const wanted = (this.#wanted = new AbortController());
    const { question, day, condition } = this;
    const boat = this.#boatful(this.try);
    const fetched = async (name: string) => {
      const key = [boat.mark, question, name, day, condition].join("\n");
      const part = this.#parts.get(key) ?? (await server.part(boat, question, name, day, condition, wanted.signal));
      if (!wanted.signal.aborted) this.#parts.put(key, part);
      return part;
    };
    this.#partBusy = true;
    this.#partTrouble = "";
    void (async () => {
      try {
        const part = await fetched(this.part);
        if (wanted.signal.aborted) return;
        this.cut = part;
        this.#partBusy = false;
        for (const near of [part.next, part.before]) if (near) await fetched(near.name);
      } catch (why) {
        if (wanted.signal.aborted || !this.#partBusy) return;
        this.#partBusy = false;
        if (why instanceof server.Refusal) {
          this.#partTrouble = why.message;
          this.cut = null;
        }
      }
    })();
  }
}

export const view = new View();
