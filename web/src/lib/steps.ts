// Stepping the number in a text up and down, in its last written place. This is
// arithmetic on what is written, digit by digit; it knows nothing of boats.

const plain = /^(\s*["']?\s*)([+\-\u2212]?)(\d+(?:\.\d+)?)(.*)$/s;
const feet = /^(\s*)([+\-\u2212]?)(\d+) ft (\d+) in(.*)$/s;
const eighths = /^(\s*)([+-]?)(\d+)-(\d+)-(\d+)([+-]?)(.*)$/s;
const date = /^(\d{4})-(\d{2})-(\d{2})$/;

/** Whether stepped has anything to step. */
export function steps(text: string): boolean {
  return stepped(text, 1) !== null;
}

/** The text with its first number so many steps larger; null without one. */
export function stepped(text: string, by: number): string | null {
  const day = date.exec(text.trim());
  if (day) {
    const at = new Date(Date.UTC(Number(day[1]), Number(day[2]) - 1, Number(day[3]) + by));
    return at.toISOString().slice(0, 10);
  }
  const ft = feet.exec(text);
  if (ft) {
    const [, lead = "", sign = "", f = "0", i = "0", rest = ""] = ft;
    const all = (sign && sign !== "+" ? -1 : 1) * (Number(f) * 12 + Number(i)) + by;
    return `${lead}${all < 0 ? "-" : ""}${Math.trunc(Math.abs(all) / 12)} ft ${Math.abs(all) % 12} in${rest}`;
  }
  const classic = eighths.exec(text);
  if (classic) {
    const [, lead = "", sign = "", f = "0", i = "0", e = "0", half = "", rest = ""] = classic;
    const all = (sign === "-" ? -1 : 1) * ((Number(f) * 12 + Number(i)) * 8 + Number(e)) + by;
    const size = Math.abs(all);
    return `${lead}${all < 0 ? "-" : ""}${Math.trunc(size / 96)}-${Math.trunc(size / 8) % 12}-${size % 8}${half}${rest}`;
  }
  const found = plain.exec(text);
  if (!found) return null;
  const [, lead = "", sign = "", digits = "0", rest = ""] = found;
  const places = digits.includes(".") ? digits.length - digits.indexOf(".") - 1 : 0;
  const all = BigInt(digits.replace(".", "")) * (sign && sign !== "+" ? -1n : 1n) + BigInt(by);
  const size = (all < 0n ? -all : all).toString().padStart(places + 1, "0");
  const written = places ? `${size.slice(0, -places)}.${size.slice(-places)}` : size;
  return lead + (all < 0n ? "-" : sign === "+" ? "+" : "") + written + rest;
}
