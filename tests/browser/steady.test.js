// Nothing is lost: the program killed, two windows, a text editor beside.
import assert from "node:assert/strict";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { cut, open, patches, setting, standing } from "./workshop.js";

test("killed in the middle of it, the workshop goes on where it was, undo and all", async (t) => {
  const all = await setting(t);
  const { page, quilts } = all;
  await page.goto(`${all.shop.url}/quilts/harbour-windows/draw/half`);
  await page.locator("#board").waitFor();
  await cut(page, [0, 0], [3, 3]);
  assert.equal(await patches(page), 4);
  await all.shop.kill();
  all.shop = await open(quilts, all.shop.port);
  await page.reload();
  await page.locator("#board").waitFor();
  assert.equal(await patches(page), 4);
  await page.getByRole("button", { name: "Undo", exact: true }).click();
  await page.waitForFunction(() => document.querySelectorAll("#board .patches path").length === 2);
});

test("two windows see one another's changes, and nothing is overwritten unseen", async (t) => {
  const { page, context, shop } = await setting(t);
  const url = `${shop.url}/quilts/harbour-windows/draw/half`;
  await page.goto(url);
  const other = await context.newPage();
  await other.goto(url);
  await other.locator("#board").waitFor();
  await cut(page, [0, 0], [3, 3]);
  await other.waitForFunction(() => document.querySelectorAll("#board .patches path").length === 4);
  // A wish made on what is no longer there is refused, and what is there is shown.
  const told = await other.evaluate(async () => {
    const response = await fetch("/quilts/harbour-windows/wish", {
      method: "POST", headers: { "content-type": "application/json" },
      body: JSON.stringify({ base: "0000000000000000", wish: { do: "set", at: ["quilt", "title"], to: "X" } }),
    });
    return { status: response.status, body: await response.json() };
  });
  assert.equal(told.status, 409);
  assert.equal(told.body.code, "changed-meanwhile");
});

test("a text editor's change is seen at once, and comments stay", async (t) => {
  const { page, shop, quilts } = await setting(t);
  await page.goto(`${shop.url}/quilts/harbour-windows/quilt`);
  await standing(page, "Proved");
  const file = join(quilts, "harbour-windows.quilt.toml");
  const text = readFileSync(file, "utf8");
  writeFileSync(file, text.replace("width = \"2 in\"", "width = \"3 in\""));
  await page.getByText("48 × 48 in finished").waitFor({ timeout: 5000 });
  // A change here keeps the editor's and all comments.
  await page.locator('[data-lay="panes"]').click();
  await page.getByLabel("Row 1, column 2: Window").click();
  await page.getByLabel("Row 1, column 2: Panes").waitFor();
  const after = readFileSync(file, "utf8");
  assert.match(after, /width = "3 in"/);
  for (const line of text.split("\n").filter((line) => line.startsWith("#"))) assert.ok(after.includes(line), line);
  // A file that is broken outside is said to be, with its line, and undo brings it back.
  writeFileSync(file, after.replace("[layout]", "[lay"));
  await standing(page, "cannot be read");
  await page.getByRole("button", { name: "Undo", exact: true }).click();
  await standing(page, "Proved");
  assert.match(readFileSync(file, "utf8"), /\[layout\]/);
});

test("a window that was open hears again once the program was begun anew", async (t) => {
  const all = await setting(t);
  const { page, quilts } = all;
  await page.goto(`${all.shop.url}/quilts/harbour-windows/draw/half`);
  await standing(page, "Proved");
  await all.shop.kill();
  all.shop = await open(quilts, all.shop.port);
  const file = join(quilts, "harbour-windows.quilt.toml");
  writeFileSync(file, readFileSync(file, "utf8").replace(/^(\[\[fabric\]\]\n(?:.*\n)*?color = )"#[0-9a-f]{6}"/m, '$1"#123456"'));
  await page.waitForFunction(() => document.getElementById("cloth").innerHTML.includes("#123456"), undefined, { timeout: 15000 });
});

test("more windows than a browser keeps streams to one server, each hears of its own quilt", async (t) => {
  // RFC 9112 (9.4) lets clients limit their connections to a server; Chromium keeps six of HTTP/1.1.
  const { context, shop } = await setting(t);
  const pages = [];
  for (let i = 0; i < 9; i += 1) {
    const page = await context.newPage();
    await page.goto(`${shop.url}/quilts/harbour-windows/quilt`);
    await standing(page, "Proved");
    pages.push(page);
  }
  await pages[8].evaluate(async () => { await (await import(document.querySelector("script[src$='/wish.js']").src)).ask({ do: "set", at: ["layout", "sashing", "width"], to: "3 in" }); });
  for (const page of pages) await page.waitForFunction((revision) => document.getElementById("work").dataset.revision === revision, await pages[8].evaluate(() => document.getElementById("work").dataset.revision));
});

test("a page of another site hears nothing", async (t) => {
  const { context, shop } = await setting(t);
  const page = await context.newPage();
  await page.goto("about:blank");
  const heard = (url) => page.evaluate((url) => new Promise((resolve) => {
    const ear = new WebSocket(url);
    ear.addEventListener("message", () => resolve("heard"));
    ear.addEventListener("error", () => resolve("refused"));
  }), url);
  assert.equal(await heard(`${shop.url.replace("http", "ws")}/quilts/harbour-windows/events`), "refused");
});
