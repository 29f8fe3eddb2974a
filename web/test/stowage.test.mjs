// Where everything lies, with the real program over a copy of an invented boat: a
// thing is carried with the mouse, a finger and the keyboard; the answers follow.

import assert from "node:assert/strict";
import { join } from "node:path";
import { after, afterEach, before, test } from "node:test";
import { axe, browser, build, copied, notRed, open, phone, repository, serve, shots, small, until } from "./page.mjs";

let chrome, server, boat;
before(async () => {
  const binary = build("./cmd/thole", "thole");
  chrome = await browser({ solids: false });
  boat = copied(join(repository, "demo", "sanderling"));
  server = await serve(binary, ["serve", boat.folder, "--no-open", "--port", "0"]);
});
after(async () => {
  await chrome?.close();
  await server?.end();
  boat?.remove();
});

const wide = { viewport: { width: 1440, height: 1000 } };
const stored = async () => (await (await fetch(server.url + "api/tries")).json()).tries ?? [];
const forget = async () => {
  const { version } = await (await fetch(server.url + "api/tries")).json();
  await fetch(server.url + "api/tries", { method: "PUT", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ version, tries: [] }) });
};
afterEach(forget);
const shown = (page) => page.setDefaultTimeout(10000) ?? page.waitForSelector(".stowage[aria-busy=false] .quick .one");
const effects = (page) => page.textContent(".effects");
const locker = (page, number) => page.locator(`figure .locker[aria-label^="${number} "]`).first();
async function middle(of) {
  const box = await of.boundingBox();
  return [box.x + box.width / 2, box.y + box.height / 2];
}
/** A row of the panel of one thing, its compartment chosen. */
async function row(page, number, name) {
  await page.selectOption(".pick select", { label: await page.locator(".pick option", { hasText: new RegExp(`^${number} `) }).textContent() });
  return page.locator(".locker li", { hasText: name });
}

test("carried with the mouse, the answers follow while it is held; undo brings it back", async () => {
  const { page, context, troubles } = await open(chrome, server.url + "stowage?day=10", wide);
  await shown(page);
  await row(page, 306, "sea anchor warp");
  const dot = page.locator(".thing", { has: page.locator("title", { hasText: "sea anchor warp" }) }).locator(".near").first();
  const [fx, fy] = await middle(dot);
  const [tx, ty] = await middle(locker(page, 100));
  const before = await effects(page);
  await page.mouse.move(fx, fy);
  await page.mouse.down();
  await page.mouse.move((fx + tx) / 2, (fy + ty) / 2, { steps: 4 });
  await page.mouse.move(tx, ty, { steps: 4 });
  await page.waitForSelector('.effects dt:text("100 fore peak")');
  assert.match(await page.textContent(".inhand"), /sea anchor warp.*into 100/);
  assert.match(await effects(page), /→/);
  await page.screenshot({ path: join(shots, "stowage-held.png") });
  assert.equal((await stored()).length, 0, "held is not laid");
  await page.mouse.up();
  await until("a stored try", async () => (await stored()).length === 1);
  const [{ edits }] = await stored();
  assert.deepEqual(edits.map((e) => [e.file, e.of, e.was, e.text]), [["stores.csv", "sea anchor warp 70 m", "306", "100"]]);
  await page.waitForSelector('.locker li:has-text("sea anchor warp")');
  await until("words for a screen reader", async () => /laid in 100/.test((await page.$$eval("[role=status]", (all) => all.map((e) => e.textContent))).join(" ")));
  await page.getByRole("button", { name: /^undo/i }).click();
  await until("nothing tried", async () => !(await stored())[0].edits?.length);
  await until("as before", async () => (await effects(page)) === before);

  // Let go of beside the boat, nothing is carried.
  await page.mouse.move(fx, fy);
  await page.mouse.down();
  await page.mouse.move(fx + 40, fy + 40, { steps: 3 });
  await page.mouse.move(20, 900, { steps: 3 });
  await page.mouse.up();
  assert.equal(await page.locator(".inhand").count(), 0);
  assert.equal((await stored())[0].edits?.length ?? 0, 0);
  assert.deepEqual(troubles, []);
  await context.close();
});

