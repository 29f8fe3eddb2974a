// Parts to cut: the list under an answer, the close look at a drawing, and the
// view that is read from across the shed.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { browser, build, invented, open, settled, shots } from "./page.mjs";

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const tablet = { viewport: { width: 1024, height: 768 }, hasTouch: true };
const phone = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, deviceScaleFactor: 2 };

let binary, boat, server, chrome;
before(async () => {
  binary = build("./web/test/fake", "fake");
  boat = invented(binary);
  server = await boat.start();
  chrome = await browser();
});
after(async () => {
  await chrome?.close();
  await server?.end();
  boat?.remove();
});

const part = async (page, name) => (await page.request.get(server.url + "api/patterns/loft/" + name)).json();
const at = (page) => page.locator(".field svg g").getAttribute("transform");
const large = async (page) => Number(/scale\(([\d.]+)\)/.exec(await at(page))[1]);
const shown = (page) => page.waitForSelector(".close svg g");
const onWall = (page) => page.waitForSelector(".wall .bar");

async function faults(page) {
  await page.evaluate(axeSource);
  const { violations } = await page.evaluate(() => globalThis.axe.run(document, { resultTypes: ["violations"] }));
  return violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.target + " " + n.failureSummary).join(" | ")}`);
}

/** Two fingers that move apart from the middle of a box. */
async function pinch(page, box, from, to) {
  const cdp = await page.context().newCDPSession(page);
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  const points = (apart) => [{ x: x - apart / 2, y, id: 1 }, { x: x + apart / 2, y, id: 2 }];
  await cdp.send("Input.dispatchTouchEvent", { type: "touchStart", touchPoints: points(from) });
  for (let i = 1; i <= 6; i++) await cdp.send("Input.dispatchTouchEvent", { type: "touchMove", touchPoints: points(from + ((to - from) * i) / 6) });
  await cdp.send("Input.dispatchTouchEvent", { type: "touchEnd", touchPoints: [] });
}

/** One finger drawn over the screen. */
async function drag(page, from, to) {
  const cdp = await page.context().newCDPSession(page);
  await cdp.send("Input.dispatchTouchEvent", { type: "touchStart", touchPoints: [{ x: from[0], y: from[1] }] });
  for (let i = 1; i <= 8; i++) {
    await cdp.send("Input.dispatchTouchEvent", { type: "touchMove", touchPoints: [{ x: from[0] + ((to[0] - from[0]) * i) / 8, y: from[1] + ((to[1] - from[1]) * i) / 8 }] });
    await page.waitForTimeout(16);
  }
  await cdp.send("Input.dispatchTouchEvent", { type: "touchEnd", touchPoints: [] });
}

test("an answer lists its parts, each with an address of its own and a way back", async () => {
  const { page, context, troubles } = await open(chrome, server.url + "loft?day=3");
  await settled(page);
  const listed = await (await page.request.get(server.url + "api/patterns/loft")).json();
  const links = page.locator(".list a");
  assert.equal(await links.count(), listed.length);
  for (const [i, p] of listed.entries()) {
    const words = (await links.nth(i).textContent()).replaceAll("\u00a0", " ");
    for (const said of [p.title, p.size, ...(p.thick ? [p.thick + " thick", `cut ${p.count}`] : [])]) assert.ok(words.includes(said), `${words} lacks ${said}`);
  }
  await links.nth(1).click();
  await shown(page);
  assert.equal(page.url(), server.url + "loft/parts/mould-01?day=3");
  assert.equal(await page.evaluate(() => scrollY), 0);
  assert.match(await page.title(), /^Mould 1, 2\.040 m aft of station 0 · Whimbrel/);
  assert.equal(await page.locator(".points tbody tr").count(), 19);
  await page.reload();
  await shown(page);
  await page.locator("a[rel=next]").click();
  await page.waitForFunction(() => document.querySelector("h1").textContent.startsWith("Mould 2"));
  await page.goBack();
  await page.waitForFunction(() => document.querySelector("h1").textContent.startsWith("Mould 1"));
  await page.locator("a.home").click();
  await settled(page);
  assert.equal(page.url(), server.url + "loft?day=3");
  await page.goto(server.url + "float");
  await settled(page);
  assert.equal(await page.locator(".list").count(), 0, "a question without parts has no list");
  assert.deepEqual(troubles, []);
  await page.goto(server.url + "loft/parts/mould-99");
  await page.waitForSelector(".trouble");
  assert.match(await page.textContent(".trouble"), /no part "mould-99".*mould-01/);
  await context.close();
});

test("a part is looked at closely by wheel, keyboard and buttons, and gives its names", async () => {
  const { page, context, troubles } = await open(chrome, server.url + "loft/parts/mould-02");
  await shown(page);
  const field = page.locator(".field");
  const box = await field.boundingBox();
  const middle = [box.x + box.width / 2, box.y + box.height / 2];
  await page.mouse.move(...middle);
  await page.mouse.wheel(0, 200);
  await page.waitForFunction(() => scrollY > 0);
  assert.equal(await large(page), 1, "untouched, it leaves the wheel to the page");
  await page.evaluate(() => scrollTo(0, 0));

  await page.mouse.click(...middle);
  const before = await page.evaluate(() => scrollY);
  await page.mouse.wheel(0, -600);
  await page.waitForFunction(() => !document.querySelector(".field g").getAttribute("transform").includes("scale(1)"));
  const near = await large(page);
  assert.ok(near > 2 && near < 6, `${near} times`);
  assert.equal(await page.evaluate(() => scrollY), before);
  const held = await at(page);
  await page.mouse.move(...middle);
  await page.mouse.down();
  await page.mouse.move(middle[0] + 80, middle[1] + 30, { steps: 4 });
  await page.mouse.up();
  assert.notEqual(await at(page), held, "it moves under the mouse");

  await field.focus();
  await page.keyboard.press("0");
  assert.equal(await large(page), 1);
  await page.keyboard.press("+");
  await page.keyboard.press("+");
  assert.ok((await large(page)) > 1.9);
  const still = await at(page);
  await page.keyboard.press("ArrowRight");
  assert.notEqual(await at(page), still);
  await page.keyboard.press("-");
  await page.keyboard.press("-");
  assert.equal(await at(page).then((t) => t.startsWith("translate(0 0) scale(1)")), true, await at(page));
  await page.getByRole("button", { name: "Larger" }).click();
  assert.ok((await large(page)) > 1.5);
  await page.getByRole("button", { name: "whole" }).click();
  assert.equal(await large(page), 1);

  const { shown: points } = await part(page, "mould-02");
  const names = page.locator(".close .parts");
  await names.focus();
  await page.keyboard.press("End");
  assert.equal(await names.getAttribute("aria-valuetext"), `sheer: across ${points[18].across}, up ${points[18].up} mm, bevel ${points[18].bevel}`);
  await page.keyboard.press("Home");
  assert.equal(await names.getAttribute("aria-valuetext"), "set-up line");
  const roles = await page.$$eval(".field g path", (all) => all.map((p) => p.getAttribute("class").split(" ")[0]));
  assert.deepEqual(roles, ["role-main", "role-skin"]);
  await page.screenshot({ path: join(shots, "part.png") });
  assert.deepEqual(troubles, []);
  await context.close();
});

test("on a phone one finger scrolls past the drawing, two make it larger, and after a touch one moves it", async () => {
  const { page, context, troubles } = await open(chrome, server.url + "loft/parts/mould-02", phone);
  await shown(page);
  assert.ok((await page.evaluate(() => document.documentElement.scrollWidth)) <= 390);
  const box = await page.locator(".field").boundingBox();
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await drag(page, [x, y + 60], [x, y - 140]);
  await page.waitForFunction(() => scrollY > 60);
  assert.equal(await large(page), 1);
  await page.evaluate(() => scrollTo(0, 0));
  await page.reload(); // which ends what is left of the swing
  await shown(page);
  await page.waitForFunction(() => scrollY === 0);
  await pinch(page, box, 80, 240);
  const near = await large(page);
  assert.ok(near > 2.4 && near < 3.6, `${near} times, for fingers three times as far apart`);
  // The plotted points stand on the line; touched, they give what is to be plotted.
  const line = page.locator(".field path.role-skin");
  assert.equal(await line.getAttribute("vector-effect"), "non-scaling-stroke");
  await page.touchscreen.tap(x, y);
  await page.waitForSelector(".field.taken");
  const held = await at(page);
  const scrolled = await page.evaluate(() => scrollY);
  await drag(page, [x, y], [x + 40, y - 60]);
  assert.notEqual(await at(page), held, "taken, it moves under one finger");
  assert.equal(await page.evaluate(() => scrollY), scrolled, "and the page does not");
  await page.screenshot({ path: join(shots, "phone-part.png"), fullPage: true });
  assert.deepEqual(troubles, []);
  await context.close();
});

test("every drawing of an answer opens large, and the way back closes it", async () => {
  const { page, context, troubles } = await open(chrome, server.url + "loft", phone);
  await settled(page);
  await page.getByRole("button", { name: "Look closely: Body plan" }).tap();
  await shown(page);
  const dialog = page.locator("dialog[open]");
  const box = await dialog.locator(".field").boundingBox();
  assert.ok(box.height > 600, `the drawing has ${box.height} points of 844`);
  await pinch(page, box, 80, 200);
  assert.ok((await large(page)) > 2);
  assert.deepEqual(await faults(page), []);
  await page.screenshot({ path: join(shots, "phone-close-look.png") });
  await page.goBack();
  await dialog.waitFor({ state: "detached" });
  assert.equal(page.url(), server.url + "loft");
  await page.getByRole("button", { name: "Look closely: Body plan" }).tap();
  await dialog.getByRole("button", { name: "close" }).tap();
  await dialog.waitFor({ state: "detached" });
  assert.equal(await page.textContent("h1"), "What shape do I cut?");
  assert.deepEqual(troubles, []);
  await context.close();
});

test("on a tablet the wall view is read from afar and turned by buttons, keys and swipes", async () => {
  const { page, context, troubles } = await open(chrome, server.url + "loft/parts/mould-01", tablet);
  await shown(page);
  await page.getByRole("link", { name: "Read it from across the shed" }).tap();
  await onWall(page);
  assert.equal(page.url(), server.url + "loft/parts/mould-01/wall");
  const { shown: points, pattern, checks } = await part(page, "mould-01");
  const words = (await page.locator(".wall .what").textContent()).replaceAll("\u00a0", " ");
  for (const said of [pattern.face, "18 mm", ...pattern.notes, ...checks]) assert.ok(words.includes(said), `${words} lacks ${said}`);
  assert.ok((await page.locator("h1").evaluate((e) => Number.parseFloat(getComputedStyle(e).fontSize))) >= 48);

  await page.getByRole("button", { name: "On", exact: true }).tap();
  await page.waitForSelector(".row .digits");
  const read = () => page.$$eval("button.row", (rows) => rows.map((r) => [...r.children].map((c) => c.textContent)));
  const first = await read();
  assert.ok(first.length >= 4, `only ${first.length} points fit`);
  assert.deepEqual(first, points.slice(0, first.length).map((p) => [p.name, p.across, p.up, p.bevel]));
  for (const size of await page.$$eval(".digits", (all) => all.map((e) => Number.parseFloat(getComputedStyle(e).fontSize)))) assert.ok(size >= 96, `digits of ${size} points`);
  const names = await page.$$eval(".row .name", (all) => all.map((e) => Number.parseFloat(getComputedStyle(e).fontSize)));
  assert.ok(Math.min(...names) >= 48, `names of ${names} points`);
  // Nothing lies over anything else, and nothing reaches out of the screen.
  for (const row of await page.$$eval("button.row", (rows) => rows.map((r) => [...r.children].map((c) => {
    const range = document.createRange();
    range.selectNodeContents(c);
    const b = range.getBoundingClientRect();
    return [b.left, b.right];
  })))) for (const [i, [left, right]] of row.entries()) assert.ok(right <= 1024 && (i === 0 || left >= row[i - 1][1]), JSON.stringify(row));
  const targets = await page.$$eval(".bar button", (all) => all.filter((e) => e.checkVisibility()).map((e) => e.getBoundingClientRect().toJSON()));
  for (const b of targets) assert.ok(b.width >= 126 && b.height >= 126, "a target under 20 mm at 160 points to the inch");
  assert.equal(await page.locator("header .looks, footer, .portrait, nav").count(), 0, "something else is on the screen");

  assert.match(page.url(), /wall\?point=1$/);
  await page.keyboard.press("ArrowRight");
  assert.equal((await read())[0][0], points[first.length].name);
  await page.keyboard.press("ArrowLeft");
  assert.deepEqual(await read(), first);
  await drag(page, [800, 300], [400, 310]);
  await page.waitForFunction((n) => document.querySelector(".row .name").textContent === n, points[first.length].name);
  await page.reload();
  await page.waitForSelector(".row .digits");
  assert.equal((await read())[0][0], points[first.length].name, "loaded again, it is where it was");
  await drag(page, [400, 300], [800, 310]);
  await page.waitForFunction(() => document.querySelector(".row .name").textContent === "keel");

  // One alone is larger still. The press comes right after a swipe, which
  // browsers would take for a part of it, and slips as a glove does.
  const pressed = await page.locator("button.row").nth(2).boundingBox();
  await drag(page, [pressed.x + 300, pressed.y + 50], [pressed.x + 318, pressed.y + 62]);
  await page.waitForSelector(".one .digits");
  assert.ok((await page.locator(".one .digits").first().evaluate((e) => Number.parseFloat(getComputedStyle(e).fontSize))) > 140);
  assert.deepEqual(await page.locator(".one .digits").allTextContents(), [points[2].across, points[2].up, points[2].bevel]);
  assert.match(page.url(), /point=3&alone/);
  await page.screenshot({ path: join(shots, "wall-alone.png") });
  await page.keyboard.press("ArrowRight");
  assert.deepEqual(await page.locator(".one .digits").allTextContents(), [points[3].across, points[3].up, points[3].bevel]);

  // Past the last point comes the next part; the keys and buttons for parts go there at once.
  await page.goto(server.url + "loft/parts/mould-01/wall?point=19");
  await page.waitForSelector(".row .digits");
  assert.equal((await read()).at(-1)[0], "sheer");
  await page.getByRole("button", { name: "On", exact: true }).tap();
  await page.waitForFunction(() => document.querySelector("h1").textContent.startsWith("Mould 2"));
  await page.keyboard.press("PageDown");
  await page.waitForFunction(() => document.querySelector("h1").textContent === "Knee");
  assert.match(await page.textContent(".what"), /No points are listed/);
  assert.ok(await page.getByRole("button", { name: "On", exact: true }).isHidden(), "there is nothing after the last part");
  await page.keyboard.press("PageUp");
  await page.keyboard.press("PageUp");
  await page.waitForFunction(() => document.querySelector("h1").textContent.startsWith("Mould 1"));
  await page.keyboard.press("Escape");
  await shown(page);
  assert.equal(page.url(), server.url + "loft/parts/mould-01");
  assert.deepEqual(troubles, []);
  await context.close();
});

test("on a phone the wall view shows a point at a time, as large as fits, upright and on its side", async () => {
  for (const [name, options] of [["upright", phone], ["side", { ...phone, viewport: { width: 844, height: 390 } }]]) {
    const { page, context, troubles } = await open(chrome, server.url + "loft/parts/mould-02/wall?point=12", options);
    await page.waitForSelector(".one .digits");
    await page.waitForTimeout(300);
    const size = await page.locator(".one .digits").first().evaluate((e) => Number.parseFloat(getComputedStyle(e).fontSize));
    assert.ok(size >= (name === "upright" ? 96 : 72), `${name}: digits of ${size} points`);
    const { width, height } = page.viewportSize();
    assert.ok((await page.evaluate(() => document.documentElement.scrollWidth)) <= width);
    for (const b of await page.$$eval(".one .digits, .bar button", (all) => all.filter((e) => e.checkVisibility()).map((e) => e.getBoundingClientRect().toJSON()))) {
      assert.ok(b.left >= 0 && b.right <= width + 1 && b.bottom <= height + 1, `${name}: ${JSON.stringify(b)} reaches out of the screen`);
    }
    const here = (await part(page, "mould-02")).shown;
    assert.deepEqual(await page.locator(".one .digits").allTextContents(), [here[11].across, here[11].up, here[11].bevel]);
    await drag(page, [width * 0.7, height * 0.4], [width * 0.3, height * 0.4]);
    await page.waitForFunction((n) => document.querySelector(".name").textContent.startsWith(n), here[12].name);
    await page.screenshot({ path: join(shots, `wall-phone-${name}.png`) });
    assert.deepEqual(troubles, []);
    await context.close();
  }
});

test("the wall view keeps the screen lit where that can be done, and works where it cannot", async () => {
  const context = await chrome.newContext(tablet);
  await context.addInitScript(() => {
    globalThis.lit = 0;
    Object.defineProperty(navigator, "wakeLock", { configurable: true, value: { request: async () => (globalThis.lit++, { release: async () => void globalThis.lit-- }) } });
  });
  const page = await context.newPage();
  await page.goto(server.url + "loft/parts/mould-01/wall");
  await onWall(page);
  await page.waitForFunction(() => globalThis.lit === 1);
  await page.keyboard.press("Escape");
  await page.waitForFunction(() => globalThis.lit === 0);
  await context.close();
  for (const refuse of ["delete Navigator.prototype.wakeLock", "Object.defineProperty(navigator, 'wakeLock', { value: { request: () => Promise.reject(new Error('no')) } })"]) {
    const without = await chrome.newContext(tablet);
    await without.addInitScript(refuse);
    const plain = await without.newPage();
    const troubles = [];
    plain.on("pageerror", (e) => troubles.push(String(e)));
    await plain.goto(server.url + "loft/parts/mould-01/wall");
    await onWall(plain);
    await plain.keyboard.press("ArrowRight");
    await plain.waitForSelector(".row .digits");
    assert.deepEqual(troubles, []);
    await without.close();
  }
});

for (const look of ["paper", "night", "sun"]) {
  test(`axe finds no fault with parts and the wall, on ${look}`, async () => {
    for (const options of [tablet, phone]) {
      const { page, context } = await open(chrome, server.url + `loft/parts/mould-01?${look}`, options);
      await shown(page);
      assert.deepEqual(await faults(page), []);
      for (const address of ["wall", "wall?point=5", "wall?point=5&alone"]) {
        await page.goto(server.url + `loft/parts/mould-01/${address}${address.includes("?") ? "&" : "?"}${look}`);
        await onWall(page);
        await page.waitForTimeout(200);
        assert.deepEqual(await faults(page), []);
        assert.ok((await page.evaluate(() => document.documentElement.scrollWidth)) <= page.viewportSize().width, "moves sideways");
        await page.screenshot({ path: join(shots, `wall-${look}-${page.viewportSize().width}-${address.replace(/\W/g, "-")}.png`) });
      }
      await context.close();
    }
  });
}

test("a table too wide for its frame moves inside it, its first column staying; printed, all of it is there", async () => {
  const { page, context } = await open(chrome, server.url + "right?day=61", phone);
  await settled(page);
  const frame = page.locator(".table .frame").first();
  await frame.scrollIntoViewIfNeeded();
  const left = () => frame.locator("tbody th").first().evaluate((e) => e.getBoundingClientRect().left);
  assert.ok(await frame.evaluate((e) => e.scrollWidth > e.clientWidth), "the table is not too wide for this test");
  const before = await left();
  await frame.evaluate((e) => (e.scrollLeft = 90));
  assert.equal(await left(), before);
  assert.ok((await page.evaluate(() => document.documentElement.scrollWidth)) <= 390);
  await context.close();

  // The width of A4 between margins of 15 mm.
  const sheet = await open(chrome, server.url + "loft", { viewport: { width: 680, height: 960 } });
  await settled(sheet.page);
  await sheet.page.emulateMedia({ media: "print" });
  for (const table of await sheet.page.locator(".table table").all()) {
    assert.ok((await table.evaluate((e) => e.getBoundingClientRect().right)) <= 681, "a table is cut off by the sheet");
  }
  assert.ok((await sheet.page.locator(".table").count()) > 0);
  await sheet.context.close();
});
