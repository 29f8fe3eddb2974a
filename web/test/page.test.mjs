// The page against a server with an invented boat: every verdict, every kind of
// block, a question that fails and one that is slow.

import assert from "node:assert/strict";
import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { axe, browser, build, invented, open, settled, shots } from "./page.mjs";

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

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

const kinds = {
  text: ".text p", figures: ".figures dl dd", table: "table tbody tr", chart: "figure svg .curve",
  field: ".mapped .contour", matrix: "[role=grid] td.tight",
  drawing: "figure .picture path", map: ".chartlet path.tone", solid: ".hand canvas", warning: "p.caution", sources: "ol li cite",
};

test("every question has a page, with its sentence, its margin and its cautions", async () => {
  const { page, context, troubles } = await open(chrome, server.url);
  await settled(page);
  const questions = await page.$$eval("nav a:has(.state)", (all) => all.map((a) => ({ href: a.getAttribute("href"), title: a.querySelector(".title").textContent })));
  assert.equal(questions.length, 7);
  for (const { href, title } of questions) {
    await page.goto(new URL(href, server.url).href);
    await settled(page);
    assert.equal(await page.textContent("h1"), title);
    assert.match(await page.title(), new RegExp(title.replace("?", "\\?")));
    if (href.startsWith("/today")) {
      assert.match(await page.textContent(".trouble"), /log\.db: the log was begun by a newer program/);
      continue;
    }
    assert.ok((await page.textContent(".sentence")).length > 20);
    assert.equal(await page.locator(".margin .mark .limit").count(), 1);
    // At least as large as running text, and in sight without opening anything.
    const caution = page.locator("p.caution").first();
    assert.ok(await caution.isVisible());
    assert.ok((await caution.evaluate((e) => Number.parseFloat(getComputedStyle(e).fontSize))) >= 16);
    await page.screenshot({ path: join(shots, `question${href.split("?")[0].replaceAll("/", "-")}.png`), fullPage: true });
  }
  assert.deepEqual(troubles, []);
  await context.close();
});

test("an answer that takes its time says how far it is", async () => {
  const { page, context, troubles } = await open(chrome, server.url + "stow?day=17");
  await page.waitForSelector('progress[aria-label="How far the answer is"]', { timeout: 5000 });
  const words = await page.textContent("main .waiting");
  const [, done, of] = /Being worked out … (\d+) of (\d+)/.exec(words ?? "") ?? [];
  assert.equal(of, "12", words ?? "");
  assert.ok(Number(done) < 12, words ?? "");
  assert.deepEqual(await axe(page), []);
  await settled(page);
  await page.waitForSelector("progress", { state: "detached" });
  assert.match(await page.textContent(".sentence"), /It cannot be told/);
  assert.deepEqual(troubles, []);
  await context.close();
});

test("every kind of block is drawn", async () => {
  const { page, context, troubles } = await open(chrome, server.url + "right?day=61");
  await settled(page);
  const { sheet } = await (await page.request.get(server.url + "api/ask/right?day=61")).json();
  const types = readFileSync(new URL("../src/lib/types.ts", import.meta.url), "utf8");
  const known = [.../export interface Block \{([^}]*)\}/.exec(types)[1].matchAll(/(\w+)\?:/g)].map((m) => m[1]);
  assert.deepEqual(known.sort(), Object.keys(kinds).sort(), "a kind of block has no check here");
  assert.deepEqual([...new Set(sheet.blocks.flatMap((b) => Object.keys(b)))].sort(), known.sort(), "the fixture lacks a kind");
  for (const [kind, where] of Object.entries(kinds)) assert.ok((await page.locator("main " + where).count()) > 0, kind);
  // The solid's picture is not empty: its canvas has more than one colour.
  await page.waitForFunction(() => {
    const canvas = document.querySelector(".hand canvas");
    const copy = document.createElement("canvas");
    copy.width = canvas.width;
    copy.height = canvas.height;
    const draw = copy.getContext("2d");
    draw.drawImage(canvas, 0, 0);
    const seen = new Set(new Uint32Array(draw.getImageData(0, 0, copy.width, copy.height).data.buffer));
    return seen.size > 20;
  });
  assert.deepEqual(troubles, []);
  await context.close();
});

