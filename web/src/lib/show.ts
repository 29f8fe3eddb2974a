// How numbers and dates are written. Nothing here changes a value.

const minus = "\u2212";
const thin = "\u202f";

/** A number with so many digits behind the point, with a true minus sign. */
export function number(value: number, places: number): string {
  const bare = value.toFixed(Math.max(0, Math.min(12, places)));
  const sign = bare.startsWith("-") && Number(bare) !== 0 ? minus : "";
  const [whole = "", part] = bare.replace("-", "").split(".");
  const grouped = whole.length > 4 ? whole.replace(/\B(?=(\d{3})+$)/g, thin) : whole;
  return sign + grouped + (part === undefined ? "" : "." + part);
}

/** A number with its unit as it stands in a sentence: "148 deg" is "148°". */
export function quantity(value: number, places: number, unit?: string): string {
  if (!unit) return number(value, places);
  if (unit === "deg" || unit === "°") return number(value, places) + "°";
  return number(value, places) + "\u00a0" + unit;
}

/** A unit as it stands at the head of a column or an axis. */
export function unitWord(unit?: string): string {
  return unit === "deg" ? "°" : (unit ?? "");
}

const months = ["January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"];

/** The date so many days after a year-month-day, or nothing without one. */
export function dateOf(leave: string, day: number): string {
  const parts = /^(\d{4})-(\d{2})-(\d{2})$/.exec(leave);
  if (!parts) return "";
  const at = new Date(Date.UTC(Number(parts[1]), Number(parts[2]) - 1, Number(parts[3]) + day));
  return `${at.getUTCDate()} ${months[at.getUTCMonth()]} ${at.getUTCFullYear()}`;
}

/** A line and column as editors write it; what the server left at 0 is left out. */
export function place(file: string, line: number, column: number): string {
  return [file, line, line ? column : 0].filter(Boolean).join(":");
}

/** Words in which no line ends between a number and its unit. */
export function kept(words: string): string {
  return words.replace(/(\d) (?=(mm|m|ft|in|kg)\b)/g, "$1\u00a0").replace(/(ft|in) (?=\d)/g, "$1\u00a0");
}
