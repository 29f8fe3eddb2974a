// Talking to the server, which is this machine's own.

import { asks, streams } from "./gate";
import type { Asked, Boat, Changed, Drawing, End, Fault, Part, Progress, Told } from "./types";

/** Which boat is asked about: the folder with a try's edits or without, in which units. */
export interface World {
  try: string;
  units: string;
}

/** What the server said instead of an answer. */
export class Refusal extends Error {
  readonly status: number;
  readonly faults: Fault[];

  constructor(say: string, status: number, faults: Fault[] = []) {
    super(say);
    this.status = status;
    this.faults = faults;
  }
}

interface Said {
  detail?: string;
  errors?: { message?: string; location?: string }[];
}

/** A fault as an error's location, file:line:column, and its words say it. */
function fault(one: { message?: string; location?: string }): Fault {
  const at = /^(.*?)(?::(\d+))?(?::(\d+))?$/.exec(one.location ?? "");
  const words = /^(.*?)(?:\s\(([^()]*(?:\([^()]*\)[^()]*)*)\))?$/s.exec(one.message ?? "");
  return { file: at?.[1] ?? "", line: Number(at?.[2] ?? 0), column: Number(at?.[3] ?? 0), key: "", text: "", say: words?.[1] ?? one.message ?? "", mend: words?.[2] ?? "" };
}

interface Call {
  signal?: AbortSignal | undefined;
  method?: string;
  body?: unknown;
  first?: boolean; // it goes before the questions, as all that writes does
}

/** Asks; a body is sent with it. */
export async function call<T>(path: string, { signal, method = "GET", body, first = method !== "GET" }: Call = {}): Promise<T> {
  const leave = first ? () => {} : await asks.enter(signal);
  try {
    return await send(path, method, body, signal);
  } finally {
    leave();
  }
}

async function send<T>(path: string, method: string, body: unknown, signal: AbortSignal | undefined): Promise<T> {
  const headers: Record<string, string> = { Accept: "application/json" };
  if (body !== undefined) headers["Content-Type"] = "application/json";
  const reply = await fetch(path, { method, headers, signal: signal ?? null, body: body === undefined ? null : JSON.stringify(body) });
  if (!reply.ok) {
    let said: Said = {};
    try {
      said = (await reply.json()) as Said;
    } catch {
      // Not in its own words; the number must do.
    }
    throw new Refusal(said.detail ?? `The server answered ${reply.status}.`, reply.status, (said.errors ?? []).map(fault));
  }
  return (await reply.json()) as T;
}

/** The end of a request's address: which boat, and more of it. */
export function query(world: World, more: Record<string, string | number> = {}): string {
  const asked = new URLSearchParams();
  for (const [name, value] of Object.entries({ ...more, try: world.try, units: world.units })) if (value !== "") asked.set(name, String(value));
  const words = asked.toString();
  return words && "?" + words;
}

export const boat = (world: World, signal?: AbortSignal) => call<Boat>("/api/boat" + query(world), { signal });

export const ask = (world: World, id: string, day: number, condition: string, signal?: AbortSignal) =>
  call<Asked>(`/api/ask/${encodeURIComponent(id)}${query(world, { day, condition })}`, { signal });

export const part = (world: World, id: string, name: string, day: number, condition: string, signal?: AbortSignal) =>
  call<Part>(`/api/patterns/${encodeURIComponent(id)}/${encodeURIComponent(name)}${query(world, { day, condition })}`, { signal });

export const portrait = (world: World, day: number, condition: string, signal?: AbortSignal) =>
  call<Drawing>(`/api/portrait${query(world, { day, condition })}`, { signal });

/** Reads a stream whose last event is "end"; one that broke off ends with null and is not begun again. */
export function stream<E>(path: string, events: Record<string, (data: never) => void>, end: (end: E | null) => void): () => void {
  const given = new AbortController();
  let close = () => given.abort();
  const open = (leave: () => void) => {
    const source = new EventSource(path);
    close = () => {
      source.close();
      leave();
    };
    for (const [name, tell] of Object.entries(events)) source.addEventListener(name, (e) => tell(JSON.parse((e as MessageEvent<string>).data) as never));
    source.addEventListener("end", (e) => {
      close();
      end(JSON.parse((e as MessageEvent<string>).data) as E);
    });
    source.onerror = () => {
      close();
      end(null);
    };
  };
  streams.enter(given.signal).then(
    (leave) => (given.signal.aborted ? leave() : open(leave)),
    () => {}, // given up before its turn
  );
  return () => close();
}

/** Every question's answer as it comes; the result ends the asking early. */
export const answers = (world: World, day: number, condition: string, tell: (told: Told) => void, end: (end: End | null) => void) =>
  stream<End>(`/api/answers${query(world, { day, condition })}`, { answer: tell }, end);

/** How far one answer is, as it is worked out; the result ends the listening. */
export const progress = (world: World, id: string, day: number, condition: string, tell: (now: Progress) => void, end: () => void) =>
  stream<End>(`/api/ask/${encodeURIComponent(id)}/progress${query(world, { day, condition })}`, { progress: tell }, end);

/**
 * Hears of changes to the folder, and of the server itself going and coming
 * back. While the page is out of sight nothing is held open.
 */
export function changes(changed: (now: Changed) => void, lost: (is: boolean) => void): () => void {
  let source: EventSource | null = null;
  let again: ReturnType<typeof setTimeout> | undefined;
  const open = () => {
    clearTimeout(again);
    source?.close();
    source = new EventSource("/api/changes");
    source.addEventListener("version", (e) => {
      lost(false);
      changed(JSON.parse((e as MessageEvent<string>).data) as Changed);
    });
    source.onerror = () => {
      source?.close();
      source = null;
      lost(true);
      again = setTimeout(open, 1500);
    };
  };
  const seen = () => {
    if (!document.hidden) open();
    else {
      clearTimeout(again);
      source?.close();
      source = null;
    }
  };
  document.addEventListener("visibilitychange", seen);
  seen();
  return () => {
    document.removeEventListener("visibilitychange", seen);
    clearTimeout(again);
    source?.close();
  };
}
