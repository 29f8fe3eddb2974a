// Trying a change: values of the folder changed on the page, undone, kept in the
// files or dropped; two pages at once; a server that goes and comes back.

import assert from "node:assert/strict";
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { axe, browser, build, invented, notRed, open, phone, shots, small } from "./page.mjs";

let binary, chrome;
before(async () => {
  binary = build("./web/test/fake", "fake");
  chrome = await browser();
});
after(() => chrome?.close());

/** A boat and its server for one test. */
async function afloat(work) {
  const boat = invented(binary, { sound: true });
  let server = await boat.start();
  const stored = async () => (await fetch(server.url + "api/tries")).json();
  // The page shows what it sends; the server has it a little later.
  const will = async (pick, wanted) => {
    for (let n = 0; n < 400; n++) {
      try {
        return assert.deepEqual(pick(await stored()), wanted);
      } catch {
        await new Promise((r) => setTimeout(r, 50));
      }
    }
    assert.deepEqual(pick(await stored()), wanted);
  };
  try {
    await work({
      url: server.url, folder: boat.folder, stored, will,
      text: (file) => readFileSync(join(boat.folder, file), "utf8"),
      stop: () => server.end(),
      again: async () => (server = await boat.start(new URL(server.url).host)),
    });
  } finally {
    await server.end().catch(() => {});
    boat.remove();
  }
}
const value = (page, key) => page.locator(`[data-key="${key}"]`);
const field = (page) => page.getByLabel("What is to stand there");
const bar = (page) => page.locator(".trying");
const many = (page, words) => page.waitForFunction((w) => document.querySelector(".trying .many")?.textContent.trim() === w, words);
const gone = (page) => page.waitForSelector(".trying", { state: "detached" });

/** Changes a value in the folder's text. */
async function change(page, key, to) {
  await value(page, key).click();
  await field(page).fill(to);
  await page.getByRole("button", { name: /^Try it/ }).click();
  await page.waitForFunction((k) => !document.querySelector("form.editor") && document.activeElement?.dataset.key === k, key);
}

