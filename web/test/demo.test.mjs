// The real program over the invented boats of demo/: whatever the questions
// have to say, the page shows all of it, by day, by night and on a phone.

import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { axe, browser, build, copied, open, phone, repository, serve, settled, shots } from "./page.mjs";

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const long = process.env.THOLE_LONG === "1";
// One boat stands for all in every run; each page of it takes seconds. THOLE_LONG=1 looks at the others too.
const boats = readdirSync(join(repository, "demo"), { withFileTypes: true }).filter((e) => e.isDirectory()).map((e) => e.name).slice(0, long ? undefined : 1);

let binary, chrome;
before(async () => {
  binary = build("./cmd/thole", "thole");
  chrome = await browser();
});
after(() => chrome?.close());

// The first boat in every look, the others in the one that is hardest on it: small, and by night.
const looks = (boat, all) => (boat === boats[0] ? all : all.slice(-1));

for (const boat of boats) {
  test(`every question about ${boat} is shown`, async () => {
    const server = await serve(binary, ["serve", join(repository, "demo", boat), "--no-open", "--port", "0"]);
    try {
      const { questions } = await (await fetch(server.url + "api/boat")).json();
      assert.ok(questions.length > 0);
      for (const [n, { id, title }] of questions.entries()) {
        const asked = await (await fetch(`${server.url}api/ask/${id}?day=0`)).json();
        for (const [look, options] of looks(boat, [["", {}], ["?night", phone]])) {
          if (!look && n % 2 && !long) continue; // the small window is the harder one
          const { page, context, troubles } = await open(chrome, server.url + id + look, options);
          await settled(page);
          await page.waitForTimeout(900);
          assert.equal(await page.textContent("h1"), title);
          assert.equal(await page.textContent(".sentence"), asked.answer.sentence);
          for (const block of asked.sheet.blocks) {
            const heading = Object.values(block)[0].heading;
            if (heading) assert.ok((await page.locator("main").textContent()).includes(heading), heading);
          }
          for (const caution of asked.answer.cautions ?? []) assert.ok(await page.locator("p.caution", { hasText: caution }).first().isVisible(), caution);
          assert.ok((await page.locator(".portrait path").count()) > 5);
          const width = page.viewportSize().width;
          assert.ok((await page.evaluate(() => document.documentElement.scrollWidth)) <= width, "moves sideways");
          await page.evaluate(axeSource);
          const { violations } = await page.evaluate(() => globalThis.axe.run(document, { resultTypes: ["violations"] }));
          assert.deepEqual(violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.target + " " + n.failureSummary).join(" | ")}`), []);
          assert.deepEqual(troubles, []);
          await page.screenshot({ path: join(shots, `${boat}-${id}${look ? "-phone-night" : ""}.png`), fullPage: long });
          await context.close();
        }
      }
    } finally {
      await server.end();
    }
  });
}

for (const boat of boats) {
  test(`what stands beside the questions is shown for ${boat}`, async () => {
    const { folder, remove } = copied(join(repository, "demo", boat));
    const server = await serve(binary, ["serve", folder, "--no-open", "--port", "0"]);
    try {
      const stream = await (await fetch(server.url + "api/levers")).text();
      const events = [...stream.matchAll(/event: (\w+)\ndata: (.*)/g)].map(([, name, data]) => ({ name, data: JSON.parse(data) }));
      const { levers, questions, tightest } = events.find((e) => e.name === "list").data;
      const { order } = events.find((e) => e.name === "end").data;
      const { files } = await (await fetch(server.url + "api/folder")).json();
      const there = {
        levers: (page) => page.waitForFunction(() => /^All \d+ worked out/.test(document.querySelector(".progress")?.textContent ?? ""), null, { timeout: 60_000 }),
        folder: (page) => page.waitForSelector("[data-at]"),
        tries: (page) => page.waitForSelector("text=Nothing is being tried"),
        hand: (page) => page.waitForSelector("main svg"),
      };
      for (const [look, options] of looks(boat, [["", { viewport: { width: 1440, height: 1000 } }], ...(long ? [["?sun", phone]] : []), ["?night", phone]])) {
        for (const [at, waited] of Object.entries(there)) {
          if (at === "levers" && look && !long) continue; // the whole table anew, for the same rows in another colour
          const { page, context, troubles } = await open(chrome, server.url + at + look, options);
          await waited(page);
          await page.waitForTimeout(900);
          if (at === "levers") {
            const moving = await page.$$eval("main tbody:not(.folded) .name", (all) => all.map((n) => n.textContent.replaceAll("\u00a0", " ")));
            const places = moving.map((name) => order.findIndex((i) => levers[i].name === name));
            assert.ok(moving.length > 10 && !places.includes(-1));
            assert.deepEqual(places, [...places].sort((a, b) => a - b), "the rows stand in the server's order");
            const column = questions.findIndex((q) => q.id === tightest);
            const helps = order.map((i) => events.find((e) => e.name === "row" && e.data.lever === i)?.data.cells?.[column]).filter((c) => c?.known).map((c) => c.change);
            assert.ok(helps[0] > 0 && helps[0] === Math.max(...helps), "what helps most where it is tightest stands first");
            const folded = page.locator(".folded .heading button");
            if (await folded.count()) await folded.click();
            assert.equal(await page.locator("tbody .name").count(), levers.length, "every lever has a row");
          }
          if (at === "folder") assert.deepEqual(await page.$$eval("nav.files span", (all) => all.map((s) => s.textContent)), files.map((f) => f.name));
          assert.deepEqual(await axe(page), [], at + look);
          assert.ok((await page.evaluate(() => document.documentElement.scrollWidth)) <= page.viewportSize().width, at + look + " moves sideways");
          assert.deepEqual(troubles, []);
          await page.screenshot({ path: join(shots, `${boat}-${at}${look.replace("?", "-")}.png`) });
          await context.close();
        }
      }
    } finally {
      await server.end();
      remove();
    }
  });
}