test("the marks down the side stand where the margins are", async () => {
  const { page, context } = await open(chrome, server.url + "loft");
  await settled(page);
  const state = (id) => page.locator(`nav a[href^="/${id}"]`);
  await page.waitForFunction(() => [...document.querySelectorAll("nav .word")].every((w) => w.textContent !== "being worked out"));
  const place = async (id) => {
    const mark = state(id).locator(".mark");
    const limit = Number(await mark.locator(".limit").getAttribute("x1"));
    const dot = Number(await mark.locator(".dot").getAttribute("cx"));
    const bar = mark.locator(".spread");
    const ends = (await bar.count()) ? [Number(await bar.getAttribute("x1")), Number(await bar.getAttribute("x2"))] : [];
    return { dot: Math.sign(dot - limit), ends: ends.map((e) => Math.sign(e - limit)), hollow: (await mark.locator(".hollow").count()) === 1 };
  };
  assert.deepEqual(await place("float"), { dot: 1, ends: [1, 1], hollow: false }, "it holds");
  assert.deepEqual(await place("right"), { dot: 1, ends: [-1, 1], hollow: false }, "close");
  assert.deepEqual(await place("flood"), { dot: -1, ends: [-1, -1], hollow: false }, "short");
  assert.deepEqual(await place("stow"), { dot: 0, ends: [], hollow: true }, "cannot tell");
  const words = await page.$$eval("nav .word", (all) => all.map((w) => w.textContent));
  assert.deepEqual(words, ["yes", "yes", "close", "no", "cannot tell", "yes", "not answered"]);
  await page.goto(server.url + "stow");
  await settled(page);
  assert.match(await page.textContent(".needs"), /stores\.csv: where/);
  await context.close();
});

test("the slider moves the drawing, the figures and the address", async () => {
  const { page, context, troubles } = await open(chrome, server.url + "right?day=10");
  await settled(page);
  const portrait = () => page.$$eval(".portrait path", (all) => all.map((p) => p.getAttribute("d")).join());
  const displacement = () => page.locator(".figures dl > div", { hasText: "Displacement" }).locator(".value").textContent();
  const before = { portrait: await portrait(), mass: await displacement() };
  const box = await page.locator("input[type=range]").boundingBox();
  await page.mouse.move(box.x + 22 + ((box.width - 44) * 10) / 80, box.y + 24);
  await page.mouse.down();
  for (let day = 10; day <= 61; day += 3) await page.mouse.move(box.x + 22 + ((box.width - 44) * day) / 80, box.y + 24);
  await page.mouse.move(box.x + 22 + ((box.width - 44) * 61) / 80, box.y + 24);
  await page.mouse.up();
  await settled(page);
  await page.waitForFunction((was) => document.querySelector("main").textContent.includes("day 61") && was !== [...document.querySelectorAll(".portrait path")].map((p) => p.getAttribute("d")).join(), before.portrait);
  assert.match(page.url(), /\/right\?day=61$/);
  assert.notEqual(await displacement(), before.mass);
  assert.match(await page.textContent(".now"), /Day 61.*of 80.*14 March 2027/s);

  await page.getByLabel("in the cabin", { exact: true }).check();
  await settled(page);
  assert.match(page.url(), /day=61&at=in\+the\+cabin/);
  await page.reload();
  await settled(page);
  assert.match(await page.textContent("main"), /day 61, the crew in the cabin/);
  assert.match(await page.textContent(".margin"), /here it is tightest/);

  await page.locator('nav a[href^="/float"]').click();
  await settled(page);
  assert.match(page.url(), /\/float\?day=61&at=in/);
  await page.goBack();
  await settled(page);
  assert.equal(await page.textContent("h1"), "Will she come back up?");
  assert.deepEqual(troubles, []);
  await context.close();
});

test("an address that makes no sense is brought within the folder", async () => {
  const { page, context } = await open(chrome, server.url + "right?day=4000&at=on the roof");
  await settled(page);
  assert.match(await page.textContent("main"), /day 80, the crew at the oars/);
  await context.close();
});

