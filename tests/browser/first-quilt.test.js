// A first quilt from blank, as someone makes it who knows nothing.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { cut, patches, press, setting, standing } from "./workshop.js";

test("a quilt is drawn, laid, bordered, proved, changed and handed out", async (t) => {
  const { page, shop, quilts, folder, wrong, outside } = await setting(t);
  await page.goto(shop.url);
  await page.getByRole("heading", { name: "Your quilts" }).waitFor();
  assert.ok(await page.getByRole("link", { name: "Lantern Harbour" }).isVisible());

  await page.getByLabel("Name", { exact: true }).fill("first-quilt");
  await page.getByRole("button", { name: "Begin" }).click();
  await page.getByRole("link", { name: "Draw", exact: true }).click();
  await page.locator("#board").waitFor();
  assert.equal(await patches(page), 1);

  // A block of four kinds of patch: two squares, a triangle pair, a rectangle.
  await cut(page, [0, 6], [12, 6]);
  await cut(page, [6, 0], [6, 6]);
  await cut(page, [0, 6], [6, 0]);
  await cut(page, [3, 6], [3, 12]);
  assert.equal(await patches(page), 5);
  const dress = async (label, at) => {
    await page.getByRole("radio", { name: label }).click();
    await press(page, ...at);
  };
  await dress("Dark", [1, 1]);
  await dress("Accent", [1, 9]);
  await page.waitForFunction(() => new Set([...document.querySelectorAll("#board .patches path")].map((p) => p.getAttribute("fill"))).size === 3);

  // Undone and done again.
  await page.getByRole("button", { name: "Undo", exact: true }).click();
  await page.waitForFunction(() => new Set([...document.querySelectorAll("#board .patches path")].map((p) => p.getAttribute("fill"))).size === 2);
  await page.getByRole("button", { name: "Redo", exact: true }).click();
  await page.waitForFunction(() => new Set([...document.querySelectorAll("#board .patches path")].map((p) => p.getAttribute("fill"))).size === 3);

  // Three across, four down, with sashing and a border.
  await page.getByRole("link", { name: "Quilt", exact: true }).click();
  await page.getByLabel("Across").fill("3");
  await page.getByLabel("Down").fill("4");
  await page.getByRole("button", { name: "Set", exact: true }).click();
  await page.waitForFunction(() => document.querySelectorAll("#cells button").length === 12);
  await page.getByRole("button", { name: "Fill, turning" }).click();
  await page.getByRole("gridcell", { name: /Row 1, column 2: First, turned 90/ }).or(page.getByLabel(/Row 1, column 2: First, turned 90/)).first().waitFor();
  await page.getByRole("button", { name: "Add sashing" }).click();
  await page.getByRole("button", { name: "Take the sashing away" }).waitFor();
  await page.locator("summary", { hasText: "Borders" }).click();
  await page.getByRole("button", { name: "Add a border" }).click();
  await page.getByText("Border 1").waitFor();
  await standing(page, "Proved");

  // A larger border takes more cloth; the page of what to buy says so.
  await page.locator("#leaf").selectOption("what you need");
  const bought = async () => (await page.locator("#pages table").first().innerText()).replaceAll(/\s+/g, " ");
  const before = await bought();
  await page.locator('[data-at=\'["border",0,"width"]\']').fill("9 in");
  await page.keyboard.press("Tab");
  await page.waitForFunction((was) => document.querySelector("#pages table")?.innerText.replaceAll(/\s+/g, " ") !== was, before);
  await standing(page, "Proved");

  // Every number answers why.
  await page.locator("#pages button[data-why]").first().click();
  await page.locator("#why", { hasText: "Why" }).waitFor();
  await page.keyboard.press("Escape");

  // A wrong measure is said beside its control, and nothing changes.
  const file = join(quilts, "first-quilt.quilt.toml");
  const kept = readFileSync(file, "utf8");
  await page.locator('[data-at=\'["border",0,"width"]\']').fill("nine");
  await page.keyboard.press("Tab");
  await page.locator(".said").waitFor();
  assert.equal(readFileSync(file, "utf8"), kept);

  // The booklet is a PDF that says proved.
  await page.getByRole("link", { name: "Pattern", exact: true }).click();
  const [download] = await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name: "Booklet (PDF)" }).click()]);
  const pdf = join(folder, "booklet.pdf");
  await download.saveAs(pdf);
  const text = execFileSync("pdftotext", [pdf, "-"], { encoding: "utf8" });
  assert.match(text, /Proved: \d+ seams/);
  assert.match(text, /First quilt/);

  // Watched step by step.
  await page.getByRole("button", { name: "On", exact: true }).click();
  await page.locator("#step svg[data-shot='1']").waitFor();
  assert.match(await page.locator("#step-count").innerText(), /^1 of \d+$/);
  assert.deepEqual(wrong, []);
  assert.deepEqual(outside, []);
});

test("a finding is mended by one press", async (t) => {
  const { page, shop, wrong } = await setting(t);
  await page.goto(shop.url);
  await page.getByLabel("Name", { exact: true }).fill("off-marks");
  await page.getByRole("button", { name: "Begin" }).click();
  await page.getByRole("link", { name: "Draw", exact: true }).click();
  await cut(page, [6, 0], [6, 12]);
  await page.locator("summary", { hasText: "This block" }).click();
  await page.locator('[data-at=\'["block",0,"size"]\']').fill("11.9 in");
  await page.keyboard.press("Tab");
  const mend = page.getByRole("button", { name: "Make it 12 in × 12 in" });
  await mend.waitFor();
  await mend.click();
  await mend.waitFor({ state: "detached" });
  await standing(page, "Proved");
  assert.deepEqual(wrong, []);
});
