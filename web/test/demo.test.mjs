// The real program over the invented boats of demo/: whatever the questions
// have to say, the page shows all of it, by day, by night and on a phone.

import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { browser, build, open, repository, serve, settled, shots } from "./page.mjs";

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const boats = readdirSync(join(repository, "demo"), { withFileTypes: true }).filter((e) => e.isDirectory()).map((e) => e.name);

let binary, chrome;
before(async () => {
  binary = build("./cmd/thole", "thole");
  chrome = await browser();
});
after(() => chrome?.close());

for (const boat of boats) {
  test(`every question about ${boat} is shown`, async () => {
    const server = await serve(binary, ["serve", join(repository, "demo", boat), "--no-open", "--port", "0"]);
    try {
      const { questions } = await (await fetch(server.url + "api/boat")).json();
      assert.ok(questions.length > 0);
      for (const { id, title } of questions) {
        const asked = await (await fetch(`${server.url}api/ask/${id}?day=0`)).json();
        for (const [look, options] of [["", {}], ["?night", { viewport: { width: 390, height: 844 }, isMobile: true, hasTouch: true }]]) {
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
          await page.screenshot({ path: join(shots, `${boat}-${id}${look ? "-phone-night" : ""}.png`), fullPage: true });
          await context.close();
        }
      }
    } finally {
      await server.end();
    }
  });
}
