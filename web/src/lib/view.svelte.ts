// What the page shows: the boat, the moment, the answers. The address and the
// server are written and asked from here and from nowhere else.

import * as address from "./address";
import * as server from "./server";
import type { Asked, Boat, Drawing, Part, QuestionShown, Told } from "./types";

const settle = 45; // ms without another move of the slider before the server is asked
const rest = 700; // ms after which the other questions are asked again
const room = 160; // answers kept in the page

/** Keeps the last so many values. */
class Shelf<T> {
  #held = new Map<string, T>();
  get(key: string): T | undefined {
    return this.#held.get(key);
  }
  put(key: string, value: T) {
    this.#held.delete(key);
    this.#held.set(key, value);
    const oldest = this.#held.keys().next();
    if (this.#held.size > room && !oldest.done) this.#held.delete(oldest.value);
  }
  clear() {
    this.#held.clear();
  }
}

class View {
  boat = $state.raw<Boat | null>(null);
  question = $state("");
  day = $state(0);
  condition = $state("");
  part = $state(""); // a part to cut; empty for the question itself
  wall = $state(false);
  point = $state(0);
  alone = $state(false);

  told = $state.raw<Record<string, Told>>({});
  asked = $state.raw<Asked | null>(null);
  shown = $state(""); // the question and moment that asked belongs to
  drawn = $state.raw<Drawing | null>(null);
  cut = $state.raw<Part | null>(null); // the last part that came
  busy = $state(false); // asked is not yet of the moment wanted
  trouble = $state("");
  lost = $state(false);

  #answers = new Shelf<Asked>();
  #portraits = new Shelf<Drawing>();
  #parts = new Shelf<Part>();
  #wanted: AbortController | null = null;
  #ahead: AbortController | null = null;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #resting: ReturnType<typeof setTimeout> | undefined;
  #endAnswers: () => void = () => {};
  #stop: () => void = () => {};

  row: QuestionShown | undefined = $derived(this.boat?.questions.find((q) => q.id === this.question));

  start() {
    this.#take(address.read(location));
    const back = () => {
      this.#take(address.read(location));
      this.#settled();
      this.#ask();
    };
    addEventListener("popstate", back);
    const end = server.changes(
      (now) => {
        if (!this.boat || now.number !== this.boat.number || now.stamp !== this.boat.stamp) void this.#read();
      },
      (is) => {
        const returned = this.lost && !is;
        this.lost = is;
        if (returned) void this.#read();
      },
    );
    this.#stop = () => {
      removeEventListener("popstate", back);
      end();
      this.#endAnswers();
    };
    return () => this.#stop();
  }

  /** The address of a question, or of a part of its answer, at the moment shown. */
  href(question: string, part = "", wall = false): string {
    return this.#href({ question, part, wall, point: 0, alone: false });
  }

