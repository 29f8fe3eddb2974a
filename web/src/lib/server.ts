// Talking to the server, which is this machine's own.

import type { Asked, Boat, Changed, Drawing, End, Part, Told } from "./types";

/** What the server said instead of an answer. */
export class Refusal extends Error {}

async function get<T>(path: string, signal?: AbortSignal): Promise<T> {
  const reply = await fetch(path, { signal: signal ?? null, headers: { Accept: "application/json" } });
  if (!reply.ok) {
    let say = `The server answered ${reply.status}.`;
    try {
      say = ((await reply.json()) as { detail?: string }).detail ?? say;
    } catch {
      // Not in its own words; the number must do.
    }
    throw new Refusal(say);
  }
  return (await reply.json()) as T;
}

const query = (day: number, condition: string) =>
  new URLSearchParams({ day: String(day), condition }).toString();

export const boat = () => get<Boat>("/api/boat");

export const ask = (id: string, day: number, condition: string, signal?: AbortSignal) =>
  get<Asked>(`/api/ask/${encodeURIComponent(id)}?${query(day, condition)}`, signal);

export const part = (id: string, name: string, day: number, condition: string, signal?: AbortSignal) =>
  get<Part>(`/api/patterns/${encodeURIComponent(id)}/${encodeURIComponent(name)}?${query(day, condition)}`, signal);

export const portrait = (day: number, condition: string, signal?: AbortSignal) =>
  get<Drawing>(`/api/portrait?${query(day, condition)}`, signal);

/** Every question's answer as it comes; the result ends the asking early. */
export function answers(day: number, condition: string, tell: (told: Told) => void, end: (end: End | null) => void): () => void {
  const stream = new EventSource(`/api/answers?${query(day, condition)}`);
  stream.addEventListener("answer", (e) => tell(JSON.parse((e as MessageEvent<string>).data) as Told));
  stream.addEventListener("end", (e) => {
    stream.close();
    end(JSON.parse((e as MessageEvent<string>).data) as End);
  });
  stream.onerror = () => {
    stream.close(); // a stream that broke off is not begun again by itself
    end(null);
  };
  return () => stream.close();
}

/**
 * Hears of changes to the folder, and of the server itself going and coming
 * back. While the page is out of sight nothing is held open.
 */
export function changes(changed: (now: Changed) => void, lost: (is: boolean) => void): () => void {
  let stream: EventSource | null = null;
  let again: ReturnType<typeof setTimeout> | undefined;
  const open = () => {
    clearTimeout(again);
    stream?.close();
    stream = new EventSource("/api/changes");
    stream.addEventListener("version", (e) => {
      lost(false);
      changed(JSON.parse((e as MessageEvent<string>).data) as Changed);
    });
    stream.onerror = () => {
      stream?.close();
      stream = null;
      lost(true);
      again = setTimeout(open, 1500);
    };
  };
  const seen = () => {
    if (!document.hidden) open();
    else {
      clearTimeout(again);
      stream?.close();
      stream = null;
    }
  };
  document.addEventListener("visibilitychange", seen);
  seen();
  return () => {
    document.removeEventListener("visibilitychange", seen);
    clearTimeout(again);
    stream?.close();
  };
}