test("a value changed is a try: before and after on every page, undone, redone, and kept on its line only", () =>
  afloat(async ({ url, folder, text, will }) => {
    const { page, context, troubles } = await open(chrome, url + "folder");
    await value(page, "weights[0].mass").click();
    assert.equal(await field(page).inputValue(), "420 kg +- 5%");
    assert.match(await page.textContent("form.editor .what"), /^hull and fittings: mass, mass\. \S/, "what the key is for");
    // The fault of what is typed is told at once, with its mend.
    await field(page).fill("450");
    await page.waitForSelector("form.editor .says p");
    assert.match(await page.textContent("form.editor .says"), /unit.*450 kg/s);
    await field(page).fill("420 kg +- 5%");
    await page.getByRole("button", { name: "10 more" }).click();
    await page.getByRole("button", { name: "10 more" }).click();
    await page.getByRole("button", { name: "10 more" }).click();
    assert.equal(await field(page).inputValue(), "450 kg +- 5%");
    await page.keyboard.press("Escape");
    assert.equal(await page.locator("form.editor").count(), 0);
    assert.equal(await bar(page).count(), 0, "what was left is no try");

    const before = text("boat.yaml");
    await change(page, "weights[0].mass", "450 kg +- 5%");
    await many(page, "1 change");
    await page.waitForURL(/try=try\+1/);
    assert.equal(await page.getByLabel("Name of the try").inputValue(), "try 1");
    await page.waitForSelector(".line.changed");
    assert.match(await page.textContent(".line.changed .was"), /was 420 kg \+- 5%/);
    assert.equal(text("boat.yaml"), before, "the file is as it was");

    await page.locator('nav a[href^="/right"]').click();
    await page.waitForFunction(() => /With 30 kg more/.test(document.querySelector(".sentence")?.textContent ?? "") && /Yes, but not for sure/.test(document.querySelector(".former")?.textContent ?? ""));
    assert.match(await page.textContent(".verdict"), /Close\s*→\s*, now\s*Yes/);
    const side = page.locator('nav a[href^="/right"]');
    await page.waitForFunction(() => /close\s*→\s*, now\s*yes/.test(document.querySelector('nav a[href^="/right"] .word')?.textContent ?? ""));
    const [ring, dot] = [await side.locator("circle.was").getAttribute("cx"), await side.locator(".dot").getAttribute("cx")];
    assert.ok(Number(dot) > Number(ring), "the mark after stands further in than the one before");
    await page.waitForFunction(() => document.querySelector('nav a[href^="/right"] .by')?.textContent === "+15\u00a0mm");
    await page.screenshot({ path: join(shots, "tried-right.png") });

    // A value set again is one change still, which is taken back a step at a time.
    await page.goto(url + "folder?try=try+1");
    await change(page, "weights[0].mass", "460 kg");
    await change(page, "weights[0].mass", "470 kg");
    await many(page, "1 change");
    await page.waitForFunction(async () => JSON.stringify((await (await fetch("/api/tries")).json()).tries[0].edits.map((e) => [e.was, e.text])) === '[["420 kg +- 5%","470 kg"]]');
    for (const to of ["460 kg", "450 kg +- 5%"]) {
      await bar(page).getByRole("button", { name: "undo" }).click();
      await page.waitForFunction((to) => document.querySelector('[data-key="weights[0].mass"]')?.textContent === to, to);
    }
    await page.locator('nav a[href^="/right"]').click();
    await page.waitForSelector(".former");

    await bar(page).getByRole("button", { name: "undo" }).click();
    await many(page, "0 changes");
    await page.waitForFunction(() => /^Yes, but not for sure/.test(document.querySelector(".sentence")?.textContent ?? "") && !document.querySelector(".former"));
    await bar(page).getByRole("button", { name: "redo" }).click();
    await many(page, "1 change");
    await page.getByLabel("Name of the try").fill("heavier keel");
    await page.keyboard.press("Enter");
    await page.waitForFunction(() => location.search.includes("try=heavier+keel"));
    await will(({ tries }) => tries.map((t) => t.name), ["heavier keel"]);

    await bar(page).getByRole("button", { name: "keep" }).click();
    await page.waitForSelector("dialog[open] ins");
    assert.match(await page.textContent("dialog del"), /420 kg/);
    assert.match(await page.textContent("dialog ins"), /450 kg/);
    assert.deepEqual(await axe(page), []);
    await page.screenshot({ path: join(shots, "keep.png") });
    await page.getByRole("button", { name: "Write this line" }).click();
    await gone(page);
    await page.waitForSelector("text=“heavier keel” is kept: one line was written");
    const [was, is] = [before.split("\n"), text("boat.yaml").split("\n")];
    assert.equal(is.length, was.length);
    assert.deepEqual(is.filter((l, i) => l !== was[i]), ["  - {what: hull and fittings, mass: 450 kg +- 5%, at: [3.40 m, 0 m, 0.42 m], known: weighed}"]);
    assert.ok(readdirSync(join(folder, "earlier")).length > 0, "the file as it was stands in earlier/");
    await will(({ tries }) => tries, []);
    await page.waitForFunction(() => /With 30 kg more/.test(document.querySelector(".sentence")?.textContent ?? "") && !document.querySelector(".former"));
    assert.deepEqual(troubles, []);
    await context.close();
  }));

