import { chromium } from "playwright-core";
import { mkdtempSync, writeFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os"; import { join } from "node:path";
import { open } from "./workshop.js"; import { png, file } from "./pictures.js";
const folder = mkdtempSync(join(tmpdir(), "shots-")); const quilts = join(folder, "quilts");
const shop = await open(quilts);
const browser = await chromium.launch({ executablePath: "/usr/bin/chromium", args: ["--no-sandbox"] });
const FREE = `format = 1
[quilt]
title = "Free"
[[fabric]]
name = "sea"
color = "#1f2d4a"
[[fabric]]
name = "foam"
color = "#f3eee2"
[[fabric]]
name = "brick"
color = "#b5523b"
[[block]]
name = "one"
size = "8 in"
grid = 2
patches = [ { fabric = "foam", path = "M0 0 H2 L0 2 Z" }, { fabric = "brick", path = "M2 0 V2 H0 Z" } ]
[[block]]
name = "outer"
size = "12 in"
grid = 2
patches = [ { fabric = "sea", path = "M0 0 H1 L0 1 Z" }, { fabric = "foam", path = "M1 0 H2 V1 Z" }, { fabric = "sea", path = "M2 1 V2 H1 Z" }, { fabric = "foam", path = "M1 2 H0 V1 Z" } ]
place = [ { block = "one", center = [1, 1], size = 1.4142135623730951, turn = 45 } ]
[layout]
kind = "free"
fill = "sea"
size = ["40 in", "30 in"]
place = [
  { block = "one", at = ["2 in", "2 in"] },
  { block = "one", at = ["20 in", "11 in"] },
  { block = "outer", at = ["4 in", "14 in"] },
  { block = "one", center = ["32 in", "22 in"], turn = 45 },
]
[[border]]
width = "3 in"
fabric = "brick"
`;
writeFileSync(join(quilts, "free.quilt.toml"), FREE);
const cloud = png(240, 160, (x, y) => { const v = (Math.sin(x / 9) + Math.cos(y / 7)) * 30; return [90 + v, 60 + v / 2, 120 - v].map((c) => Math.max(0, Math.min(255, Math.round(c)))); });
const sketch = png(400, 400, (x, y) => (Math.abs(x - y) < 4 || Math.abs(x + y - 400) < 4 || Math.hypot(x - 200, y - 200) < 120 && Math.hypot(x - 200, y - 200) > 114 ? [30, 30, 30] : [250, 250, 250]));
const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 60 60"><rect width="60" height="60" fill="#f3eee2"/><path d="M0 0H30L0 30z" fill="#1f2d4a"/><circle cx="45" cy="45" r="10" fill="#b5523b"/></svg>`;
const sizes = [[360, 740], [1366, 900], [3840, 2160]];
let first = true;
for (const [width, height] of sizes) for (const scheme of width === 1366 ? ["light", "dark"] : ["light"]) {
  const context = await browser.newContext({ viewport: { width, height }, colorScheme: scheme });
  const page = await context.newPage();
  page.on("pageerror", (e) => console.log("pageerror", e.message)); page.on("console", (m) => { if (m.type() === "error") console.log("console", m.text()); });
  const shot = async (name) => { await page.waitForTimeout(400); await page.screenshot({ path: `/tmp/shots/${name}-${width}${scheme === "dark" ? "-dark" : ""}.png`, fullPage: width < 3000 }); };
  const details = (words) => page.evaluate((words) => { for (const d of document.querySelectorAll("details")) d.open = words.some((w) => d.querySelector("summary")?.textContent.includes(w)); }, words);
  await page.goto(shop.url + "/drawing");
  await page.locator("#svg-file").setInputFiles(file("Vane.svg", Buffer.from(svg), "image/svg+xml"));
  await page.locator("#seen svg").waitFor(); await shot("drawing");
  await page.locator("[name=on_top]").selectOption("yes"); await page.getByText("It fills the block").waitFor(); await shot("drawing-good");
  if (first) {
    await page.goto(shop.url + "/quilts/free/cloth");
    await page.locator('[data-picture="sea"]').setInputFiles(file("s.png", cloud));
    await page.locator("pattern image").first().waitFor({ state: "attached" });
    await page.goto(shop.url + "/quilts/free/draw/outer");
    await details(["A picture beneath"]);
    await page.locator("#trace-file").setInputFiles(file("t.png", sketch));
    await page.locator("#traced").waitFor({ state: "attached" });
  }
  await page.goto(shop.url + "/quilts/free/draw/outer"); await page.waitForTimeout(1500);
  await details(["A picture beneath", "Pins"]);
  await page.getByRole("button", { name: "Pin", exact: true }).click(); await shot("draw");
  await page.goto(shop.url + "/quilts/free/quilt"); await page.waitForTimeout(1000);
  await page.locator('#free [data-place="3"]').focus(); await shot("free");
  await page.goto(shop.url + "/quilts/free/cloth"); await page.waitForTimeout(500);
  if (first) { await page.evaluate(() => { for (const d of document.querySelectorAll("details")) d.open = true; }); await page.locator("fieldset.fabric").nth(0).getByRole("button", { name: "Let several" }).click(); await page.waitForTimeout(600); await page.locator("fieldset.fabric").nth(1).getByRole("button", { name: "Put a motif" }).click(); await page.waitForTimeout(600); }
  await details(["More"]); await page.locator("#photo").setInputFiles(file("p.png", cloud)); await page.locator("#photo-colours button").first().waitFor(); await shot("cloth");
  await page.goto(shop.url + "/"); await shot("shelf");
  first = false; await context.close();
}
await browser.close(); await shop.kill(); rmSync(folder, { recursive: true });