  #href({ question, part, wall, point, alone }: Omit<address.Place, "day" | "condition">): string {
    return address.write({ question, part, wall, point, alone, day: this.day, condition: this.condition }, this.boat?.first_day_conditions[0] ?? "");
  }

  /** Shows a question, or a part of its answer. */
  go(question: string, part = "", wall = false) {
    if (question === this.question && part === this.part && wall === this.wall) return;
    // On the wall one goes through many parts; the way back leads past them all.
    const past = wall && this.wall;
    this.question = question;
    this.part = part;
    this.wall = wall;
    this.point = 0;
    const to = this.#href({ question, part, wall, point: 0, alone: this.alone });
    if (past) history.replaceState(null, "", to);
    else history.pushState(null, "", to);
    this.#ask();
  }

  /** Shows other points of the part on the wall. */
  turn(point: number, alone = this.alone) {
    this.point = point;
    this.alone = alone;
    history.replaceState(null, "", this.#href(this));
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
    this.question = place.question;
    this.day = place.day;
    this.condition = place.condition;
    this.part = place.part;
    this.wall = place.wall;
    this.point = place.point;
    this.alone = place.alone;
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
      const boat = await server.boat();
      const other = boat.stamp !== this.boat?.stamp;
      this.boat = boat;
      this.#settled();
      if (other) {
        this.#answers.clear();
        this.#portraits.clear();
        this.#parts.clear();
        this.shown = "";
        this.#ask();
        this.#askAll();
      } else if (this.trouble || !(this.part ? this.cut : this.asked)) {
        this.#ask();
        this.#askAll();
      }
    } catch {
      this.lost = true; // the stream of changes tells when it is back
    }
  }

  get #moment() {
    return `${this.day}\n${this.condition}`;
  }

  #soon() {
    history.replaceState(null, "", this.#href(this));
    clearTimeout(this.#timer);
    if (this.#fromShelf()) return;
    this.busy = true;
    this.#timer = setTimeout(() => this.#ask(), settle);
  }

  /** Shows what is there already; true when nothing is missing. */
  #fromShelf(): boolean {
    const answer = this.#answers.get(this.question + "\n" + this.#moment);
    const portrait = this.#portraits.get(this.#moment);
    if (portrait) this.drawn = portrait;
    if (answer) {
      this.#show(answer);
    }
    if (answer && portrait) {
      this.#wanted?.abort();
      this.#settledDown();
      return true;
    }
    return false;
  }

  #show(answer: Asked) {
    this.asked = answer;
    this.shown = this.question + "\n" + this.#moment;
    this.told = { ...this.told, [this.question]: { question: this.question, answer: answer.answer } };
    this.trouble = "";
    this.busy = false;
  }

  #ask() {
    clearTimeout(this.#timer);
    if (!this.boat || !this.boat.stamp) return; // nothing that could be read yet
    this.trouble = "";
    if (this.part) return this.#askPart();
    if (this.#fromShelf()) return;
    this.#wanted?.abort();
    this.#ahead?.abort();
    const wanted = (this.#wanted = new AbortController());
    const { question, day, condition } = this;
    const moment = this.#moment;
    this.busy = true;
    void this.#fetch(question, day, condition, moment, wanted.signal);
    void this.#draw(day, condition, moment, wanted.signal);
  }

  /** Shows a part, and has its neighbours ready. */
  #askPart() {
    this.#wanted?.abort();
    this.#ahead?.abort();
    clearTimeout(this.#resting);
    const wanted = (this.#wanted = new AbortController());
    const { question, day, condition } = this;
    const moment = this.#moment;
    const fetched = async (name: string) => {
      const key = [question, name, moment].join("\n");
      const part = this.#parts.get(key) ?? (await server.part(question, name, day, condition, wanted.signal));
      if (!wanted.signal.aborted) this.#parts.put(key, part);
      return part;
    };
    this.busy = true;
    void (async () => {
      try {
        const part = await fetched(this.part);
        if (wanted.signal.aborted) return;
        this.cut = part;
        this.busy = false;
        for (const near of [part.next, part.before]) if (near) await fetched(near.name);
      } catch (why) {
        if (wanted.signal.aborted || !this.busy) return;
        this.busy = false;
        if (why instanceof server.Refusal) {
          this.trouble = why.message;
          this.cut = null;
        }
      }
    })();
  }

  async #fetch(question: string, day: number, condition: string, moment: string, signal: AbortSignal) {
    const key = question + "\n" + moment;
    try {
      const answer = this.#answers.get(key) ?? (await server.ask(question, day, condition, signal));
      if (signal.aborted) return;
      this.#answers.put(key, answer);
      this.#show(answer);
      this.#settledDown();
    } catch (why) {
      if (signal.aborted) return;
      this.busy = false;
      if (why instanceof server.Refusal) {
        this.trouble = why.message;
        this.asked = null;
      }
    }
  }

  async #draw(day: number, condition: string, moment: string, signal: AbortSignal) {
    try {
      const drawn = this.#portraits.get(moment) ?? (await server.portrait(day, condition, signal));
      if (signal.aborted) return;
      this.#portraits.put(moment, drawn);
      this.drawn = drawn;
    } catch (why) {
      // Without its picture the page still answers.
      if (!signal.aborted && why instanceof server.Refusal) this.drawn = null;
    }
  }

  /** When the slider rests, asks the neighbouring days and the other questions. */
  #settledDown() {
    clearTimeout(this.#resting);
    this.#ahead?.abort();
    const ahead = (this.#ahead = new AbortController());
    const { question, day, condition } = this;
    const stamp = this.boat?.stamp;
    this.#resting = setTimeout(async () => {
      for (const near of [day + 1, day - 1]) {
        if (near < 0 || near > (this.boat?.days ?? 0)) continue;
        const moment = `${near}\n${condition}`;
        try {
          if (!this.#portraits.get(moment)) {
            const drawn = await server.portrait(near, condition, ahead.signal);
            if (this.boat?.stamp === stamp) this.#portraits.put(moment, drawn);
          }
          if (!this.#answers.get(question + "\n" + moment)) {
            const answer = await server.ask(question, near, condition, ahead.signal);
            if (this.boat?.stamp === stamp) this.#answers.put(question + "\n" + moment, answer);
          }
        } catch {
          return; // moved on, or the server is gone: nothing to say of it here
        }
      }
      if (!ahead.signal.aborted) this.#askAll();
    }, rest);
  }

  #all = "";

  /** Asks every question for the marks down the side. */
  #askAll() {
    const boat = this.boat;
    if (!boat?.stamp || this.part) return;
    const wanted = boat.stamp + "\n" + this.#moment;
    if (this.#all === wanted) return;
    this.#all = wanted;
    this.#endAnswers();
    this.#endAnswers = server.answers(
      this.day,
      this.condition,
      (told) => {
        if (this.boat?.stamp === boat.stamp) this.told = { ...this.told, [told.question]: told };
      },
      (end) => {
        if (!end) this.#all = "";
      },
    );
  }
}

export const view = new View();