test("tries stand side by side; one is dropped, brought back, and made another from", () =>
  afloat(async ({ url, text, will }) => {
    const { page, context, troubles } = await open(chrome, url + "folder");
    const before = text("boat.yaml");
    await change(page, "weights[0].mass", "430 kg");
    await change(page, "weights[0].what", "hull, fittings and paint");
    await many(page, "2 changes");
    await bar(page).getByRole("button", { name: "leave it" }).click();
    await gone(page);
    await page.waitForFunction(() => document.querySelector('[data-key="weights[0].mass"]').textContent === "420 kg +- 5%");
    await change(page, "weights[0].mass", "300 kg");
    await many(page, "1 change");
    await page.locator('nav a[href^="/tries"]').click();
    await page.waitForFunction(() => document.querySelectorAll("main td .figure").length === 6 * 3, null, { timeout: 20_000 });
    assert.deepEqual(await page.$$eval("main thead .name", (all) => all.map((n) => n.textContent)), ["as it stands", "try 1", "try 2"]);
    const cells = await page.locator("main tbody tr", { hasText: "Will she come back up?" }).locator("td").allTextContents();
    assert.match(cells[0], /14 mm ± 17\s*close/);
    assert.match(cells[1], /19 mm ± 17\s*\+5\.0\smm\s*close\s*$/);
    assert.match(cells[2], /[-−]46 mm ± 17\s*−60\smm\s*close → no/);
    const still = await page.locator("main tbody tr", { hasText: "How long will it take?" }).locator("td").allTextContents();
    assert.match(still[1], /9 days ± 4\s*the same\s*yes/);
    assert.equal(await page.locator("main .try").count(), 2);
    await page.screenshot({ path: join(shots, "tries.png"), fullPage: true });

    const second = page.locator("section.try", { hasText: "300 kg" });
    await second.getByRole("button", { name: "make another from it" }).click();
    await page.waitForFunction(() => document.querySelectorAll("section.try").length === 3);
    await bar(page).getByRole("button", { name: "drop" }).click();
    await gone(page);
    await page.waitForFunction(async () => (await (await fetch("/api/tries")).json()).tries.length === 2);
    await will(({ tries }) => tries.map((t) => t.name), ["try 1", "try 2 2"]);
    await page.getByRole("button", { name: "Bring it back" }).click();
    await page.waitForSelector(".trying");
    await page.waitForFunction(async () => (await (await fetch("/api/tries")).json()).tries.length === 3);
    assert.equal(text("boat.yaml"), before);
    await page.emulateMedia({ media: "print" });
    assert.ok(await bar(page).isHidden());
    assert.ok(await page.locator(".printed").first().isVisible());
    await page.setViewportSize({ width: 700, height: 1000 });
    await page.screenshot({ path: join(shots, "tries-printed.png"), fullPage: true });
    assert.deepEqual(troubles, []);
    await context.close();
  }));

test("it is all done by the keyboard alone", () =>
  afloat(async ({ url, text, will }) => {
    const { page, context } = await open(chrome, url + "loft", { reducedMotion: "reduce" });
    await page.waitForSelector("nav a");
    const focus = () => page.evaluate(() => (document.activeElement.getAttribute("aria-label") ?? document.activeElement.textContent).trim());
    const until = async (wanted, key = "Tab", most = 60) => {
      for (let i = 0; i < most; i++) {
        if ((await focus()).startsWith(wanted)) return;
        await page.keyboard.press(key);
      }
      assert.fail(`${key} does not lead to ${wanted}, but to ${await focus()}`);
    };
    await until("Will she come back up?");
    await page.keyboard.press("Enter");
    await page.waitForFunction(() => document.querySelector("h1").textContent === "Will she come back up?");
    await until("The folder", "Shift+Tab"); // the list stands before the answer
    await page.keyboard.press("Enter");
    await page.waitForSelector("[data-at]");
    await until("boat: Whimbrel");
    await until("hull and fittings, mass: 420 kg", "ArrowRight", 40);
    await page.keyboard.press("Enter");
    await page.waitForSelector("form.editor");
    assert.equal(await focus(), "What is to stand there");
    for (let i = 0; i < 4; i++) await page.keyboard.press("Shift+ArrowUp");
    assert.equal(await field(page).inputValue(), "460 kg +- 5%");
    await page.keyboard.press("Enter");
    await many(page, "1 change");
    await page.waitForFunction(() => document.activeElement?.dataset.key === "weights[0].mass");
    await until("What would change it", "Shift+Tab");
    await page.keyboard.press("Enter");
    await page.waitForSelector("tbody button");
    await until("a heavier keel");
    await page.keyboard.press("Enter");
    await page.waitForSelector(".lever ins");
    await until("keep", "Tab", 200);
    await page.keyboard.press("Enter");
    await page.waitForSelector("dialog[open]");
    await until("Write this line");
    await page.keyboard.press("Enter");
    await gone(page);
    assert.match(text("boat.yaml"), /mass: 460 kg/);
    await will(({ tries }) => tries, []);
    await context.close();
  }));

