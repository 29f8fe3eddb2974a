// Links to the very line of the folder from which something comes.

import { stay } from "./links";
import { view } from "./view.svelte";

/** The address of a value in a file of the folder; of the file without a key. */
export function folderHref(file: string, key = ""): string {
  return view.hrefBeside("folder", file, key);
}

/** Follows such a link within the page. */
export function followFolder(e: MouseEvent, file: string, key = "") {
  stay(e, () => view.goBeside("folder", file, key));
}

/** Takes "boat.yaml: water" apart, as answers name a place in the folder. */
export function spot(words: string): { file: string; key: string } {
  const at = /^([^\s:]+\.\w+)(?::\s*(.*))?$/s.exec(words.trim());
  return { file: at?.[1] ?? "", key: at?.[2] ?? "" };
}
