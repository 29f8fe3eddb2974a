// What the server is asked about edits of the folder: tries, drafts, levers.

import { call, query, stream, type World } from "./server";
import type { Change, Drafted, Edit, FolderShown, LeverEnd, LeverList, LeverRow, NeedsNow, TriesNow, Try } from "./trytypes";

export const folder = (world: World, signal?: AbortSignal) => call<FolderShown>("/api/folder" + query(world), { signal });

export const needs = (world: World, signal?: AbortSignal) => call<NeedsNow>("/api/needs" + query(world), { signal });

export const tries = () => call<TriesNow>("/api/tries", { first: true });

/** Stores all tries; refused with 409 when another page has stored since version. */
export const store = (version: number, all: Try[]) =>
  call<TriesNow>("/api/tries", { method: "PUT", body: { version, tries: all.map(({ name, edits }) => ({ name, edits: edits ?? [] })) } });

/** Writes a try into the folder's files. */
export const keep = (name: string, version: number) => call<{ changes: Change[] | null }>("/api/keep", { method: "POST", body: { name, version } });

/** What edits would do, on top of a try's; nothing is stored. */
export const draft = (edits: Edit[], on: string, signal?: AbortSignal) =>
  call<Drafted>("/api/draft", { method: "POST", body: on ? { try: on, edits } : { edits }, signal });

/** The lever table as it comes; the result ends the asking early. */
export const levers = (world: World, list: (list: LeverList) => void, row: (row: LeverRow) => void, end: (end: LeverEnd | null) => void) =>
  stream<LeverEnd>("/api/levers" + query(world), { list, row }, end);