test("two pages on one folder: the later takes the other's tries and does its own again on top", () =>
  afloat(async ({ url, will }) => {
    const one = await open(chrome, url + "folder");
    const two = await open(chrome, url + "folder");
    await change(one.page, "weights[0].mass", "430 kg");
    await many(one.page, "1 change");
    await two.page.waitForFunction(() => document.querySelector(".count")?.textContent.startsWith("1"), null, { timeout: 8000 });
    await two.page.goto(url + "folder?try=try+1");
    await many(two.page, "1 change");
    // While the second page stores, the first is quicker.
    let held = false;
    await two.page.route("**/api/tries", async (route) => {
      if (route.request().method() === "PUT" && !held) {
        held = true;
        await change(one.page, "about", "An invented boat for two.");
        await many(one.page, "2 changes");
      }
      await route.continue();
    });
    await change(two.page, "weights[0].known", "estimated");
    await two.page.waitForSelector("text=Another page changed the tries meanwhile");
    await many(two.page, "3 changes");
    await many(one.page, "3 changes");
    await will(({ tries }) => tries[0].edits.map((e) => e.text), ["430 kg", "An invented boat for two.", "estimated"]);
    // Kept on one page, it is gone from the other, which says so.
    await bar(one.page).getByRole("button", { name: "keep" }).click();
    await one.page.getByRole("button", { name: /^Write th/ }).click();
    await gone(one.page);
    await two.page.waitForSelector("text=There is no try “try 1” any more", { timeout: 8000 });
    await two.page.waitForFunction(() => document.querySelector('[data-key="about"]').textContent === "An invented boat for two.");
    await one.context.close();
    await two.context.close();
  }));

test("what the server cannot be told is kept in the page, and sent when it is back", () =>
  afloat(async ({ url, will, stop, again }) => {
    const { page, context } = await open(chrome, url + "folder");
    await change(page, "weights[0].mass", "430 kg");
    await many(page, "1 change");
    await page.locator('nav a[href^="/levers"]').click();
    await page.waitForSelector("tbody .name");
    await page.locator('nav a[href^="/folder"]').click();
    await value(page, "weights[0].what").waitFor();
    await stop();
    await page.waitForSelector("text=The program does not answer", { timeout: 8000 });
    await change(page, "weights[0].what", "hull and keel");
    await page.waitForFunction(() => /not yet stored/.test(document.querySelector(".trying")?.textContent ?? ""));
    assert.equal(await value(page, "weights[0].what").textContent(), "hull and keel");
    assert.match(await page.textContent(".notice"), /One change is kept in this page and sent when it is back/);
    await page.screenshot({ path: join(shots, "server-gone.png") });
    await again();
    await page.waitForSelector("text=The program does not answer", { state: "detached", timeout: 10_000 });
    await page.waitForFunction(() => !/not yet stored/.test(document.querySelector(".trying")?.textContent ?? ""), null, { timeout: 10_000 });
    await will(({ tries }) => tries[0].edits.map((e) => e.text), ["430 kg", "hull and keel"]);
    await context.close();
  }));

test("what cannot be written is not kept, and says why", () =>
  afloat(async ({ url, folder, text, stored }) => {
    const { page, context } = await open(chrome, url + "folder");
    await change(page, "weights[0].mass", "430 kg");
    await many(page, "1 change");
    const before = text("boat.yaml");
    writeFileSync(join(folder, "earlier"), "a file where the folder for earlier versions goes");
    await bar(page).getByRole("button", { name: "keep" }).click();
    await page.getByRole("button", { name: "Write this line" }).click();
    await page.waitForSelector("dialog .trouble");
    assert.match(await page.textContent("dialog .trouble"), /earlier/);
    assert.equal(text("boat.yaml"), before);
    assert.equal((await stored()).tries.length, 1, "the try is still there");
    await page.getByRole("button", { name: "Not yet" }).click();
    await page.locator("h1").click();
    await page.keyboard.press("Control+z");
    await many(page, "0 changes");
    await page.keyboard.press("Control+Shift+z");
    await many(page, "1 change");
    await context.close();
  }));