test("by keyboard alone: part of a row is carried, another is let go, one is pinned", async () => {
  const { page, context, troubles } = await open(chrome, server.url + "stowage?day=0", wide);
  await shown(page);
  const snacks = await row(page, 306, "snacks port");
  await snacks.locator(".take").focus();
  await page.keyboard.press("Enter");
  await page.waitForSelector(".whereto [data-to]:focus");
  await page.locator(".whereto input").fill("10");
  await page.locator(".whereto input").press("Tab");
  await page.locator('.whereto [data-to]', { hasText: "303 " }).focus();
  await page.waitForSelector(".effects .old");
  const over = await effects(page);
  await page.keyboard.press("ArrowDown");
  await page.waitForFunction((was) => document.querySelector(".effects").textContent !== was, over);
  await page.keyboard.press("Enter");
  await until("a stored try", async () => (await stored()).length === 1);
  const [{ edits }] = await stored();
  assert.equal(edits.length, 2);
  assert.deepEqual([edits[0].was, edits[0].text, edits[1].do], ["40", "30", "insert"]);
  assert.match(edits[1].text, /^snacks port,10,0\.11 kg,304,/);

  await shown(page);
  const foul = await row(page, 306, "foul weather clothes");
  await foul.locator(".take").focus();
  await page.keyboard.press(" ");
  await page.waitForSelector(".whereto");
  await page.keyboard.press("Escape");
  await page.waitForSelector(".whereto", { state: "detached" });
  assert.match(await page.evaluate(() => document.activeElement.getAttribute("aria-label")), /Carry foul weather clothes/);
  await foul.getByRole("button", { name: "Pin foul" }).click();
  await until("pinned", async () => (await stored())[0].edits.some((e) => /pinned$/.test(e.key) && e.text === "yes"));
  await page.waitForSelector('.locker li:has-text("foul weather clothes") [aria-pressed=true]');
  // On the drawing the arrows go from one compartment to the next.
  await locker(page, 100).focus();
  await page.keyboard.press("ArrowRight");
  assert.match(await page.evaluate(() => document.activeElement.getAttribute("aria-label")), /^200 /);
  await page.keyboard.press("Enter");
  assert.equal(await page.textContent(".locker h2"), "200 fore cabin");
  assert.deepEqual(troubles, []);
  await context.close();
});

test("on a phone by night: a finger drags, and taps from a list; nothing moves sideways", async () => {
  const { page, context, troubles } = await open(chrome, server.url + "stowage?day=10&night", phone);
  await shown(page);
  assert.ok((await page.evaluate(() => document.documentElement.scrollWidth)) <= 390, "moves sideways");
  const bags = await row(page, 401, "medical chest");
  await bags.locator(".take").tap();
  await page.locator(".whereto [data-to]", { hasText: "400 " }).tap();
  await page.waitForSelector(".effects .old");
  await page.waitForSelector(".whereto .follows");
  await page.screenshot({ path: join(shots, "stowage-phone-night.png"), fullPage: true });
  assert.equal((await stored()).length, 0);
  await page.getByRole("button", { name: "lay it here" }).tap();
  await until("a stored try", async () => (await stored())[0]?.edits?.length === 1);
  await shown(page);

  // By its dots onto the drawing.
  const tools = await row(page, 305, "sea anchor");
  const grip = tools.locator(".grip");
  await locker(page, 302).evaluate((e) => e.scrollIntoView({ block: "start" }));
  await page.evaluate(() => scrollBy(0, -150));
  const finger = await context.newCDPSession(page);
  const touch = (type, x, y) => finger.send("Input.dispatchTouchEvent", { type, touchPoints: type === "touchEnd" ? [] : [{ x, y }] });
  await page.setViewportSize({ width: 390, height: 1800 });
  await page.waitForTimeout(100);
  const [fx, fy] = await middle(grip);
  const [tx, ty] = await middle(locker(page, 302));
  await touch("touchStart", fx, fy);
  for (let n = 1; n <= 6; n++) await touch("touchMove", fx + (n / 6) * (tx - fx), fy + (n / 6) * (ty - fy));
  await page.waitForSelector(".inhand span");
  await touch("touchEnd");
  await until("the second in the try", async () => (await stored())[0]?.edits?.length === 2);
  assert.equal(await notRed(context, await page.screenshot()), 0);
  assert.deepEqual((await small(page)).filter((s) => !s.startsWith("<a")), []); // a link in a line is as high as the line
  assert.deepEqual(troubles, []);
  await context.close();
});

test("the calendar goes to its day, the lists come as tables and as csv; without a fault for those who cannot see it", async () => {
  const { page, context, troubles } = await open(chrome, server.url + "stowage", wide);
  await shown(page);
  await page.getByRole("button", { name: /^Day 24/ }).click();
  await page.waitForURL(/day=24/);
  assert.match(await page.textContent(".calendar .today"), /Day 24/);
  assert.equal(await page.locator(".calendar td.here").count(), 1);
  await page.locator(".lists .kinds button").last().click();
  await page.waitForSelector(".lists table tbody tr");
  const href = await page.locator(".lists a[download]").getAttribute("href");
  const csv = await fetch(new URL(href, server.url));
  assert.match(csv.headers.get("content-type"), /^text\/csv/);
  assert.ok((await csv.text()).split("\r\n").length > 20);
  for (const look of ["night", "sun", "paper"]) {
    await page.evaluate((look) => (document.documentElement.dataset.look = look), look);
    assert.deepEqual(await axe(page), []);
  }
  await page.emulateMedia({ media: "print" });
  assert.equal(await page.locator(".side:visible").count(), 0);
  assert.deepEqual(troubles, []);
  await context.close();
});
