// The workshop, opened for a test on a folder of its own, in a real browser.
import { spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";

const program = process.env.SCANTLING ?? join(dirname(fileURLToPath(import.meta.url)), "../../target/release/scantling");
const browserPath = process.env.CHROMIUM ?? "/usr/bin/chromium";

/** Opens the workshop of a folder; `port` 0 takes a free one. */
export async function open(folder, port = 0) {
  const child = spawn(program, ["open", folder, "--port", String(port), "--no-browser"], { stdio: ["ignore", "pipe", "inherit"] });
  const url = await new Promise((resolve, reject) => {
    let said = "";
    child.stdout.on("data", (bytes) => {
      said += bytes;
      const found = /http:\/\/127\.0\.0\.1:\d+/.exec(said);
      if (found) resolve(found[0]);
    });
    child.on("exit", (code) => reject(new Error(`the program ended (${code}): ${said}`)));
  });
  const ended = new Promise((resolve) => child.on("exit", resolve));
  return { url, pid: child.pid, port: Number(url.split(":").at(-1)), kill: async () => { child.kill("SIGKILL"); await ended; } };
}

/** A folder that is gone after the test, with the workshop open on it and a browser. */
export async function setting(t, options = {}) {
  const folder = mkdtempSync(join(tmpdir(), "workshop-"));
  const quilts = join(folder, "quilts");
  const shop = await open(quilts);
  const browser = await chromium.launch({ executablePath: browserPath, args: ["--no-sandbox"] });
  const context = await browser.newContext({ viewport: { width: 1366, height: 900 }, ...options });
  const page = await context.newPage();
  const wrong = [];
  page.on("pageerror", (error) => wrong.push(error.message));
  page.on("console", (message) => { if (message.type() === "error" && !/status of 4\d\d/.test(message.text()) && !/ERR_/.test(message.text())) wrong.push(message.text()); });
  const outside = [];
  page.on("request", (request) => { if (!/^(http:\/\/127\.0\.0\.1:|data:|blob:|about:)/.test(request.url())) outside.push(request.url()); });
  const all = { folder, quilts, shop, browser, context, page, wrong, outside };
  t.after(async () => {
    await browser.close();
    await all.shop.kill();
    rmSync(folder, { recursive: true });
  });
  return all;
}

/** Waits until the standing says so. */
export const standing = (page, words, timeout = 15000) =>
  page.locator("#standing", { hasText: words }).waitFor({ timeout });

/** Presses on the cloth, in inches from the block's top left corner. */
export async function press(page, x, y) {
  await page.locator("#board").scrollIntoViewIfNeeded();
  const at = await page.evaluate(([x, y]) => {
    const svg = document.getElementById("board");
    const p = new DOMPoint(x, y).matrixTransform(svg.getScreenCTM());
    return { x: p.x, y: p.y };
  }, [x, y]);
  await page.mouse.move(at.x, at.y);
  await page.mouse.down();
  await page.mouse.up();
  await page.waitForTimeout(120);
}

/** Cuts from one place to another. */
export async function cut(page, from, to) {
  const before = await patches(page);
  await press(page, ...from);
  await press(page, ...to);
  await page.waitForFunction((n) => document.querySelectorAll("#board .patches path").length > n, before, { timeout: 5000 });
}

/** How many patches are drawn. */
export const patches = (page) => page.locator("#board .patches path").count();
