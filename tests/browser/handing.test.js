// Handed out: an order is begun, seen on its way, stopped, begun again, taken away and read.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { existsSync, readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { inflateRawSync } from "node:zlib";
import { setting, standing } from "./workshop.js";

/** The files of a zip by their names (APPNOTE 6.3: central directory, local headers, deflate). */
function unzipped(bytes) {
  let end = bytes.length - 22;
  while (bytes.readUInt32LE(end) !== 0x06054b50) end -= 1;
  const files = new Map();
  let at = bytes.readUInt32LE(end + 16);
  for (let i = 0; i < bytes.readUInt16LE(end + 10); i += 1) {
    assert.equal(bytes.readUInt32LE(at), 0x02014b50);
    const [method, packed] = [bytes.readUInt16LE(at + 10), bytes.readUInt32LE(at + 20)];
    const [name, extra, remark] = [28, 30, 32].map((o) => bytes.readUInt16LE(at + o));
    const local = bytes.readUInt32LE(at + 42);
    const from = local + 30 + bytes.readUInt16LE(local + 26) + bytes.readUInt16LE(local + 28);
    const data = bytes.subarray(from, from + packed);
    files.set(bytes.toString("utf8", at + 46, at + 46 + name), method === 8 ? inflateRawSync(data) : data);
    at += 46 + name + extra + remark;
  }
  return files;
}

test("an order is begun, stopped at the next file, begun again, downloaded and read", async (t) => {
  const { page, shop, quilts, folder, wrong, outside } = await setting(t);
  await page.goto(`${shop.url}/quilts/lantern-harbour/pattern`);
  await standing(page, "Proved");
  await page.getByRole("link", { name: /^More: sizes/ }).click();
  await page.getByRole("heading", { name: "Hand out", exact: true }).waitFor();
  // Twice the measures, hands and prints: sixteen booklets and six other files.
  for (const box of ["Centimetres, on A4", "Left hand", "Large print"]) await page.getByLabel(box).check();
  const make = page.getByRole("button", { name: "Make the files" });
  await make.click();
  await page.locator("#how-far-bar").waitFor();
  await page.waitForFunction(() => /** @type {HTMLProgressElement} */ (document.getElementById("how-far-bar")).value >= 1);
  assert.match(await page.locator("#how-far-count").innerText(), /^\d+ of 22$/);
  assert.ok(await make.isDisabled());
  await page.getByRole("button", { name: "Stop" }).click();
  await page.locator("#how-far-words", { hasText: "Stopped. Nothing was handed out." }).waitFor();
  assert.ok(await page.locator("#how-far-bar").isHidden());
  assert.ok(await page.getByRole("link", { name: /Download/ }).isHidden());
  const aside = join(quilts, ".scantling/handing-out");
  assert.deepEqual(existsSync(aside) ? readdirSync(aside) : [], []);

  // Begun again, smaller, by the keyboard; it is ready although the page was left meanwhile.
  for (const box of ["Inches, on letter paper", "Right hand", "Usual print"]) await page.getByLabel(box).uncheck();
  await make.focus();
  await page.keyboard.press("Enter");
  await page.goto(`${shop.url}/quilts/lantern-harbour/quilt`);
  await page.goto(`${shop.url}/quilts/lantern-harbour/hand-out`);
  const take = page.getByRole("link", { name: /Download the zip/ });
  await take.waitFor();
  const [download] = await Promise.all([page.waitForEvent("download"), take.click()]);
  assert.equal(download.suggestedFilename(), "lantern-harbour.zip");
  const place = join(folder, "away.zip");
  await download.saveAs(place);
  const files = unzipped(readFileSync(place));
  assert.deepEqual([...files.keys()], [
    "base/as_listed/metric/booklet-left-hand-large-print.html", "base/as_listed/metric/booklet-left-hand-large-print.pdf",
    "base/as_listed/metric/cut-list.csv", "base/as_listed/metric/picture.json", "base/as_listed/metric/recipe.json", "contents.txt",
  ]);
  const pdf = execFileSync("pdftotext", ["-", "-"], { input: files.get("base/as_listed/metric/booklet-left-hand-large-print.pdf"), encoding: "utf8" });
  assert.match(pdf, /Proved: \d+ seams/);
  assert.match(pdf, /for the left hand, large print/);
  assert.match(pdf, /\d cm/);
  assert.match(files.get("contents.txt").toString(), /base\/as_listed\/metric: proved, \d+ seams/);

  // A change later on: the page says that what is ready is older.
  assert.ok(await page.locator("#how-far-stale").isHidden());
  await page.goto(`${shop.url}/quilts/lantern-harbour/quilt`);
  await page.locator("summary", { hasText: "The quilt" }).click();
  await page.getByLabel("Title").fill("Lanterns");
  await page.keyboard.press("Tab");
  for (let i = 0; i < 100 && !readFileSync(join(quilts, "lantern-harbour.quilt.toml"), "utf8").includes('title = "Lanterns"'); i += 1) await page.waitForTimeout(50);
  await page.goto(`${shop.url}/quilts/lantern-harbour/hand-out`);
  await page.locator("#how-far-stale").waitFor();
  assert.deepEqual(wrong, []);
  assert.deepEqual(outside, []);
});

test("without a script the forms do the same, and a folder lies beside the quilt", async (t) => {
  const { browser, shop, quilts } = await setting(t);
  const context = await browser.newContext({ javaScriptEnabled: false });
  const page = await context.newPage();
  await page.goto(`${shop.url}/quilts/first-strips/hand-out`);
  for (const box of ["Booklet for the browser (HTML)", "Recipe for other programs (JSON)", "Picture of the top for other programs (JSON)"]) {
    await page.getByLabel(box).uncheck();
  }
  await page.getByLabel(/The folder first-strips-handed-out/).check();
  await page.getByRole("button", { name: "Make the files" }).click();
  const words = page.locator("#how-far-words");
  for (let i = 0; i < 100 && !/are in the folder/.test(await words.innerText()); i += 1) {
    await page.waitForTimeout(100);
    await page.reload();
  }
  assert.match(await words.innerText(), /3 files are in the folder first-strips-handed-out, beside the quilt\./);
  const made = join(quilts, "first-strips-handed-out/base/as_listed/inch");
  assert.deepEqual(readdirSync(made).sort(), ["booklet.pdf", "cut-list.csv"]);
  assert.match(execFileSync("pdftotext", [join(made, "booklet.pdf"), "-"], { encoding: "utf8" }), /Proved: \d+ seams/);
});
