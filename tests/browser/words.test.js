// The designer's own words and photographs, put beside the step they belong to and read again in the booklet.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { existsSync, readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { setting, standing } from "./workshop.js";

/** A picture of the browser's own making. */
async function picture(page, kind, width, height) {
  const text = await page.evaluate(([kind, width, height]) => {
    const canvas = document.createElement("canvas");
    [canvas.width, canvas.height] = [width, height];
    const pen = canvas.getContext("2d");
    pen.fillStyle = "#24405c";
    pen.fillRect(0, 0, width, height);
    pen.fillStyle = "#d9a441";
    pen.fillRect(width / 4, height / 4, width / 2, height / 2);
    return canvas.toDataURL(kind).split(",")[1];
  }, [kind, width, height]);
  return Buffer.from(text, "base64");
}

test("words stand beside their step, their unit, their block; changed, taken away, undone", async (t) => {
  const { page, shop, quilts, folder, wrong, outside } = await setting(t);
  const file = join(quilts, "harbour-windows.quilt.toml");
  const before = readFileSync(file, "utf8");
  await page.goto(`${shop.url}/quilts/harbour-windows/pattern`);
  await standing(page, "Proved");
  const dialog = page.locator("#words");
  // At a unit's step, by the keyboard.
  const step = page.getByRole("button", { name: /^Your words at .*, unit .*, step \d+$/ }).first();
  const name = await step.getAttribute("aria-label");
  await step.focus();
  await page.keyboard.press("Enter");
  await dialog.getByLabel("Words here").waitFor();
  await page.keyboard.type("Press toward the sea");
  await page.keyboard.press("Tab");
  const quoted = (words) => page.locator("#pages blockquote", { hasText: words });
  await quoted("Press toward the sea").first().waitFor();
  await dialog.getByLabel("More words here").waitFor();
  await page.keyboard.press("Escape");
  // The hand is back where it was, though the page was renewed.
  assert.equal(await page.evaluate(() => document.activeElement?.getAttribute("aria-label")), name);
  const said = /\[\[say\]\]\nat = "(.+) step (\d+)"\ntext = "Press toward the sea"/.exec(readFileSync(file, "utf8"));
  assert.ok(said, readFileSync(file, "utf8").slice(-300));
  // They stand below that step: after it, before the next one's place.
  const [follows, precedes] = await page.evaluate((label) => {
    const quote = [...document.querySelectorAll("#pages blockquote")].find((q) => q.textContent.includes("toward the sea"));
    const button = [...document.querySelectorAll(".words-here")].find((b) => b.getAttribute("aria-label") === label);
    const steps = [...document.querySelectorAll("#pages .step")].filter((s) => s.compareDocumentPosition(quote) & Node.DOCUMENT_POSITION_FOLLOWING);
    return [steps.length > 0, Boolean(quote.compareDocumentPosition(button) & Node.DOCUMENT_POSITION_FOLLOWING)];
  }, name);
  assert.ok(follows && precedes);

  // A block's note and tip, and the whole quilt's.
  await page.getByRole("button", { name: /^Your words at [a-z-]+$/ }).first().click();
  await dialog.getByLabel("Your tip").fill("Starch it first");
  await page.keyboard.press("Tab");
  await quoted("Starch it first").first().waitFor();
  await dialog.getByRole("button", { name: "Done" }).click();
  await page.getByRole("button", { name: "Your words for the whole quilt" }).click();
  await dialog.getByLabel("Your words for the whole quilt").fill("For a harbour window");
  await page.keyboard.press("Tab");
  await quoted("For a harbour window").first().waitFor();
  await page.keyboard.press("Escape");

  // All of it is on paper.
  const [download] = await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name: "Booklet (PDF)" }).click()]);
  const pdf = join(folder, "booklet.pdf");
  await download.saveAs(pdf);
  const text = execFileSync("pdftotext", [pdf, "-"], { encoding: "utf8" }).replaceAll(/\s+/g, " ");
  for (const words of ["Press toward the sea", "Starch it first", "For a harbour window"]) assert.ok(text.includes(words), words);

  // Emptied, the words are gone; comments stay.
  await page.getByRole("button", { name, exact: true }).click();
  await dialog.locator("textarea[data-empty]").fill("");
  await page.keyboard.press("Tab");
  await quoted("Press toward the sea").first().waitFor({ state: "detached" });
  await page.keyboard.press("Escape");
  const after = readFileSync(file, "utf8");
  assert.ok(!after.includes("[[say]]\nat = \"" + said[1] + " step"));
  for (const line of before.split("\n").filter((line) => line.startsWith("#"))) assert.ok(after.includes(line), line);
  assert.deepEqual(wrong, []);
  assert.deepEqual(outside, []);
});

test("a photograph is looked at, kept beside the file, printed with its words, undone", async (t) => {
  const { page, shop, quilts, folder, wrong } = await setting(t);
  await page.goto(`${shop.url}/quilts/harbour-windows/pattern`);
  await standing(page, "Proved");
  const dialog = page.locator("#words");
  await page.getByRole("button", { name: /^Your words at [a-z-]+$/ }).first().click();
  const chosen = dialog.getByLabel(/Choose a picture/);
  // What only says that it is a picture is refused in words.
  await chosen.setInputFiles({ name: "no.jpg", mimeType: "image/jpeg", buffer: Buffer.from("no picture at all") });
  await dialog.getByRole("alert").getByText("it is no JPEG or PNG picture").waitFor();
  assert.deepEqual(readdirSync(quilts).filter((name) => /\.(jpg|png)$/.test(name)), []);
  // One that is too wide for a page is kept smaller.
  await chosen.setInputFiles({ name: "../../sea side.jpg", mimeType: "image/jpeg", buffer: await picture(page, "image/jpeg", 2400, 1200) });
  await dialog.getByLabel(/What it shows/).waitFor();
  const [kept] = readdirSync(quilts).filter((name) => /\.(jpg|png)$/.test(name));
  assert.match(kept, /^[a-z-]+-[0-9a-f]{16}\.jpg$/);
  assert.ok(readFileSync(join(quilts, "harbour-windows.quilt.toml"), "utf8").includes(`photo = "${kept}"`));
  await dialog.getByLabel(/What it shows/).fill("Brass window on the sea");
  await page.keyboard.press("Tab");
  const shown = page.locator('#pages figure.photo img[alt="Brass window on the sea"]');
  await shown.waitFor();
  assert.deepEqual(await shown.evaluate((img) => [img.naturalWidth, img.naturalHeight]), [1600, 800]);
  await page.keyboard.press("Escape");
  const [download] = await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name: "Booklet (PDF)" }).click()]);
  const pdf = join(folder, "booklet.pdf");
  await download.saveAs(pdf);
  const images = execFileSync("pdfimages", ["-list", pdf], { encoding: "utf8" });
  assert.match(images, /\b1600\s+800\b/);
  // Taken back, the file stays and the next undo finds it again.
  await page.keyboard.press("Control+z");
  await page.keyboard.press("Control+z");
  await page.locator("#pages figure.photo").waitFor({ state: "detached" });
  await page.keyboard.press("Control+Shift+z");
  await page.locator("#pages figure.photo").first().waitFor();
  assert.ok(existsSync(join(quilts, kept)));
  assert.deepEqual(wrong, []);
});
