// What matters of the page's state stands in its address, so that a page can be
// sent, reloaded and gone back to: /QUESTION?day=61&at=in the cabin

/** The looks that an address may ask for: ?night */
export const looks = ["paper", "night", "sun"] as const;

export interface Place {
  question: string; // empty: the first of the table
  day: number;
  condition: string; // empty: the folder's first
}

/** Reads an address; what makes no sense is left at its beginning. */
export function read(location: { pathname: string; search: string }): Place {
  const asked = new URLSearchParams(location.search);
  const day = Number.parseInt(asked.get("day") ?? "", 10);
  return {
    question: decodeURIComponent(location.pathname.replace(/^\/+/, "")),
    day: Number.isFinite(day) && day > 0 ? day : 0,
    condition: asked.get("at") ?? "",
  };
}

/** Writes an address. A condition that goes without saying is left out. */
export function write(place: Place, usual: string): string {
  const asked = new URLSearchParams();
  if (place.day > 0) asked.set("day", String(place.day));
  if (place.condition && place.condition !== usual) asked.set("at", place.condition);
  // A look that the address asked for stays asked for.
  const now = new URLSearchParams(globalThis.location?.search ?? "");
  for (const look of looks) if (now.has(look)) asked.set(look, "");
  const words = asked.toString().replace(/=(?=&|$)/g, "");
  return "/" + encodeURIComponent(place.question) + (words ? "?" + words : "");
}
