// What every test of the page needs: a built server, a browser, a page that
// fails the test when anything goes wrong inside it.

import assert from "node:assert/strict";
import { execFileSync, spawn } from "node:child_process";
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";

const here = dirname(fileURLToPath(import.meta.url));
export const repository = join(here, "..", "..");
export const shots = join(here, "shots");
mkdirSync(shots, { recursive: true });

const flags = [
  "--no-sandbox", "--disable-quic", "--no-first-run", "--disable-background-networking",
  "--disable-component-update", "--disable-sync",
];
const picture = ["--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"];

/** Builds a Go command once. */
export function build(pkg, name) {
  const out = join(mkdtempSync(join(tmpdir(), "thole-")), name);
  execFileSync("go", ["build", "-o", out, pkg], { cwd: repository, stdio: "inherit" });
  return out;
}

/** Starts a server and waits for the address that it prints. */
export async function serve(command, args) {
  const child = spawn(command, args, { stdio: ["ignore", "pipe", "inherit"] });
  const url = await new Promise((done, failed) => {
    let text = "";
    child.stdout.on("data", (more) => {
      text += more;
      const found = /https?:\/\/[^\s]+/.exec(text);
      if (found) done(found[0].endsWith("/") ? found[0] : found[0] + "/");
    });
    child.on("exit", (code) => failed(new Error(`the server ended with ${code}: ${text}`)));
  });
  const end = () =>
    new Promise((done) => {
      child.once("exit", done);
      child.kill("SIGINT");
    });
  return { url, end };
}

/** A copy of a folder, free to be changed. */
export function copied(from) {
  const folder = mkdtempSync(join(tmpdir(), "thole-boat-"));
  cpSync(from, folder, { recursive: true });
  return { folder, remove: () => rmSync(folder, { recursive: true, force: true }) };
}

/** The invented boat on a server of its own; sound leaves out the question that fails. */
export function invented(binary, { sound = false } = {}) {
  const { folder, remove } = copied(join(here, "fake", "boat"));
  const start = async (addr = "127.0.0.1:0") => ({ folder, ...(await serve(binary, ["-folder", folder, "-addr", addr, ...(sound ? ["-sound"] : [])])) });
  return { folder, start, remove };
}

export function browser({ solids = true } = {}) {
  return chromium.launch({
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
    args: [...flags, ...(solids ? picture : ["--disable-gpu", "--disable-3d-apis"])],
  });
}

/** A fresh page; troubles gathers whatever its console and network complain of. */
export async function open(launched, url, options = {}) {
  const context = await launched.newContext({ viewport: { width: 1280, height: 900 }, ...options });
  const page = await context.newPage();
  const troubles = [];
  const own = new URL(url).origin;
  page.on("pageerror", (e) => troubles.push(String(e)));
  page.on("console", (m) => {
    // The invented question that fails answers 500, which the browser logs.
    if (m.type() === "error" && !/status of 5\d\d/.test(m.text())) troubles.push(m.text());
  });
  page.on("request", (r) => {
    if (new URL(r.url()).origin !== own) troubles.push("loaded from elsewhere: " + r.url());
  });
  await page.goto(url);
  return { page, context, troubles };
}

/** Waits until the answer shown is of the moment in the address. */
export async function settled(page) {
  await page.waitForSelector("main[aria-busy=false] .sentence, main[aria-busy=false] .trouble");
}

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** What axe finds wrong with the page. */
export async function axe(page) {
  await page.evaluate(axeSource);
  const { violations } = await page.evaluate(() => globalThis.axe.run(document, { resultTypes: ["violations"] }));
  return violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.target + " " + n.failureSummary).join(" | ")}`);
}

/** What is touched and smaller than a finger, 12 mm at 96 dots an inch less what rounding takes. */
export function small(page) {
  return page.$$eval("button, nav a, input:not([type=range]), select, summary, main a", (all) =>
    all
      .filter((e) => e.checkVisibility() && !e.closest("footer"))
      .map((e) => ({ e: e.outerHTML.slice(0, 90), ...e.getBoundingClientRect().toJSON() }))
      .filter((b) => b.height > 1 && (b.height < 43.9 || b.width < 43.9))
      .map((b) => `${b.e} ${b.width}x${b.height}`));
}

export const phone = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, deviceScaleFactor: 2 };

/** How many points of a picture are not red or black. It is looked at in a page that has no policy of its own. */
export async function notRed(context, shot) {
  const judge = await context.newPage();
  const found = await judge.evaluate(async (data) => {
    const image = await createImageBitmap(await (await fetch("data:image/png;base64," + data)).blob());
    const canvas = new OffscreenCanvas(image.width, image.height);
    const draw = canvas.getContext("2d");
    draw.drawImage(image, 0, 0);
    const px = draw.getImageData(0, 0, image.width, image.height).data;
    let cold = 0;
    for (let i = 0; i < px.length; i += 4) if (px[i + 1] > px[i] * 0.45 + 6 || px[i + 2] > px[i] * 0.45 + 6) cold++;
    return cold;
  }, shot.toString("base64"));
  await judge.close();
  return found;
}

/** Waits until something holds. A machine with other work is given its time: there a try waits behind the answers of the whole boat. */
export async function until(what, holds) {
  for (let n = 0; n < 800; n++) {
    if (await holds()) return;
    await new Promise((r) => setTimeout(r, 50));
  }
  assert.fail("never came: " + what);
}
