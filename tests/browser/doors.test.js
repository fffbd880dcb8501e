// What comes in from outside, and what is settled by hand: drawings, pictures, colours, pins, several cloths in a role, blocks laid anywhere.
import assert from "node:assert/strict";
import { readFileSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { file, png } from "./pictures.js";
import { patches, press, setting, standing } from "./workshop.js";

const stripes = png(120, 80, (x) => (x < 60 ? [31, 45, 74] : x < 105 ? [243, 238, 226] : [181, 82, 59]));
const text = (quilts, name) => readFileSync(join(quilts, `${name}.quilt.toml`), "utf8");
const open = (page, words) => page.locator("summary", { hasText: words }).first().click();

/** A free layout of two blocks. */
const FREE = `format = 1
[quilt]
title = "Free"
[[fabric]]
name = "sea"
color = "#1f2d4a"
[[fabric]]
name = "foam"
color = "#f3eee2"
[[block]]
name = "one"
size = "8 in"
patches = [ { fabric = "foam", path = "M0 0 H1 V1 H0 Z" } ]
[layout]
kind = "free"
fill = "sea"
size = ["40 in", "30 in"]
place = [
  { block = "one", at = ["2 in", "2 in"] },
  { block = "one", at = ["20 in", "11 in"] },
]
`;

test("a quilt begins from a drawing in SVG, once it fills its block", async (t) => {
  const { page, shop, quilts, wrong, outside } = await setting(t);
  await page.goto(shop.url);
  await page.getByRole("link", { name: "Begin from a drawing" }).click();
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 60 60"><rect width="60" height="60" fill="#f3eee2"/>
    <rect width="30" height="60" fill="#1f2d4a"/><rect y="30" width="30" height="30" fill="#b5523b"/></svg>`;
  await page.locator("#svg-file").setInputFiles(file("Vane 2.svg", Buffer.from(svg), "image/svg+xml"));
  await page.locator('#seen [data-code="overlap"]').first().waitFor();
  assert.equal(await page.getByLabel("Name of the quilt").inputValue(), "vane-2");
  // Begun as it is, it is refused with the reason.
  await page.getByRole("button", { name: "Begin" }).click();
  await page.locator("#notice.full").waitFor();
  await page.getByLabel("They lie on one another").selectOption("yes");
  await page.getByText("It fills the block").waitFor();
  assert.match(await page.locator("#seen").innerText(), /12 × 12 in, grid of 2, 3 patches/);
  await page.getByRole("button", { name: "Begin" }).click();
  await page.locator("#board").waitFor();
  assert.equal(await patches(page), 3);
  await standing(page, "Proved");
  assert.match(text(quilts, "vane-2"), /fabric = "dark-blue", path = "M0 0 H1 V1 H0 Z"/);
  assert.deepEqual(wrong, []);
  assert.deepEqual(outside, []);
});

test("a picture is laid beneath a block, moved, seen through the cloth and taken away", async (t) => {
  const { page, shop, quilts, wrong, outside } = await setting(t);
  await page.goto(`${shop.url}/quilts/harbour-windows/draw/half`);
  await standing(page, "Proved");
  const before = text(quilts, "harbour-windows");
  await open(page, "A picture beneath");
  await page.locator("#trace-file").setInputFiles(file("not.png", Buffer.from("GIF89a")));
  await page.locator("#notice", { hasText: "no picture" }).waitFor();
  await page.locator("#trace-file").setInputFiles(file("sketch.png", stripes));
  await page.locator("#traced").waitFor({ state: "attached" });
  // It is 120 by 80 pixels, and the block is 3 in square: 3 in wide and 2 in high (derived).
  const lies = () => page.locator("#traced").evaluate((i) => ["x", "y", "width", "height"].map((name) => Number(i.getAttribute(name))));
  assert.deepEqual((await lies()).map((v) => Math.round(v * 100) / 100), [0, 0, 3, 2]);
  const shown = await page.locator("#traced").evaluate(async (i) => { const r = await fetch(i.getAttribute("href")); return [r.status, r.headers.get("content-type")]; });
  assert.deepEqual(shown, [200, "image/png"]);
  assert.ok(Number(await page.locator("#board .patches").getAttribute("fill-opacity")) < 1);
  await page.getByLabel("Left, in").last().fill("0.5");
  await page.keyboard.press("Tab");
  await page.waitForFunction(() => document.getElementById("traced")?.getAttribute("x") === "0.5");
  // By hand: an inch to the right, and no cloth is cut.
  await page.getByRole("button", { name: "Move it by hand" }).click();
  await page.locator("#board").scrollIntoViewIfNeeded();
  const at = await page.evaluate(() => [1, 2].map((x) => { const p = new DOMPoint(x, 1).matrixTransform(document.getElementById("board").getScreenCTM()); return { x: p.x, y: p.y }; }));
  await page.mouse.move(at[0].x, at[0].y);
  await page.mouse.down();
  await page.mouse.move(at[1].x, at[1].y, { steps: 4 });
  await page.mouse.up();
  await page.waitForFunction(() => Math.abs(Number(document.getElementById("traced")?.getAttribute("x")) - 1.5) < 0.02);
  await page.reload();
  await page.locator("#traced").waitFor({ state: "attached" });
  assert.ok(Math.abs((await lies())[0] - 1.5) < 0.02, "kept");
  assert.equal(text(quilts, "harbour-windows"), before, "the design knows nothing of it");
  // Its block has another name: it goes along.
  await open(page, "This block");
  await page.locator('form.rename[data-list="block"] input').fill("halved");
  await page.locator('form.rename[data-list="block"] button').click();
  await page.waitForURL(/draw\/halved$/);
  await page.locator("#traced").waitFor({ state: "attached" });
  await open(page, "A picture beneath");
  await page.getByRole("button", { name: "Take it away" }).click();
  await page.locator("#traced").waitFor({ state: "detached" });
  assert.deepEqual(wrong, []);
  assert.deepEqual(outside, []);
});

test("a cloth is shown by its picture, and a photograph gives its colours", async (t) => {
  const { page, shop, quilts, wrong, outside } = await setting(t);
  await page.goto(`${shop.url}/quilts/harbour-windows/cloth`);
  await standing(page, "Proved");
  const role = await page.locator("fieldset.fabric").first().getAttribute("data-name");
  await page.locator(`[data-picture="${role}"]`).setInputFiles(file("night.png", stripes));
  await page.locator("pattern image").first().waitFor({ state: "attached" });
  assert.match(text(quilts, "harbour-windows"), new RegExp(`image = "${role}-[0-9a-f]{16}\\.png"`));
  assert.ok(readdirSync(quilts).some((name) => name.startsWith(`${role}-`)));
  await page.locator('[data-at=\'["fabric",0,"image-width"]\']').fill("6 in");
  await page.keyboard.press("Tab");
  // 6 in across and, of 120 by 80 pixels, 4 in high (derived).
  await page.waitForFunction(() => document.querySelector("pattern")?.getAttribute("width") === "6");
  assert.equal(await page.locator("pattern").first().getAttribute("height"), "4");
  // No address leads out of the folder, and what is no picture is not shown as one.
  for (const address of ["..%2F..%2Fetc%2Fpasswd", "harbour-windows.quilt.toml", ".scantling%2Fharbour-windows.history", "%00.png", "none.png"]) {
    assert.equal((await fetch(`${shop.url}/quilts/harbour-windows/picture/${address}`)).status, 404, address);
  }
  const large = await fetch(`${shop.url}/quilts/harbour-windows/pictures?of=x`, { method: "POST", body: new Uint8Array(25 * 1024 * 1024) });
  assert.equal(large.status, 413);
  await page.goto(`${shop.url}/quilts/harbour-windows/quilt`);
  assert.ok(await page.locator(`#top [fill="url(#seen-${role}-0)"]`).count() > 0);
  await page.goto(`${shop.url}/quilts/harbour-windows/cloth`);
  await page.locator("#photo").setInputFiles(file("photo.png", stripes));
  const found = page.locator("#photo-colours button");
  await found.first().waitFor();
  assert.deepEqual(await found.allInnerTexts(), ["Dark blue, 50 %", "White, 38 %", "Red, 13 %"].map((words) => words));
  await page.locator("#photo-for").selectOption("1");
  await found.nth(2).click();
  await page.waitForFunction(() => document.querySelector('[data-at=\'["fabric",1,"color"]\']')?.value.startsWith("#b5"));
  await page.locator("#photo-for").selectOption("new");
  await found.nth(0).click();
  await page.locator('fieldset.fabric[data-name="cloth-1"]').waitFor();
  assert.match(text(quilts, "harbour-windows"), /label = "Dark blue"\nname = "cloth-1"/);
  assert.deepEqual(wrong, []);
  assert.deepEqual(outside, []);
});

test("several cloths play a role, a motif lies in the middle, and an impossible wish is undone where it was made", async (t) => {
  const { page, shop, quilts, wrong } = await setting(t);
  await page.goto(`${shop.url}/quilts/harbour-windows/cloth`);
  await standing(page, "Proved");
  const first = page.locator("fieldset.fabric").first();
  await first.locator("summary", { hasText: "More" }).click();
  await first.getByRole("button", { name: "Let several cloths play this role" }).click();
  const members = page.locator('fieldset.several input[data-kind="members"]');
  await members.first().waitFor();
  assert.equal(await page.locator('fieldset.several input[data-kind="members"]:checked').count(), 2);
  await page.locator('fieldset.several input[data-kind="members"]:not(:checked)').first().check();
  await page.waitForFunction(() => document.querySelectorAll("fieldset.several input:checked").length === 3);
  await page.waitForTimeout(300);
  assert.match(text(quilts, "harbour-windows"), /scrappy = \{ fabrics = \["[a-z]+", "[a-z]+", "[a-z]+"\]/);
  await page.locator("fieldset.several select").selectOption("patch");
  await page.waitForTimeout(300);
  assert.match(text(quilts, "harbour-windows"), /each = "patch"/);
  // One cloth alone is no scrappy role: said beside the box, which stays ticked.
  for (let i = 0; i < 2; i += 1) {
    await page.locator("fieldset.several input:checked").first().click();
    await page.waitForTimeout(300);
  }
  await page.locator(".said").first().waitFor();
  assert.equal(await page.locator("fieldset.several input:checked").count(), 2);
  await page.getByRole("button", { name: "One cloth again" }).click();
  await page.locator("fieldset.several").waitFor({ state: "detached" });
  await page.locator("fieldset.fabric").first().getByRole("button", { name: "Put a motif in the middle" }).click();
  await page.locator('[data-at=\'["fabric",0,"motif","every"]\']').fill("5 in × 7 in");
  await page.keyboard.press("Tab");
  await page.waitForTimeout(300);
  assert.match(text(quilts, "harbour-windows"), /motif = \{ every = \["5 in", "7 in"\] \}/);
  assert.deepEqual(wrong, []);
});

test("pins are set on patches chosen by hand", async (t) => {
  const { page, shop, quilts, wrong } = await setting(t);
  await page.goto(`${shop.url}/quilts/harbour-windows/draw/half`);
  await standing(page, "Proved");
  await page.getByRole("button", { name: "Pin", exact: true }).click();
  // Two triangles of a 3 in square.
  await press(page, 2.5, 2.5);
  await press(page, 0.5, 0.5);
  const picked = await page.locator("#picked").innerText();
  assert.match(picked, /^[12], [12]$/);
  assert.ok(await page.locator("#board .numbers text").first().isVisible());
  await page.getByRole("button", { name: "Press from the first toward the second" }).click();
  await page.locator(".pin-list li", { hasText: `pressed toward ${picked.at(-1)}` }).waitFor();
  assert.match(text(quilts, "harbour-windows"), new RegExp(`\\[\\[block\\.pin\\]\\]\\npress = \\[${picked}\\]`));
  // By keyboard: aim, Enter, aim, Enter.
  await page.locator("#board").focus();
  await page.keyboard.press("Shift+ArrowRight");
  await page.waitForTimeout(150);
  await page.keyboard.press("Enter");
  await page.waitForFunction(() => document.getElementById("picked")?.textContent !== "none");
  await page.getByRole("button", { name: "Let go" }).click();
  assert.equal(await page.locator("#picked").innerText(), "none");
  await page.locator(".pin-list").getByRole("button", { name: "Take away" }).click();
  await page.locator(".pin-list").waitFor({ state: "detached" });
  assert.ok(!text(quilts, "harbour-windows").includes("block.pin"));
  assert.deepEqual(wrong, []);
});

test("a block is laid in at an angle, and its neighbours are still drawn on", async (t) => {
  const { page, shop, quilts, wrong } = await setting(t);
  writeFileSync(join(quilts, "standing.quilt.toml"), FREE.replace("[layout]", `[[block]]\nname = "outer"\nsize = "12 in"\npatches = [ { fabric = "sea", path = "M0 0 H1 V1 H0 Z" } ]\n[layout]`));
  await page.goto(`${shop.url}/quilts/standing/draw/outer`);
  await page.locator("#board").waitFor();
  await open(page, "Place a block inside");
  const lay = page.locator("#lay");
  // A square of side 6√2 at 45° reaches the middles of the sides of a 12 in block (derived).
  for (const [name, value] of [["x", 6 - Math.sqrt(18)], ["y", 6 - Math.sqrt(18)], ["w", Math.sqrt(72)], ["h", Math.sqrt(72)], ["turn", 45]]) {
    await lay.locator(`[name=${name}]`).fill(String(value));
  }
  await lay.locator("[name=what]").selectOption("one");
  await lay.getByRole("button", { name: "Lay it in" }).click();
  await page.waitForFunction(() => document.querySelectorAll("#board .patches path").length === 4);
  await page.getByRole("button", { name: "Divide" }).click();
  await press(page, 0, 0);
  await press(page, 3, 3);
  await page.waitForFunction(() => document.querySelectorAll("#board .patches path").length === 5);
  assert.match(text(quilts, "standing"), /center = \[0\.5, 0\.5\], size = \[0\.707107, 0\.707107\], turn = 45/);
  assert.deepEqual(wrong, []);
});

test("blocks of a free layout are dragged, and moved by the arrow keys", async (t) => {
  const { page, shop, quilts, wrong } = await setting(t);
  writeFileSync(join(quilts, "free.quilt.toml"), FREE);
  await page.goto(`${shop.url}/quilts/free/quilt`);
  await standing(page, "Proved");
  const handle = page.locator('#free [data-place="0"]');
  const drag = async (dx, dy) => {
    const at = await page.evaluate(([dx, dy]) => {
      const matrix = document.getElementById("free").getScreenCTM();
      const h = document.querySelector('#free [data-place="0"]').dataset;
      return [[Number(h.x) + 4, Number(h.y) + 4], [Number(h.x) + 4 + dx, Number(h.y) + 4 + dy]].map(([x, y]) => { const p = new DOMPoint(x, y).matrixTransform(matrix); return { x: p.x, y: p.y }; });
    }, [dx, dy]);
    await page.mouse.move(at[0].x, at[0].y);
    await page.mouse.down();
    await page.mouse.move(at[1].x, at[1].y, { steps: 5 });
    await page.mouse.up();
  };
  // Held to the step of half an inch: 3.1 and 1.9 further are 5 and 4.
  await drag(3.1, 1.9);
  await page.waitForFunction(() => document.querySelector('#free [data-place="0"]').dataset.x === "5");
  assert.match(text(quilts, "free"), /at = \["5 in", "4 in"\]/);
  // Held to the other's left side: 20 less its own 8 is 12, though 6.9 further is 11.9.
  await drag(6.9, 0);
  await page.waitForFunction(() => document.querySelector('#free [data-place="0"]').dataset.x === "12");
  await handle.focus();
  await page.keyboard.press("ArrowLeft");
  await page.keyboard.press("ArrowLeft");
  await page.keyboard.press("ArrowDown");
  await page.waitForFunction(() => { const h = document.querySelector('#free [data-place="0"]').dataset; return h.x === "11" && h.y === "4.5"; });
  assert.ok(await handle.evaluate((h) => h === document.activeElement), "the hand keeps its place");
  await standing(page, "Proved");
  await page.keyboard.press("Control+z");
  await page.waitForFunction(() => document.querySelector('#free [data-place="0"]').dataset.y === "4");
  assert.deepEqual(wrong, []);
});

test("a block is put where a free layout has room", async (t) => {
  const { page, shop, quilts, wrong } = await setting(t);
  writeFileSync(join(quilts, "free.quilt.toml"), FREE);
  await page.goto(`${shop.url}/quilts/free/quilt`);
  await standing(page, "Proved");
  await page.getByRole("button", { name: "Place One" }).click();
  await page.locator('#free [data-place="2"]').waitFor();
  // Above the second of the two only 11 in are left and beside the first 10: the first place with room for 8 is beside the first.
  assert.match(text(quilts, "free"), /at = \["10 in", "0 in"\]/);
  await standing(page, "Proved");
  assert.deepEqual(wrong, []);
});
