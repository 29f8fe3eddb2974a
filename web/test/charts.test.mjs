// Charts, maps, matrices and figures of the real program over an invented boat:
// reached by address, read by keys and by finger, their numbers taken away as text,
// and every figure explained.

import assert from "node:assert/strict";
import { cpSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { axe, browser, build, open, phone, repository, serve, settled, shots } from "./page.mjs";

let server, chrome, folder;
before(async () => {
  folder = mkdtempSync(join(tmpdir(), "thole-boat-"));
  cpSync(join(repository, "demo", "sanderling"), folder, { recursive: true });
  server = await serve(build("./cmd/thole", "thole"), ["serve", folder, "--no-open", "--port", "0"]);
  chrome = await browser();
});
after(async () => {
  await chrome?.close();
  await server?.end();
  if (folder) rmSync(folder, { recursive: true, force: true });
});

const asked = async (page, path) => (await page.request.get(server.url + "api/ask/" + path)).json();
const map = (page) => page.locator("figure:has(.mapped)");

test("a block is reached by its address, and its head gives it", async () => {
  const { page, context, troubles } = await open(chrome, server.url + "right?day=40#arms-by-heel-and-day");
  await settled(page);
  await page.waitForTimeout(1600);
  const at = await page.locator("#arms-by-heel-and-day").boundingBox();
  assert.ok(at.y > 60 && at.y < 330, `the map stands at ${at.y}`);
  const ids = await page.$$eval("main h2[id]", (all) => all.map((h) => h.id));
  assert.equal(new Set(ids).size, ids.length, "two blocks of one name");
  assert.ok(ids.every((id) => !/\bday-\d/.test(id)), "a name hangs on the day: " + ids);
  await page.locator("h2[id=where-she-would-lie] a").click();
  assert.match(page.url(), /right\?day=40#where-she-would-lie$/);
  // The slider leaves the block in the address.
  await page.getByRole("button", { name: "One day on" }).click();
  await page.waitForFunction(() => location.search === "?day=41");
  assert.match(page.url(), /right\?day=41#where-she-would-lie$/);
  await page.locator('nav a[href^="/float"]').click();
  await page.waitForFunction(() => location.pathname === "/float");
  assert.equal(new URL(page.url()).hash, "", "another question has other blocks");
  await page.goBack();
  assert.deepEqual(troubles, []);
  await context.close();
});

test("the map is read by keys, by mouse and by finger", async () => {
  const { page, context, troubles } = await open(chrome, server.url + "right?day=40");
  await settled(page);
  const { sheet } = await asked(page, "right?day=40");
  const field = sheet.blocks.find((b) => b.field).field;
  const rows = map(page).locator(".strip.rows");
  const columns = map(page).locator(".strip.columns");
  const said = async (strip) => (await strip.getAttribute("aria-valuetext")).replaceAll("\u2212", "-");
  const arm = (i, j) => field.values[j][i].toFixed(0).replace("-0", "0");
  assert.equal(await said(rows), `day 40, ${field.xs[field.begin]}° heel to starboard: righting arm ${arm(field.begin, field.shown)}\u00a0mm`);
  await rows.focus();
  await page.keyboard.press("End");
  await columns.focus();
  await page.keyboard.press("Home");
  for (let i = 0; i < 6; i++) await page.keyboard.press("ArrowRight");
  assert.match(await said(columns), new RegExp(`^30° heel to starboard, day 80: righting arm ${arm(6, field.ys.length - 1)}\u00a0mm$`));
  await page.keyboard.press("ArrowDown"); // the other hair
  assert.match(await said(rows), new RegExp(`^day ${field.ys.at(-2)}, 30°`));
  await page.keyboard.press("Escape");
  assert.match(await said(rows), /^day 40/);
  await map(page).scrollIntoViewIfNeeded();
  const box = await map(page).locator(".touch").boundingBox();
  await page.mouse.move(box.x + box.width / 2, box.y + box.height - 1);
  assert.match(await said(rows), /^day 0, 90°/);
  assert.deepEqual(troubles, []);
  await context.close();

  const small = await open(chrome, server.url + "right?day=40&night", phone);
  await settled(small.page);
  await small.page.waitForTimeout(900);
  await map(small.page).scrollIntoViewIfNeeded();
  await map(small.page).locator(".touch").tap({ position: { x: 50, y: 2 } });
  assert.match(await said(map(small.page).locator(".strip.rows")), /^day 80, 30°/);
  assert.ok((await small.page.evaluate(() => document.documentElement.scrollWidth)) <= 390, "moves sideways");
  assert.deepEqual(await axe(small.page), []);
  await map(small.page).screenshot({ path: join(shots, "map-phone-night.png") });
  await small.context.close();
});

test("the matrix says what is under the finger or the keys", async () => {
  const { page, context, troubles } = await open(chrome, server.url + "right?day=40");
  await settled(page);
  const { sheet } = await asked(page, "right?day=40");
  const matrix = sheet.blocks.find((b) => b.matrix).matrix;
  const figure = page.locator("figure:has([role=grid])");
  assert.equal(await figure.locator("[role=grid] td[data-at]").count(), matrix.rows.length * matrix.columns.length);
  await figure.locator('td[data-at="0 0"]').focus();
  await page.keyboard.press("ArrowRight");
  await page.keyboard.press("ArrowDown");
  assert.equal((await figure.locator(".readout").textContent()).trim(), matrix.cells[1][1].said);
  assert.ok((await page.evaluate(() => document.activeElement.getAttribute("aria-label"))).endsWith(": " + matrix.cells[1][1].said));
  await figure.locator('td[data-at="2 5"]').click();
  assert.equal((await figure.locator(".readout").textContent()).trim(), matrix.cells[2][5].said);
  assert.deepEqual(await axe(page), []);
  await figure.screenshot({ path: join(shots, "matrix.png") });
  assert.deepEqual(troubles, []);
  await context.close();
});

test("numbers are copied as text, and shown where the clipboard is shut", async () => {
  const { page, context } = await open(chrome, server.url + "float?day=40", { permissions: ["clipboard-read", "clipboard-write"] });
  await settled(page);
  const { sheet } = await asked(page, "float?day=40");
  const bars = sheet.blocks.find((b) => b.chart?.series.some((s) => s.width)).chart;
  await page.getByRole("button", { name: "Copy the numbers of " + bars.heading }).click();
  const rows = (await page.evaluate(() => navigator.clipboard.readText())).trimEnd().split("\n").map((l) => l.split("\t"));
  assert.deepEqual(rows[0], ["aft of station 0 (m)", ...bars.series.map((s) => s.name + " (kg)")]);
  const first = bars.series[0];
  const at = rows.find((r) => Number(r[0]) === Math.round(first.x[4] * 100) / 100);
  assert.ok(Math.abs(Number(at[1]) - first.y[4]) < 0.051, `${at} for ${first.y[4]}`);
  const table = sheet.blocks.find((b) => b.table).table;
  await page.getByRole("button", { name: "Copy the numbers of " + table.heading }).click();
  const text = await page.evaluate(() => navigator.clipboard.readText());
  assert.equal(text.trimEnd().split("\n").length, table.rows.length + 1);
  assert.ok(text.includes("(kg)") && !text.includes("\u2212"));
  await page.evaluate(() => Object.defineProperty(navigator, "clipboard", { value: undefined }));
  await page.getByRole("button", { name: "Copy the numbers of " + table.heading }).click();
  assert.equal(await page.locator("textarea").inputValue(), text);
  assert.equal(await page.evaluate(() => getSelection().toString()), text, "it is not chosen");
  await context.close();
});

test("a figure that is touched says how, where from, and leads to the line", async () => {
  const { page, context, troubles } = await open(chrome, server.url + "float?day=12", phone);
  await settled(page);
  const { sheet } = await asked(page, "float?day=12");
  const draft = sheet.blocks.find((b) => b.figures).figures.rows.find((r) => r.name === "draft");
  const button = page.getByRole("button", { name: "draft", exact: true });
  assert.equal(await button.getAttribute("aria-expanded"), "false");
  await button.tap();
  assert.equal(await button.getAttribute("aria-expanded"), "true");
  const how = page.locator("#" + (await button.getAttribute("aria-controls")));
  for (const words of [draft.method, draft.source, ...draft.inputs]) assert.ok((await how.textContent()).includes(words), words);
  assert.equal(await how.locator("a").count(), draft.inputs.length);
  const to = await how.locator("a", { hasText: "boat.yaml: weights" }).getAttribute("href");
  assert.match(to, /^\/folder\?.*day=12.*file=boat\.yaml.*key=weights/);
  assert.deepEqual(await axe(page), []);
  await button.focus();
  await page.keyboard.press("Escape");
  assert.equal(await button.getAttribute("aria-expanded"), "false");
  assert.deepEqual(troubles, []);
  await context.close();
});
