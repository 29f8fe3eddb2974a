// The lever table as it comes from the server, row by row.

import * as changing from "./changing";
import type { Boatful } from "./asker.svelte";
import type { Lever, LeverCell, LeverEnd, LeverList, LeverRow } from "./trytypes";

/** A lever with its row, once that has come. */
export interface Line {
  at: number; // index in the list
  lever: Lever;
  row: LeverRow | undefined;
}

const nothing = (cell: LeverCell) => cell.verdict === cell.was && (cell.shown === "0" || (!cell.known && !cell.shown));

class LeverTable {
  list = $state.raw<LeverList | null>(null);
  rows = $state.raw<Record<number, LeverRow>>({});
  ended = $state.raw<LeverEnd | null>(null);
  broken = $state(false);
  #mark = "";
  #end: () => void = () => {};

  /** Levers in the server's order once it has told it, in the list's until then. */
  lines: Line[] = $derived.by(() => {
    const levers = this.list?.levers ?? [];
    const order = this.ended?.order?.length ? this.ended.order : levers.map((_, i) => i);
    const missing = levers.map((_, i) => i).filter((i) => !order.includes(i));
    return [...order, ...missing].flatMap((at) => {
      const lever = levers[at];
      return lever ? [{ at, lever, row: this.rows[at] }] : [];
    });
  });
  done = $derived(Object.keys(this.rows).length);
  working = $derived(this.list !== null && this.ended === null && !this.broken);

  /** Asks for the table of a boat, unless it is there. */
  want(boat: Boatful) {
    if (boat.mark === this.#mark && !this.broken) return;
    this.#mark = boat.mark;
    this.#end();
    this.broken = false;
    // What is shown stays until the new list comes.
    this.#end = changing.levers(
      boat,
      (list) => {
        this.list = list;
        this.rows = {};
        this.ended = null;
      },
      (row) => (this.rows = { ...this.rows, [row.lever]: row }),
      (end) => {
        if (end) this.ended = end;
        else this.broken = true;
      },
    );
  }

  leave() {
    if (!this.ended) this.#mark = ""; // asked anew when the page is shown again
    this.#end();
  }
}

/** Whether a lever moves no answer. */
export function still(line: Line): boolean {
  return line.row !== undefined && !line.row.trouble && line.row.cells !== null && line.row.cells.every(nothing);
}

/** Why a lever cannot be asked; empty when it can. */
export function cannot(line: Line): string {
  return line.lever.fault || line.row?.trouble || "";
}

export const leverTable = new LeverTable();
