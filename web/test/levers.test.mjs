// What would change it: the lever table on the page, against the invented boat
// with its own levers and those that the program offers.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { axe, browser, build, invented, open, phone, shots, small, until } from "./page.mjs";

let boat, server, chrome;
before(async () => {
  boat = invented(build("./web/test/fake", "fake"), { sound: true });
  server = await boat.start();
  chrome = await browser();
});
after(async () => {
  await chrome?.close();
  await server?.end();
  boat?.remove();
});

/** The events of a stream, by name. */
async function events(path) {
  const text = await (await fetch(server.url + path)).text();
  return [...text.matchAll(/event: (\w+)\ndata: (.*)/g)].map(([, name, data]) => ({ name, data: JSON.parse(data) }));
}
const whole = (page) => page.waitForFunction(() => /^All \d+ worked out/.test(document.querySelector(".progress")?.textContent ?? ""), null, { timeout: 60_000 });
const names = (page) => page.$$eval("tbody .name", (all) => all.map((n) => n.textContent));

test("rows stream in, are counted, and end sorted by what helps the tightest answer most", async () => {
  const { page, context, troubles } = await open(chrome, server.url + "levers");
  await page.waitForSelector("tbody .name");
  // Rows are there before the last has come, and a line says how many are done.
  const early = await page.textContent(".progress");
  assert.match(early, /^\d+ of \d+ worked out$/);
  assert.ok(await page.locator("progress").isVisible());
  await page.waitForFunction(() => document.querySelectorAll("tbody .change").length > 0);
  await whole(page);

  const told = await events("api/levers");
  const { levers, questions, tightest } = told.find((e) => e.name === "list").data;
  const { order } = told.find((e) => e.name === "end").data;
  const rows = new Map(told.filter((e) => e.name === "row").map((e) => [e.data.lever, e.data]));
  const moves = (i) => rows.get(i) && !levers[i].fault && rows.get(i).cells.some((c) => c.shown !== "0" || c.was !== c.verdict);
  assert.deepEqual(await names(page), order.filter(moves).map((i) => levers[i].name), "the order is the server's");
  const at = questions.findIndex((q) => q.id === tightest);
  const changes = order.filter(moves).map((i) => rows.get(i).cells[at]).filter((c) => c.known).map((c) => c.change);
  assert.deepEqual(changes, [...changes].sort((a, b) => b - a), "what helps most stands first");
  assert.match(await page.textContent("thead th.tight"), new RegExp(`^${questions[at].title.replace("?", "\\?")}tightest`));

  // The figures are the server's, sign and unit, and a verdict that changes is said.
  const keel = levers.findIndex((l) => l.name === "a heavier keel");
  const row = page.locator("tbody tr", { hasText: "a heavier keel" });
  assert.match(await row.textContent(), /your own/);
  const cells = await row.locator("td").allTextContents();
  assert.equal(cells.length, questions.length);
  for (const [i, cell] of rows.get(keel).cells.entries()) assert.ok(cells[i].replaceAll("−", "-").includes(cell.shown.replaceAll("−", "-")), `${questions[i].id}: ${cells[i]} for ${cell.shown}`);
  const turned = rows.get(keel).cells.findIndex((c) => c.was !== c.verdict);
  assert.ok(turned >= 0, "the fixture changes a verdict");
  assert.match(cells[turned], new RegExp(`${rows.get(keel).cells[turned].was} → ${rows.get(keel).cells[turned].verdict}`));
  assert.deepEqual(troubles, []);
  await page.screenshot({ path: join(shots, "levers.png"), fullPage: true });
  await context.close();
});

test("what changes nothing is folded away, groups are filtered, rows are set side by side", async () => {
  const { page, context } = await open(chrome, server.url + "levers");
  await whole(page);
  const fold = page.locator(".folded .heading button");
  assert.equal(await fold.getAttribute("aria-expanded"), "false");
  assert.ok(!(await names(page)).includes("a hatch that is not there"));
  await fold.click();
  assert.ok((await names(page)).includes("a hatch that is not there"));
  assert.match(await page.locator("tbody tr", { hasText: "a hatch that is not there" }).textContent(), /no opening/);
  await page.locator(".groups button", { hasText: "load" }).click();
  assert.ok(!(await names(page)).includes("a hatch that is not there"));
  const first = (await names(page))[0];
  const last = (await names(page)).at(-1);
  await page.locator("tbody button", { hasText: last }).first().click();
  await page.getByRole("button", { name: "Compare it" }).click();
  assert.equal(await page.locator(".pinned .name").first().textContent(), last);
  assert.equal((await names(page))[1], first);
  await context.close();
});

