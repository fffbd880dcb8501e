// How long from a change to the refreshed pattern, measured in the browser: node speed.js [QUILT] [CHANGES].
// QUILT is an example, or `ten-thousand`: a design of some 10 400 patches. Each kind of change is made so many times, one
// after another; what is measured is from the wish to the pages with all drawings in sight, and to the next picture painted.
// Before that, how long a quilt's page takes in a workshop just begun, until its pattern is there.
import { putLarge } from "./large.js";
import { open, setting } from "./workshop.js";

const quilt = process.argv[2] ?? "lantern-harbour";
const changes = Number(process.argv[3] ?? 40);
const after = [];
const { page, shop, quilts } = await setting({ after: (f) => after.push(f) });
if (quilt === "ten-thousand") putLarge(quilts);

await page.addInitScript(() => {
  window.refreshed = new Map();
  document.addEventListener("pages", (event) => {
    const seen = { pages: performance.now(), painted: 0 };
    window.refreshed.set(event.detail, seen);
    requestAnimationFrame(() => {
      const told = new MessageChannel();
      told.port1.onmessage = () => { seen.painted = performance.now(); };
      told.port2.postMessage(0);
    });
  });
});
const settled = () => page.waitForFunction(() => {
  const seen = window.refreshed.get(document.getElementById("work").dataset.revision);
  return seen !== undefined && seen.painted > 0;
}, undefined, { timeout: 60000 });
const first = async () => {
  await settled();
  return page.evaluate(() => window.refreshed.get(document.getElementById("work").dataset.revision).pages);
};

await page.goto(`${shop.url}/quilts/${quilt}/quilt`);
console.log(`${quilt}: a workshop and browser just begun, the quilt's page with its pattern ${(await first()).toFixed(0)} ms`);
await page.reload();
console.log(`${quilt}: the same page again ${(await first()).toFixed(0)} ms`);
const anew = [];
for (let i = 0; i < 5; i += 1) {
  // As for one who opens the workshop beside what is open already: the browser runs, but knows nothing of this address.
  const begun = await open(quilts);
  await page.waitForTimeout(500);
  await page.goto(`${begun.url}/quilts/${quilt}/quilt`);
  anew.push(await first());
  await page.goto("about:blank");
  await begun.kill();
}
anew.sort((a, b) => a - b);
console.log(`${quilt}: a workshop just begun in a browser that is open, 5 times: the quilt's page with its pattern median ${anew[2].toFixed(0)} ms, at most ${anew[4].toFixed(0)} ms`);

const step = (i) => (i % 40) + 1;
const KINDS = {
  // Light and dark, so that now and then a texture comes or goes to tell greys apart.
  "a cloth's colour": { place: "quilt", wish: (i) => ({ do: "set", at: ["fabric", 0, "color"], to: `#${[37, 91, 53].map((n) => ((i * n + 40) % 216 + 20).toString(16).padStart(2, "0")).join("")}` }) },
  "a cloth's colour, on the page of a block": { place: "draw", wish: (i) => ({ do: "set", at: ["fabric", 0, "color"], to: `#${[53, 17, 71].map((n) => ((i * n + 90) % 216 + 20).toString(16).padStart(2, "0")).join("")}` }) },
  "the sashing's width": { place: "quilt", wish: (i) => ({ do: "set", at: ["layout", "sashing", "width"], to: `${1 + step(i) / 8} in` }) },
  "a block divided": { place: "draw", wish: (i) => ({ do: "draw", block: null, act: "divide", from: [0, 12 * step(i) / 41], to: [12, 12 * step(i) / 41], repeat: "once" }), undo: true },
};
const p = (all, share) => all[Math.min(all.length - 1, Math.floor(all.length * share))].toFixed(0);

for (const [kind, { place, wish, undo }] of Object.entries(KINDS)) {
  await page.goto(`${shop.url}/quilts/${quilt}/${place}`);
  await settled();
  const seen = [];
  for (let i = 0; i < changes; i += 1) {
    const made = wish(i);
    const took = await page.evaluate(async ({ made }) => {
      const { ask } = await import(document.querySelector("script[src$='/wish.js']").src);
      if (made.block === null) made.block = document.getElementById("board").dataset.block;
      const began = performance.now();
      if (!await ask(made, (words) => console.log(words))) return null;
      const revision = document.getElementById("work").dataset.revision;
      while (!(window.refreshed.get(revision)?.painted > 0)) {
        if (performance.now() - began > 60000) throw new Error("no pages after a minute");
        await new Promise((resolve) => setTimeout(resolve, 1));
      }
      const { pages, painted } = window.refreshed.get(revision);
      await new Promise((resolve) => setTimeout(resolve, 60));
      return pages < began ? null : { pages: pages - began, painted: painted - began };
    }, { made });
    if (took) seen.push(took);
    if (undo && took) {
      await page.evaluate(async () => { await (await import(document.querySelector("script[src$='/wish.js']").src)).back("undo"); });
      await settled();
      await page.waitForTimeout(40);
    }
  }
  if (seen.length === 0) { console.log(`${quilt}: ${kind}: not to be made here`); continue; }
  const [pages, painted] = ["pages", "painted"].map((what) => seen.map((took) => took[what]).sort((a, b) => a - b));
  console.log(`${quilt}: ${kind}, ${seen.length} times: pages median ${p(pages, 0.5)} ms, p95 ${p(pages, 0.95)} ms; painted median ${p(painted, 0.5)} ms, p95 ${p(painted, 0.95)} ms`);
}
for (const f of after) await f();
