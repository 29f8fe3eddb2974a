// What every test of the page needs: a built server, a browser, a page that
// fails the test when anything goes wrong inside it.

import { execFileSync, spawn } from "node:child_process";
import { cpSync, mkdirSync, mkdtempSync, rmSync } from "node:fs";
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

/** The invented boat on a server of its own, its folder free to be changed. */
export function invented(binary) {
  const folder = mkdtempSync(join(tmpdir(), "thole-boat-"));
  cpSync(join(here, "fake", "boat"), folder, { recursive: true });
  const start = async (addr = "127.0.0.1:0") => ({ folder, ...(await serve(binary, ["-folder", folder, "-addr", addr])) });
  return { folder, start, remove: () => rmSync(folder, { recursive: true, force: true }) };
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
