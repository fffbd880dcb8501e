// For those who measure in centimetres everything is in centimetres: rulers, typed measures, sizes, pages.
import assert from "node:assert/strict";
import { test } from "node:test";
import { patches, setting, standing } from "./workshop.js";

test("a quilt in centimetres is drawn, told and proved in centimetres", async (t) => {
  const { page, shop, wrong } = await setting(t);
  await page.goto(shop.url);
  await page.getByLabel("Name", { exact: true }).fill("metric");
  await page.getByLabel("In centimetres").check();
  await page.getByRole("button", { name: "Begin" }).click();
  await page.getByText("90 × 90 cm finished").waitFor();
  await page.getByRole("link", { name: "Draw", exact: true }).click();
  await standing(page, "Proved");
  const figures = await page.evaluate(() => [...document.querySelectorAll("#board .rulers text")].map((text) => text.textContent));
  assert.deepEqual(figures, ["0", "7.5", "15", "22.5", "30", "0", "7.5", "15", "22.5", "30"]);
  // A typed cut down the middle, in centimetres.
  await page.locator("summary", { hasText: "Typed measures" }).click();
  for (const [name, value] of [["ax", "15"], ["ay", "0"], ["bx", "15"], ["by", "30"]]) await page.locator(`#typed [name=${name}]`).fill(value);
  await page.getByRole("button", { name: "Do it" }).click();
  await page.waitForFunction(() => document.querySelectorAll("#board .patches path").length === 2);
  const path = await page.locator("#board .patches path").first().getAttribute("d");
  assert.match(path, /5\.9055/); // 15 cm are 15 / 2.54 = 5.9055 in (derived)
  await standing(page, "Proved");
  assert.match(await page.locator("#pages").innerText(), /cm/);
  assert.equal(await patches(page), 2);
  assert.deepEqual(wrong, []);
});
