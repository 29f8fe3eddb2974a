// What a person does goes before what the page asks by itself, however long the
// answers take: a browser opens six connections to one server, and no more.

import assert from "node:assert/strict";
import { createServer, request } from "node:http";
import { after, before, test } from "node:test";
import { browser, build, invented, open, until } from "./page.mjs";

let chrome, boat, server;
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

/** Stands before the server. What is slow is taken in and not answered; the rest is passed on. */
async function slow(is) {
  const held = new Set();
  const passed = [];
  const proxy = createServer((asked, reply) => {
    const what = `${asked.method} ${asked.url}`;
    if (is(what)) {
      const one = { what };
      held.add(one);
      reply.on("close", () => held.delete(one));
      return;
    }
    passed.push(what);
    const to = new URL(server.url);
    const { origin, ...headers } = asked.headers; // it names the proxy, and the server answers to itself alone
    asked.pipe(request({ host: to.hostname, port: to.port, path: asked.url, method: asked.method, headers: { ...headers, host: to.host, ...(origin ? { origin: to.origin } : {}) } }, (got) => {
      reply.writeHead(got.statusCode, got.headers);
      got.pipe(reply);
    }));
  });
  await new Promise((done) => proxy.listen(0, "127.0.0.1", done));
  return {
    url: `http://127.0.0.1:${proxy.address().port}/`, held, passed,
    end: () => new Promise((done) => {
      proxy.close(done);
      proxy.closeAllConnections();
    }),
  };
}

const tries = async () => (await fetch(server.url + "api/tries")).json();

test("a deed is stored while every answer is being worked out", async () => {
  const edits = (await (await fetch(server.url + "api/folder")).json()).files
    .flatMap((f) => f.values ?? []).filter((v) => v.file === "boat.yaml" && v.key === "weights[0].mass")
    .map((v) => ({ file: v.file, key: v.key, was: v.text, text: "450 kg +- 5%" }));
  assert.equal(edits.length, 1);
  const put = await fetch(server.url + "api/tries", { method: "PUT", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ version: (await tries()).version, tries: [{ name: "heavier", edits }] }) });
  assert.equal(put.status, 200);

  // The one question of the page, the try's days, all its pictures and streams: nothing comes back.
  const busy = await slow((what) => /^GET \/api\/(ask|answers|portrait|boat\?.*try=)/.test(what));
  const { page, context } = await open(chrome, busy.url + "right?try=heavier");
  await page.waitForSelector(".trying");
  await page.waitForTimeout(1200); // by then it has asked all that it wants at first, and how far that is
  assert.ok(busy.held.size >= 3, [...busy.held].map((h) => h.what).join("\n"));
  const asked = busy.held.size;
  await page.getByRole("button", { name: /^undo/i }).click();
  // Not 40 s, as for what hangs on answers: this hangs on none.
  const began = Date.now();
  while ((await tries()).tries[0].edits.length > 0 && Date.now() - began < 8000) await new Promise((r) => setTimeout(r, 50));
  assert.deepEqual((await tries()).tries[0].edits, [], `with ${asked} answers awaited the deed did not come through: ${busy.passed.filter((p) => p.startsWith("PUT"))}`);
  // And what nobody waits for any more is given up.
  await until("the try's answers to be given up", () => ![...busy.held].some((h) => /try=/.test(h.what)));
  await context.close();
  await busy.end();
});