test("the chart is read by pointer and by keyboard, in words", async () => {
  const { page, context } = await open(chrome, server.url + "right?day=0");
  await settled(page);
  const { sheet } = await (await page.request.get(server.url + "api/ask/right?day=0")).json();
  const curve = sheet.blocks.find((b) => b.chart).chart.series[0];
  const readout = page.locator(".readout").first();
  const field = page.locator("rect.field").first();
  await field.scrollIntoViewIfNeeded();
  const box = await field.boundingBox();
  await page.mouse.move(box.x + box.width / 2, box.y + 60); // half of 0 to 180
  const at90 = Math.round(curve.y[curve.x.indexOf(90)]);
  assert.match(await readout.textContent(), new RegExp(`90° heel.*day 0, at the oars ${at90}.mm.*least arm asked for 20.mm`, "s"));

  await readout.focus();
  await page.keyboard.press("Home");
  await page.keyboard.press("ArrowRight");
  const at5 = Math.round(curve.y[1]);
  assert.match(await readout.getAttribute("aria-valuetext"), new RegExp(`^heel 5°: day 0, at the oars ${at5}.mm; day 0 ${at5}.mm`));
  assert.equal(await readout.getAttribute("aria-valuenow"), "5");
  await page.keyboard.press("End");
  assert.match(await readout.getAttribute("aria-valuetext"), /^heel 180°/);
  await context.close();
});

test("a drawing gives the names of its parts by finger and by keyboard", async () => {
  const { page, context } = await open(chrome, server.url + "right", { hasTouch: true });
  await settled(page);
  const parts = page.locator("main .parts").first();
  const body = page.locator("main .picture path.role-body").first();
  await body.scrollIntoViewIfNeeded();
  const box = await body.boundingBox();
  await page.touchscreen.tap(box.x + box.width * 0.4, box.y + box.height * 0.6);
  assert.equal((await parts.textContent()).trim(), "the hull at station 5");
  await parts.focus();
  await page.keyboard.press("End");
  assert.equal(await parts.getAttribute("aria-valuetext"), "centre of gravity");
  await context.close();
});

test("the map shows all days or the slider's, is made larger by keys, buttons and hands, and is told in words", async () => {
  const { page, context, troubles } = await open(chrome, server.url + "right?day=0");
  await settled(page);
  const { sheet } = await (await page.request.get(server.url + "api/ask/right?day=0")).json();
  const map = sheet.blocks.find((b) => b.map).map;
  const figure = page.locator("figure:has(.chartlet)");
  const tones = () => figure.locator("path.tone").evaluateAll((all) => all.map((p) => p.getAttribute("d")).join());
  const boat = (name) => figure.locator(`[data-boat="${name}"]`);
  const whole = await tones();
  assert.equal(await figure.getByRole("button", { name: "all days" }).getAttribute("aria-pressed"), "true");
  await page.locator("input[type=range]").focus();
  for (let i = 0; i < 3; i++) await page.keyboard.press("PageUp");
  await settled(page);
  const day = Number(new URL(page.url()).searchParams.get("day"));
  assert.ok(day > 10, "the slider did not move");
  assert.notEqual(await tones(), whole, "the boxes are still those of all days");
  const on = map.days.findLast((d) => d.day <= day);
  assert.equal((await figure.locator(".said").textContent()).trim(), `Day ${on.day}: ${on.said}`);
  // A boat stands where its track is on that day, both axes alike.
  const frame = await figure.locator(".ground").boundingBox();
  const track = map.tracks[0];
  const at = await boat(track.name).boundingBox();
  const [x, y] = track.points[day - track.first];
  const k = frame.width / (map.max_x - map.min_x);
  assert.ok(Math.abs(at.x + at.width / 2 - frame.x - (x - map.min_x) * k) < 1.5 && Math.abs(at.y + at.height / 2 - frame.y - (map.max_y - y) * k) < 1.5, JSON.stringify(at));
  await figure.getByRole("button", { name: "all days" }).click();
  assert.equal(await tones(), whole);

  // Keys and buttons; the wheel alone is left to the page.
  const scale = () => figure.locator("g[clip-path] > g").getAttribute("transform");
  const hold = figure.locator(".hold");
  await hold.scrollIntoViewIfNeeded();
  const rest = await scale();
  const box = await hold.boundingBox();
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await page.mouse.wheel(0, -60);
  assert.equal(await scale(), rest);
  await hold.focus();
  await page.keyboard.press("+");
  assert.match(await scale(), /scale\(1\.5\)/);
  const before = await scale();
  await page.keyboard.press("ArrowRight");
  assert.notEqual(await scale(), before);
  await page.keyboard.press("0");
  assert.equal(await scale(), rest);
  await figure.getByRole("button", { name: "Larger", exact: true }).click();
  const larger = await scale();
  const held = await hold.boundingBox(); // where it is now: it may have been scrolled to
  await page.mouse.move(held.x + held.width / 2, held.y + held.height / 2);
  await page.mouse.down();
  await page.mouse.move(held.x + held.width / 2 + 60, held.y + held.height / 2 + 10, { steps: 4 });
  await page.mouse.up();
  assert.notEqual(await scale(), larger);
  await figure.getByRole("button", { name: "whole" }).click();
  assert.equal(await scale(), rest);
  await figure.locator("summary").click();
  assert.equal(await figure.locator("tbody tr").count(), map.days.length);
  assert.match(await figure.locator("svg[role=img]").first().getAttribute("aria-label"), /Cape Rowan/);
  assert.deepEqual(troubles, []);
  await context.close();
});

