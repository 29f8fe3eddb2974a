// What a hand on the page does to the try that is on.

import { tries } from "./tries.svelte";
import type { Edit } from "./trytypes";
import { view } from "./view.svelte";

/** Puts edits into the try that is on; there is one afterwards. The result is its name. */
export function commit(edits: Edit[]): string {
  if (view.try && tries.find(view.try)) {
    tries.add(view.try, edits);
    return view.try;
  }
  return begin(tries.fresh(), edits);
}

/** Makes a try with edits in it, and puts it on. */
export function begin(name: string, edits: Edit[]): string {
  const given = tries.make(name, edits);
  view.use(given);
  return given;
}

/** Renames a try, which stays on if it is. */
export function rename(name: string, to: string) {
  const given = tries.rename(name, to);
  if (view.try === name) view.use(given);
}

/** Drops a try for good. */
export function drop(name: string) {
  if (view.try === name) view.use("");
  tries.drop(name);
}
