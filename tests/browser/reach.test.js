// Within everyone's reach: keyboard alone, touch, a narrow screen; axe-core finds nothing on any screen, light and dark.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { test } from "node:test";
import { patches, setting, standing } from "./workshop.js";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const SCREENS = [
  "/", "/quilts/harbour-windows/draw/half", "/quilts/harbour-windows/quilt", "/quilts/harbour-windows/cloth",
  "/quilts/harbour-windows/pattern", "/quilts/harbour-windows/strip/0", "/quilts/harbour-windows/hand-out", "/quilts/storm-lamps/hand-out", "/drawing", "/nowhere",
];

for (const colorScheme of ["light", "dark"]) {
  test(`axe-core finds nothing, ${colorScheme}`, async (t) => {
    const { page, shop } = await setting(t, { colorScheme, bypassCSP: true });
    const found = [];
    for (const screen of SCREENS) {
      await page.goto(shop.url + screen);
      if (screen.includes("/quilts/") && !screen.includes("/strip/")) await standing(page, "Proved");
      // What is folded away counts too.
      await page.evaluate(() => { for (const folded of document.querySelectorAll("details")) folded.open = true; });
      await page.waitForTimeout(300);
      await page.evaluate(axe);
      const result = await page.evaluate(() => window.axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] }));
      for (const { id, nodes } of result.violations) found.push(`${screen}: ${id}: ${nodes.slice(0, 3).map((n) => `${n.target} ${n.any[0]?.message ?? ""}`).join(" | ")}`);
    }
    // With the words beside a step open, too.
    await page.goto(`${shop.url}/quilts/harbour-windows/pattern`);
    await page.getByRole("button", { name: /^Your words at [a-z-]+$/ }).first().click();
    await page.locator("#words textarea").first().waitFor();
    await page.evaluate(axe);
    const open = await page.evaluate(() => window.axe.run("#words", { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] }));
    for (const { id, nodes } of open.violations) found.push(`words: ${id}: ${nodes.map((n) => n.target).join(" | ")}`);
    assert.deepEqual(found, []);
  });
}

test("by keyboard alone a block is divided and dressed", async (t) => {
  const { page, shop } = await setting(t);
  await page.goto(`${shop.url}/quilts/harbour-windows/draw/half`);
  await standing(page, "Proved");
  await page.locator("#board").focus();
  // From the top left corner, Enter; one step right and one down to the far corner, Enter.
  await page.keyboard.press("ArrowLeft");
  await page.waitForTimeout(100);
  await page.keyboard.press("Enter");
  await page.waitForTimeout(100);
  for (const key of ["ArrowRight", "ArrowDown"]) { await page.keyboard.press(key); await page.waitForTimeout(100); }
  assert.match(await page.locator("#aimed").innerText(), /45°/);
  await page.keyboard.press("Enter");
  await page.waitForFunction(() => document.querySelectorAll("#board .patches path").length === 4);
  await page.keyboard.press("Control+z");
  await page.waitForFunction(() => document.querySelectorAll("#board .patches path").length === 2);
});

test("by touch, on a narrow screen, nothing runs off it", async (t) => {
  const { page, shop } = await setting(t, { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true });
  for (const screen of SCREENS) {
    await page.goto(shop.url + screen);
    await page.waitForTimeout(400);
    await page.evaluate(() => { for (const folded of document.querySelectorAll("details")) folded.open = true; });
    const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
    assert.ok(over <= 0, `${screen} is ${over} px too wide`);
  }
  await page.goto(`${shop.url}/quilts/harbour-windows/draw/half`);
  await standing(page, "Proved");
  const board = page.locator("#board");
  await board.scrollIntoViewIfNeeded();
  const tap = async (x, y) => {
    const at = await page.evaluate(([x, y]) => {
      const p = new DOMPoint(x, y).matrixTransform(document.getElementById("board").getScreenCTM());
      return { x: p.x, y: p.y };
    }, [x, y]);
    await page.touchscreen.tap(at.x, at.y);
    await page.waitForTimeout(200);
  };
  await tap(0.05, 0.05);
  await tap(2.95, 2.95);
  await page.waitForFunction(() => document.querySelectorAll("#board .patches path").length === 4);
  assert.equal(await patches(page), 4);
});

test("the quilt is seen in grey, as other eyes see it, and at real size by a bank card", async (t) => {
  const { page, shop, wrong } = await setting(t);
  await page.goto(`${shop.url}/quilts/harbour-windows/quilt`);
  await standing(page, "Proved");
  await page.locator("#view").selectOption("grey");
  assert.match(await page.locator("#top").evaluate((svg) => getComputedStyle(svg).filter), /grayscale/);
  await page.locator("#view").selectOption("no-green");
  assert.match(await page.locator("#top").evaluate((svg) => getComputedStyle(svg).filter), /no-green/);
  await page.getByRole("button", { name: "Real size" }).click();
  // ISO/IEC 7810 ID-1: 85.60 mm across. A card 428 pixels wide makes 127 pixels to the inch (derived: 428 / 85.6 * 25.4).
  await page.locator("dialog input").fill("428");
  await page.getByRole("button", { name: "It is as wide" }).click();
  // The dialog tells of its closing a moment after the press.
  await page.waitForFunction(() => Math.abs(document.getElementById("top").getBoundingClientRect().width - 44 * 127) < 1);
  assert.deepEqual(wrong, []);
});