test("no words run out of a map or a drawing on the smallest phone, or lie on each other", async () => {
  const { page, context } = await open(chrome, server.url + "right?day=30", { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true });
  await settled(page);
  await page.waitForTimeout(600);
  const found = await page.$$eval("main .picture > svg, main .chartlet > svg", (all) => all.flatMap((svg) => {
    const frame = svg.getBoundingClientRect();
    const words = [...svg.querySelectorAll("text")].map((t) => ({ t: t.textContent, b: t.getBoundingClientRect() }));
    const out = words.filter(({ b }) => b.left < frame.left - 1 || b.right > frame.right + 1 || b.top < frame.top - 4 || b.bottom > frame.bottom + 4).map((w) => "out: " + w.t);
    const on = words.flatMap((a, i) => words.slice(i + 1).filter(({ b }) => a.b.left < b.right - 1 && a.b.right > b.left + 1 && a.b.top < b.bottom - 5 && a.b.bottom > b.top + 5).map((o) => `${a.t} on ${o.t}`));
    return [...out, ...on];
  }));
  assert.deepEqual(found, []);
  assert.ok((await page.locator(".chartlet text", { hasText: "Cape Rowan" }).count()) === 1);
  // Two fingers make it larger; what is under one finger is told.
  const hold = page.locator(".hold");
  await hold.scrollIntoViewIfNeeded();
  const box = await hold.boundingBox();
  const touch = await context.newCDPSession(page);
  const fingers = (type, apart) => touch.send("Input.dispatchTouchEvent", { type, touchPoints: apart === null ? [] : [-1, 1].map((side, id) => ({ x: box.x + box.width / 2 + side * apart, y: box.y + box.height / 2, id })) });
  await fingers("touchStart", 20);
  for (const apart of [30, 40, 50]) await fingers("touchMove", apart);
  await fingers("touchEnd", null);
  assert.match(await page.locator(".chartlet g[clip-path] > g").getAttribute("transform"), /scale\(2\.\d/);
  await page.locator("figure:has(.chartlet)").getByRole("button", { name: "whole" }).tap();
  await hold.tap({ position: { x: box.width * (62 - 42) / 46, y: box.height * (28 - 14) / 24 } });
  assert.match(await page.locator("figure:has(.chartlet) .said").textContent(), /^(Here: .* in 100|Here: \d|late)/);
  await context.close();
});

test("a solid turns by finger and keyboard, and is told in words without the means", async () => {
  const { page, context } = await open(chrome, server.url + "right");
  await settled(page);
  const hand = page.locator(".hand");
  await hand.scrollIntoViewIfNeeded();
  await page.waitForTimeout(600);
  const looks = async () => (await page.locator(".hand canvas").screenshot()).toString("base64");
  const first = await looks();
  await hand.focus();
  for (let i = 0; i < 4; i++) await page.keyboard.press("ArrowRight");
  await page.waitForTimeout(200);
  const turned = await looks();
  assert.notEqual(turned, first);
  const box = await hand.boundingBox();
  await page.mouse.move(box.x + 200, box.y + 100);
  await page.mouse.down();
  await page.mouse.move(box.x + 320, box.y + 140, { steps: 4 });
  await page.mouse.up();
  await page.waitForTimeout(200);
  assert.notEqual(await looks(), turned);
  await context.close();

  const without = await browser({ solids: false });
  const plain = await open(without, server.url + "right");
  await settled(plain.page);
  const told = plain.page.locator("figure .alt", { hasText: "cannot show it turning" });
  assert.match(await told.textContent(), /The hull lying on her side at 148 degrees/);
  await without.close();
});

test("what turns solids is not fetched for a sheet without one", async () => {
  const { page, context } = await open(chrome, server.url + "float");
  const fetched = [];
  page.on("request", (r) => fetched.push(r.url()));
  await page.reload();
  await settled(page);
  assert.ok(fetched.some((u) => u.includes("/assets/index")));
  assert.ok(!fetched.some((u) => u.includes("solid")));
  await context.close();
});

for (const [look, address] of [["paper", "right?day=61"], ["night", "right?day=61&night"], ["sun", "right?day=61&sun"]]) {
  test(`no fault is found by axe, on ${look}`, async () => {
    const { page, context } = await open(chrome, server.url + address);
    await settled(page);
    await page.waitForTimeout(900);
    await page.evaluate(axeSource);
    for (const at of [null, "flood", "stow"]) {
      if (at) {
        await page.locator(`nav a[href^="/${at}?"]`).click();
        await settled(page);
        await page.waitForTimeout(500);
      }
      const { violations } = await page.evaluate(() => globalThis.axe.run(document, { resultTypes: ["violations"] }));
      assert.deepEqual(violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.target + " " + n.failureSummary).join(" | ")}`), []);
    }
    await context.close();
  });
}

test("by night there is only red on black, it is remembered, and nothing flashes white", async () => {
  const { page, context } = await open(chrome, server.url + "right?day=61");
  await settled(page);
  await page.getByRole("button", { name: "night" }).click();
  await page.goto(server.url + "right?day=61");
  assert.equal(await page.evaluate(() => document.documentElement.dataset.look), "night");
  await settled(page);
  await page.waitForTimeout(900);
  const shot = await page.screenshot({ path: join(shots, "night.png"), fullPage: true });
  // The picture is looked at in a page that has no policy of its own.
  const judge = await context.newPage();
  const seen = await judge.evaluate(async (data) => {
    const image = await createImageBitmap(await (await fetch("data:image/png;base64," + data)).blob());
    const canvas = new OffscreenCanvas(image.width, image.height);
    const draw = canvas.getContext("2d");
    draw.drawImage(image, 0, 0);
    const px = draw.getImageData(0, 0, image.width, image.height).data;
    let cold = 0, brightest = 0;
    for (let i = 0; i < px.length; i += 4) {
      if (px[i + 1] > px[i] * 0.45 + 6 || px[i + 2] > px[i] * 0.45 + 6) cold++;
      brightest = Math.max(brightest, 0.2126 * (px[i] / 255) ** 2.2 + 0.7152 * (px[i + 1] / 255) ** 2.2 + 0.0722 * (px[i + 2] / 255) ** 2.2);
    }
    return { cold, brightest };
  }, shot.toString("base64"));
  assert.equal(seen.cold, 0, "points that are not red");
  assert.ok(seen.brightest < 0.36, `the brightest point shines with ${seen.brightest} of white`);
  await context.close();
});

test("on a phone it is one column that does not move sideways, with targets for a finger", async () => {
  const { page, context, troubles } = await open(chrome, server.url + "right?day=61", { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, deviceScaleFactor: 2 });
  await settled(page);
  await page.waitForTimeout(900);
  for (const at of ["right", "float", "flood", "stow", "loft"]) {
    await page.goto(server.url + at + "?day=61");
    await settled(page);
    assert.ok((await page.evaluate(() => document.documentElement.scrollWidth)) <= 390, at + " moves sideways");
    await page.screenshot({ path: join(shots, `phone-${at}.png`), fullPage: true });
  }
  const order = await page.evaluate(() => [".portrait", ".days", "nav", ".sentence", ".margin", ".blocks", ".working", ".cautions"].map((s) => document.querySelector(s).getBoundingClientRect().top));
  assert.deepEqual(order, [...order].sort((a, b) => a - b));
  await page.locator("nav button.all").tap();
  const small = await page.$$eval("button, nav a, input, select, .readout, label", (all) =>
    all.filter((e) => e.checkVisibility()).map((e) => ({ e: e.outerHTML.slice(0, 80), ...e.getBoundingClientRect().toJSON() })).filter((b) => b.height < 43.9 || b.width < 43.9).map((b) => `${b.e} ${b.width}x${b.height}`));
  assert.deepEqual(small, []);
  await page.screenshot({ path: join(shots, "phone-list.png") });
  await page.locator('nav a[href^="/float"]').tap();
  await settled(page);
  assert.equal(await page.textContent("h1"), "Will she float on her marks?");
  assert.ok(await page.locator("#questions").isHidden());
  assert.deepEqual(troubles, []);
  await context.close();
});

test("printed, it is the one question, black on white", async () => {
  const { page, context } = await open(chrome, server.url + "right?day=61&night");
  await settled(page);
  await page.waitForTimeout(600);
  await page.emulateMedia({ media: "print" });
  assert.ok(await page.locator("nav").isHidden());
  assert.ok(await page.locator("input[type=range]").isHidden());
  assert.ok(await page.locator(".moment").isVisible());
  assert.match(await page.textContent(".moment"), /Whimbrel · day 61 · 14 March 2027 · at the oars/);
  assert.equal(await page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor), "rgb(255, 255, 255)");
  assert.equal(await page.locator(".sentence").evaluate((e) => getComputedStyle(e).color), "rgb(0, 0, 0)");
  for (const picture of ["figure svg[role=img]", ".portrait svg", ".rule svg"]) {
    assert.equal(await page.locator(picture).first().evaluate((e) => getComputedStyle(e).maxWidth), "100%", picture + " would be cut off by a narrower sheet");
  }
  await page.pdf({ path: join(shots, "printed.pdf"), format: "A4" });
  await page.setViewportSize({ width: 700, height: 1000 });
  await page.screenshot({ path: join(shots, "printed.png"), fullPage: true });
  await context.close();
});

test("it is worked by the keyboard alone", async () => {
  const { page, context } = await open(chrome, server.url + "loft", { reducedMotion: "reduce" });
  await settled(page);
  const focus = () => page.evaluate(() => (document.activeElement.getAttribute("aria-label") ?? document.activeElement.textContent).trim());
  const until = async (wanted) => {
    for (let i = 0; i < 40; i++) {
      await page.keyboard.press("Tab");
      if ((await focus()).startsWith(wanted)) return;
    }
    assert.fail(`Tab does not lead to ${wanted}`);
  };
  await page.keyboard.press("Tab");
  assert.equal(await focus(), "Skip to the answer");
  await until("Day of the trip");
  for (let i = 0; i < 3; i++) await page.keyboard.press("ArrowRight");
  await settled(page);
  assert.match(page.url(), /day=3/);
  assert.match(await page.getAttribute("input[type=range]", "aria-valuetext"), /^day 3 of 80, 15 January 2027/);
  await until("Will she come back up?");
  await page.keyboard.press("Enter");
  await settled(page);
  assert.equal(await page.textContent("h1"), "Will she come back up?");
  assert.equal(await focus(), "Will she come back up?");
  await until("Read the curve along heel");
  await page.keyboard.press("ArrowRight");
  assert.match(await page.locator(":focus").getAttribute("aria-valuetext"), /^heel 0°/);
  await page.waitForFunction(() => document.querySelector("[role=status]").textContent.startsWith("Day 3. close. Yes, but not for sure"));
  await context.close();
});

test("a folder that goes bad leaves the old answers, marked, with the faults; mended, it is taken up", async () => {
  const { page, context } = await open(chrome, server.url + "right?day=61");
  await settled(page);
  const file = join(boat.folder, "boat.yaml");
  const good = readFileSync(file, "utf8");
  try {
    writeFileSync(file, good.replace("420 kg +- 5%", "420"));
    await page.waitForSelector(".faults", { timeout: 6000 });
    assert.match(await page.textContent(".faults"), /What is shown below is old/);
    assert.match(await page.textContent(".faults li code"), /^boat\.yaml:\d+:\d+$/);
    assert.match(await page.textContent(".faults li"), /kg/);
    assert.ok(await page.locator(".sentence").isVisible());
    await page.screenshot({ path: join(shots, "faults.png") });
  } finally {
    writeFileSync(file, good.replace("boat: Whimbrel", "boat: Whimbrel II"));
  }
  await page.waitForSelector(".faults", { state: "detached", timeout: 6000 });
  await page.waitForFunction(() => document.querySelector(".boat").textContent === "Whimbrel II");
  await context.close();
});

test("when the server goes the page says so, and comes back by itself", async () => {
  const other = invented(binary);
  let running = await other.start();
  const { page, context } = await open(chrome, running.url + "right?day=5");
  await settled(page);
  const port = new URL(running.url).port;
  await running.end();
  await page.waitForSelector("text=The program does not answer", { timeout: 8000 });
  assert.ok(await page.locator(".sentence").isVisible());
  running = await other.start("127.0.0.1:" + port);
  await page.waitForSelector("text=The program does not answer", { state: "detached", timeout: 8000 });
  await page.keyboard.press("Tab");
  await page.locator("input[type=range]").focus();
  await page.keyboard.press("ArrowRight");
  await page.waitForFunction(() => document.querySelector("main").textContent.includes("for day 6"));
  await context.close();
  await running.end();
  other.remove();
});
