// Asks about one boat, the folder as it stands or with a try, and holds what was
// answered.

import * as server from "./server";
import { Shelf } from "./shelf";
import type { Asked, Drawing, Fault, Progress, Told } from "./types";

/** One boat: of which files, with which edits, in which units. */
export interface Boatful extends server.World {
  mark: string; // the same for the same answers
}

export interface Moment {
  question: string; // empty: none, only the picture and the marks
  day: number;
  condition: string;
}

const rest = 700; // ms after which the other questions are asked again
const patience = 400; // ms after which it is asked how far a slow answer is

// Both askers keep on the same shelves: what was the try's answer is the folder's once it is kept.
const answers = new Shelf<Asked>(240);
const portraits = new Shelf<Drawing>(240);
const tellings = new Shelf<Record<string, Told>>(60);

/** Forgets what belongs to files that are no longer so. */
export function forget() {
  answers.clear();
  portraits.clear();
  tellings.clear();
}

export class Asker {
  told = $state.raw<Record<string, Told>>({});
  asked = $state.raw<Asked | null>(null);
  drawn = $state.raw<Drawing | null>(null);
  busy = $state(false); // asked is not yet of the moment wanted
  trouble = $state("");
  faults = $state.raw<Fault[]>([]);
  /** How far an answer is that takes its time. */
  progress = $state.raw<Progress | null>(null);

  #draws: boolean;
  #days: () => number;
  #wanted: AbortController | null = null;
  #ahead: AbortController | null = null;
  #resting: ReturnType<typeof setTimeout> | undefined;
  #endAll: () => void = () => {};
  #all = "";
  #boat: Boatful = { try: "", units: "", mark: "" };
  #moment: Moment = { question: "", day: 0, condition: "" };

  /** days is the last day of the trip; draws whether the boat's picture is wanted too. */
  constructor(draws: boolean, days: () => number) {
    this.#draws = draws;
    this.#days = days;
  }

  #key(day = this.#moment.day, question = ""): string {
    return [this.#boat.mark, question, day, this.#moment.condition].join("\n");
  }

