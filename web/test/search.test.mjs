// Offers and searches on a question's page, against a server with an invented boat.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { axe, browser, build, invented, open, settled, until } from "./page.mjs";

let boat, server, chrome;
before(async () => {
  boat = invented(build("./web/test/fake", "fake"), { sound: true });
  server = await boat.start();
  chrome = await browser({ solids: false });
});
after(async () => {
  await chrome?.close();
  await server?.end();
  boat?.remove();
});

const stored = async () => (await (await fetch(server.url + "api/tries")).json()).tries ?? [];

test("an offer is a try away; one that cannot be made says why", async () => {
  const { page, context, troubles } = await open(chrome, server.url + "flood");
  await settled(page);
  await page.getByRole("button", { name: "Try this: a mast left ashore" }).click();
  await page.waitForSelector('.offers [role=alert]:has-text("mast")');
  assert.equal((await stored()).length, 0);
  await page.getByRole("button", { name: "Try this: the flare left ashore" }).click();
  await until("a stored try", async () => (await stored()).some((t) => t.name === "the flare left ashore" && t.edits[0].do === "remove"));
  await page.waitForURL(/try=the\+flare\+left\+ashore/);
  assert.deepEqual(troubles.filter((t) => !/status of 4/.test(t)), []);
  await context.close();
});

test("a search tells the best so far, is stopped, keeps its best for whoever comes back, and its plan is tried", async () => {
  const { page, context, troubles } = await open(chrome, server.url + "stow");
  await settled(page);
  await page.selectOption(".seek select", "60");
  await page.getByRole("button", { name: "Look for a better stowage" }).click();
  await page.waitForFunction(() => /Found [3-9]/.test(document.querySelector(".seek .found")?.textContent ?? ""));
  await page.getByRole("button", { name: /^Stop/ }).click();
  await page.waitForSelector(".seek .offers");
  const best = await page.textContent(".seek .found");
  assert.match(await page.textContent(".seek"), /Stopped before its time/);
  assert.equal(await page.locator(".seek table tbody tr").count(), 1);
  assert.deepEqual(await axe(page), []);

  await page.reload();
  await settled(page);
  await page.selectOption(".seek select", "60");
  await page.getByRole("button", { name: "Look for a better stowage" }).click();
  await page.waitForSelector(".seek .offers");
  assert.equal(await page.textContent(".seek .found"), best);
  await page.getByRole("button", { name: "Try this plan: the flare to 301" }).click();
  await until("a stored try", async () => (await stored()).some((t) => t.name === "the flare to 301" && t.edits[0].text === "301"));
  await page.waitForSelector('.seek :text("another since")');
  assert.deepEqual(troubles, []);
  await context.close();
});