test("a file edited outside shows at once, and a try that no longer fits says why", () =>
  afloat(async ({ url, folder, text }) => {
    const { page, context } = await open(chrome, url + "folder");
    await change(page, "weights[0].mass", "430 kg");
    await many(page, "1 change");
    writeFileSync(join(folder, "boat.yaml"), text("boat.yaml").replace("420 kg +- 5%", "421 kg"));
    await page.waitForSelector(".trying .faults", { timeout: 8000 });
    assert.match(await page.textContent(".trying .faults"), /boat\.yaml/);
    await bar(page).getByRole("button", { name: "drop" }).click();
    await page.waitForFunction(() => document.querySelector('[data-key="weights[0].mass"]')?.textContent === "421 kg");
    await context.close();
  }));

test("an address with a try that is not there shows the folder, and says so", () =>
  afloat(async ({ url }) => {
    const { page, context } = await open(chrome, url + "right?try=nothing+of+the+kind");
    await page.waitForSelector(".sentence");
    await page.waitForSelector("text=There is no try “nothing of the kind” any more");
    assert.ok(!page.url().includes("try="));
    await context.close();
  }));

test("the list of what is to be written down leads to the line, and puts in what is not there", () =>
  afloat(async ({ url, will }) => {
    const { page, context } = await open(chrome, url + "folder");
    await page.waitForSelector(".todo li");
    assert.match(await page.textContent(".todo ol"), /where \(rows 14-27\).*stores\.csv.*Where does everything go\?/s);
    await page.locator(".todo details a", { hasText: "water" }).click();
    await page.waitForSelector(".absent");
    assert.match(page.url(), /file=boat\.yaml&key=water/);
    assert.match(await page.textContent(".absent"), /water is not written in boat\.yaml yet/);
    await page.getByRole("button", { name: "Put it in" }).click();
    assert.equal(await field(page).inputValue(), "1025 kg/m3");
    await field(page).fill("1020 kg/m3");
    await page.getByRole("button", { name: /^Try it/ }).click();
    await many(page, "1 change");
    await value(page, "water").waitFor();
    await will(({ tries }) => tries[0].edits.map((e) => [e.file, e.key, e.text]), [["boat.yaml", "water", "1020 kg/m3"]]);
    await page.waitForFunction(() => !/Density of the sea/.test(document.querySelector(".todo").textContent));
    // A link from an answer leads to the very line.
    await page.goto(url + "folder?file=boat.yaml&key=compartments[1].to");
    await page.waitForFunction(() => document.activeElement?.dataset.key === "compartments[1].to");
    await context.close();
  }));

test("from across the shed it is one giant figure, stepped with large targets", () =>
  afloat(async ({ url }) => {
    for (const [name, look, options] of [["wide", "", { viewport: { width: 1440, height: 900 } }], ["night", "&night", { viewport: { width: 1440, height: 900 } }], ["phone", "", phone]]) {
      const { page, context, troubles } = await open(chrome, `${url}float?shed${look}`, options);
      await page.waitForFunction(() => document.querySelector(".shed .figure")?.textContent === "212 mm");
      const figure = await page.locator(".shed .figure").evaluate((f) => ({ size: Number.parseFloat(getComputedStyle(f).fontSize), ...f.getBoundingClientRect().toJSON() }));
      // A letter's height of 1/200 of the distance is read with ease (common practice, no source): 10 mm at 2 m.
      assert.ok(figure.size * 0.7 > 38, `${figure.size} is too small to be read from 2 m`);
      assert.ok(figure.right <= page.viewportSize().width, "the figure runs off the screen");
      // 20 mm at 96 dots an inch are 76.
      const targets = await page.$$eval(".shed button", (all) => all.map((b) => b.getBoundingClientRect()).filter((b) => b.width < 76 || b.height < 76).length);
      assert.equal(targets, 0);
      assert.deepEqual(await axe(page), []);
      await page.screenshot({ path: join(shots, `shed-${name}.png`) });
      await page.keyboard.press("ArrowRight");
      await page.waitForFunction(() => /Day 1/.test(document.querySelector(".shed .day").textContent) && location.search.includes("day=1"));
      await page.keyboard.press("ArrowDown");
      await page.waitForFunction(() => /come back up/.test(document.querySelector(".shed h1").textContent) && /14 mm/.test(document.querySelector(".shed .figure").textContent));
      await page.keyboard.press("Escape");
      await page.waitForSelector(".sentence");
      assert.ok(!page.url().includes("shed"));
      assert.deepEqual(troubles, []);
      await context.close();
    }
  }));