  /** Says what is wanted; true when all of it is there already. */
  want(boat: Boatful, moment: Moment): boolean {
    // Another try's marks must not stand beside this one's name.
    if (boat.try !== this.#boat.try) {
      this.#boat = boat;
      this.#moment = moment;
      this.told = tellings.get(this.#key()) ?? {};
    }
    this.#boat = boat;
    this.#moment = moment;
    // Nobody waits any more for the other questions of another state.
    if (this.#all && this.#all !== this.#key()) {
      this.#endAll();
      this.#all = "";
    }
    const answer = moment.question ? answers.get(this.#key(moment.day, moment.question)) : undefined;
    const portrait = this.#draws ? portraits.get(this.#key()) : undefined;
    if (portrait) this.drawn = portrait;
    if (answer) this.#show(answer);
    if ((answer || !moment.question) && (portrait || !this.#draws)) {
      this.#wanted?.abort();
      this.busy = false;
      this.trouble = "";
      this.faults = [];
      this.#settledDown();
      return true;
    }
    this.busy = true;
    return false;
  }

  /** Asks for what is wanted and not there. */
  ask() {
    this.progress = null;
    this.trouble = "";
    this.faults = [];
    this.#wanted?.abort();
    this.#ahead?.abort();
    const wanted = (this.#wanted = new AbortController());
    this.busy = true;
    const works: Promise<void>[] = [];
    if (this.#moment.question) works.push(this.#fetch(wanted.signal));
    if (this.#draws) works.push(this.#draw(wanted.signal));
    void Promise.all(works).then(() => {
      if (wanted.signal.aborted) return;
      this.busy = false;
      this.#settledDown();
    });
  }

  /** Gives up whatever is under way. */
  stop() {
    this.#wanted?.abort();
    this.#ahead?.abort();
    clearTimeout(this.#resting);
    this.#endAll();
    this.#all = "";
    this.busy = false;
  }

  #show(answer: Asked) {
    this.asked = answer;
    // How far it has moved is told with all the answers; it stays while the answer is the same.
    const was = this.told[answer.answer.question];
    const same = was?.answer?.verdict === answer.answer.verdict && was.answer.margin?.shown === answer.answer.margin?.shown;
    this.#tell({ question: answer.answer.question, answer: answer.answer, ...(same && was.change ? { change: was.change } : {}) });
    this.trouble = "";
    this.faults = [];
  }

  #tell(told: Told) {
    this.told = { ...this.told, [told.question]: told };
    tellings.put(this.#key(), this.told);
  }

  async #fetch(signal: AbortSignal) {
    const { question, day, condition } = this.#moment;
    const key = this.#key(day, question);
    const unfollow = this.#follow(signal);
    try {
      const answer = answers.get(key) ?? (await server.ask(this.#boat, question, day, condition, signal));
      if (signal.aborted) return;
      answers.put(key, answer);
      this.#show(answer);
      this.busy = false;
    } catch (why) {
      if (signal.aborted) return;
      this.busy = false;
      if (why instanceof server.Refusal) {
        this.trouble = why.message;
        this.faults = why.faults;
        this.asked = null;
      }
    } finally {
      unfollow();
    }
  }

  /** Hears how far the answer wanted is, if it takes long; the result ends it. */
  #follow(signal: AbortSignal): () => void {
    if (!this.#draws) return () => {};
    const boat = this.#boat;
    const { question, day, condition } = this.#moment;
    let end = () => {};
    const later = setTimeout(() => {
      end = server.progress(boat, question, day, condition, (now) => signal.aborted || (this.progress = now), () => {});
    }, patience);
    return () => {
      clearTimeout(later);
      end();
      if (!signal.aborted) this.progress = null;
    };
  }

  async #draw(signal: AbortSignal) {
    const { day, condition } = this.#moment;
    const key = this.#key();
    try {
      const drawn = portraits.get(key) ?? (await server.portrait(this.#boat, day, condition, signal));
      if (signal.aborted) return;
      portraits.put(key, drawn);
      this.drawn = drawn;
    } catch (why) {
      // Without its picture the page still answers; a try that does not fit leaves the last one.
      if (!signal.aborted && why instanceof server.Refusal && why.status !== 409) this.drawn = null;
    }
  }

  /** When the slider rests, asks the neighbouring days and the other questions. */
  #settledDown() {
    clearTimeout(this.#resting);
    this.#ahead?.abort();
    const ahead = (this.#ahead = new AbortController());
    const boat = this.#boat;
    const { question, day, condition } = this.#moment;
    this.#resting = setTimeout(async () => {
      for (const near of this.#draws ? [day + 1, day - 1] : []) {
        if (near < 0 || near > this.#days()) continue;
        const [drawnAt, answeredAt] = [this.#key(near), this.#key(near, question)];
        try {
          if (!portraits.get(drawnAt)) portraits.put(drawnAt, await server.portrait(boat, near, condition, ahead.signal));
          if (question && !answers.get(answeredAt)) answers.put(answeredAt, await server.ask(boat, question, near, condition, ahead.signal));
        } catch {
          return; // moved on, or the server is gone: nothing to say of it here
        }
      }
      if (!ahead.signal.aborted) this.askAll();
    }, rest);
  }

  /** Asks every question for the marks down the side. */
  askAll() {
    const wanted = this.#key();
    if (this.#all === wanted) return;
    this.#all = wanted;
    this.#endAll();
    this.#endAll = server.answers(
      this.#boat,
      this.#moment.day,
      this.#moment.condition,
      (told) => {
        if (this.#key() === wanted) this.#tell(told);
      },
      (end) => {
        if (!end) this.#all = "";
      },
    );
  }
}