test("its head and first column stay in sight, and it is copied as text", async () => {
  const { page, context } = await open(chrome, server.url + "levers", { viewport: { width: 1000, height: 700 }, permissions: ["clipboard-read", "clipboard-write"] });
  await whole(page);
  const frame = page.locator("main .frame");
  await page.locator(".folded .heading button").click();
  assert.ok((await frame.evaluate((f) => (f.scrollTo(200, 160), Math.min(f.scrollLeft, f.scrollTop)))) > 40, "there is nothing to move");
  const box = await frame.boundingBox();
  const head = await page.locator("thead th").first().boundingBox();
  const first = await page.locator("tbody tr:not(.heading) th").nth(5).boundingBox();
  assert.ok(Math.abs(first.x - box.x) < 2, "the first column has moved");
  assert.ok(head.y >= box.y - 2 && head.y < box.y + 120, "the head has moved");
  await page.getByRole("button", { name: "copy as text" }).click();
  await page.waitForSelector("text=Copied.");
  const text = await page.evaluate(() => navigator.clipboard.readText());
  const lines = text.trimEnd().split("\n").map((l) => l.split("\t"));
  assert.ok(lines.every((l) => l.length === lines[0].length), "every row has every column");
  assert.ok(lines[0].includes("Will she come back up?"));
  assert.equal(lines[1][0], "as it stands");
  assert.ok(lines.some((l) => l[0] === "a heavier keel" && l.some((c) => /→/.test(c))));
  await context.close();
});

test("a lever touched shows its lines, and becomes a try", async () => {
  const { page, context, troubles } = await open(chrome, server.url + "levers");
  await whole(page);
  await page.locator("tbody tr", { hasText: "a heavier keel" }).locator("td").nth(1).click(); // anywhere on the row
  await page.waitForSelector(".lever ins");
  assert.match(await page.textContent(".lever del"), /mass: 420 kg \+- 5%/);
  assert.match(await page.textContent(".lever ins"), /mass: 440 kg \+- 5%/);
  await page.getByRole("button", { name: "Try this" }).click();
  await page.waitForFunction(() => location.search.includes("try=a+heavier+keel"));
  assert.equal(await page.getByLabel("Name of the try").inputValue(), "a heavier keel");
  await page.waitForFunction(() => /on top of “a heavier keel”/.test(document.querySelector(".about")?.textContent ?? "") || /on top of “a heavier keel”/.test(document.querySelector("main")?.textContent ?? ""));
  let tries; // the page shows what it sends; the server has it a little later
  await until("a stored try", async () => ({ tries } = await (await fetch(server.url + "api/tries")).json()).tries?.length === 1);
  assert.deepEqual(tries[0].edits.map((e) => [e.key, e.text]), [["weights[0].mass", "440 kg +- 5%"]]);
  assert.match(readFileSync(join(boat.folder, "boat.yaml"), "utf8"), /mass: 420 kg/, "the file is as it was");
  await whole(page); // the table is asked again with the try
  await page.locator(".trying").getByRole("button", { name: "drop" }).click();
  await page.waitForFunction(() => !location.search.includes("try="));
  assert.deepEqual(troubles, []);
  await context.close();
});

for (const look of ["paper", "night", "sun"]) {
  test(`the table has no fault for axe, and fits a phone, on ${look}`, async () => {
    for (const options of [{ viewport: { width: 1440, height: 1000 } }, phone, { ...phone, viewport: { width: 320, height: 700 } }]) {
      const { page, context, troubles } = await open(chrome, `${server.url}levers?${look}`, options);
      await whole(page);
      await page.locator("tbody button").first().click();
      await page.waitForSelector(".lever ins");
      assert.deepEqual(await axe(page), []);
      const { width } = page.viewportSize();
      assert.ok((await page.evaluate(() => document.documentElement.scrollWidth)) <= width, `moves sideways at ${width}`);
      if (options.isMobile) assert.deepEqual(await small(page), []);
      assert.deepEqual(troubles, []);
      await page.screenshot({ path: join(shots, `levers-${look}-${width}.png`) });
      await context.close();
    }
  });
}

test("it prints as a table, whole", async () => {
  const { page, context } = await open(chrome, server.url + "levers?night");
  await whole(page);
  await page.emulateMedia({ media: "print" });
  assert.ok(await page.locator("nav").first().isHidden());
  assert.equal(await page.locator("main .frame").evaluate((f) => getComputedStyle(f).overflow), "visible");
  assert.equal(await page.locator("tbody th").first().evaluate((e) => getComputedStyle(e).color), "rgb(0, 0, 0)");
  await page.pdf({ path: join(shots, "levers.pdf"), format: "A4" });
  await page.setViewportSize({ width: 700, height: 1000 });
  assert.ok((await page.locator("table").evaluate((t) => t.getBoundingClientRect().right)) <= 700, "wider than a sheet");
  await page.screenshot({ path: join(shots, "levers-printed.png"), fullPage: true });
  await context.close();
});