test("units are switched in one place, remembered in the address, and asked of the server", () =>
  afloat(async ({ url }) => {
    const { page, context } = await open(chrome, url + "float");
    await page.waitForSelector(".sentence");
    const asked = page.waitForRequest((r) => r.url().includes("/api/ask/float") && r.url().includes("units=feet"));
    await page.getByRole("button", { name: "feet" }).click();
    await asked;
    assert.match(page.url(), /units=feet/);
    assert.match(await page.locator('nav a[href^="/folder"]').getAttribute("href"), /units=feet/);
    await page.reload();
    assert.equal(await page.getByRole("button", { name: "feet" }).getAttribute("aria-pressed"), "true");
    await page.getByRole("button", { name: "metric" }).click();
    await page.waitForFunction(() => !location.search.includes("units"));
    await context.close();
  }));

test("the pages beside the questions have no fault for axe and fit every screen, in every look", () =>
  afloat(async ({ url }) => {
    const made = await open(chrome, url + "folder");
    await change(made.page, "weights[0].mass", "430 kg");
    await many(made.page, "1 change");
    await made.context.close();
    const windows = [{ viewport: { width: 1440, height: 1000 } }, phone, { ...phone, viewport: { width: 320, height: 700 } }];
    for (const [n, look] of ["paper", "night", "sun"].entries()) {
      // Each window once, each look once; all of them with THOLE_LONG=1.
      for (const options of process.env.THOLE_LONG === "1" ? windows : [windows[n]]) {
        for (const at of ["tries", "folder", "right"]) {
          const { page, context, troubles } = await open(chrome, `${url}${at}?try=try+1&${look}`, options);
          await page.waitForSelector(at === "tries" ? "main .try" : at === "folder" ? "[data-at]" : ".former");
          await page.waitForTimeout(500);
          const { width } = page.viewportSize();
          if (at === "folder") await value(page, "weights[0].mass").click();
          assert.deepEqual(await axe(page), [], `${at} ${look} ${width}`);
          assert.ok((await page.evaluate(() => document.documentElement.scrollWidth)) <= width, `${at} moves sideways at ${width}`);
          if (options.isMobile && at !== "right") assert.deepEqual(await small(page), [], `${at} at ${width}`);
          assert.deepEqual(troubles, []);
          if (width !== 320) await page.screenshot({ path: join(shots, `${at}-${look}-${width}.png`) });
          await context.close();
        }
      }
    }
  }));

test("by night the pages beside the questions are red on black only", () =>
  afloat(async ({ url }) => {
    const { page, context } = await open(chrome, url + "folder?night");
    await change(page, "weights[0].mass", "430 kg");
    await many(page, "1 change");
    await value(page, "weights[0].mass").click();
    for (const at of ["folder", "tries"]) {
      if (at === "tries") await page.locator('nav a[href^="/tries"]').click();
      await page.waitForTimeout(800);
      const shot = await page.screenshot();
      const cold = await notRed(context, shot);
      assert.equal(cold, 0, `points on ${at} that are not red`);
    }
    await context.close();
  }));
