// How long from a change to the refreshed pattern, measured in the browser: node speed.js [QUILT] [CHANGES].
import { setting } from "./workshop.js";

const quilt = process.argv[2] ?? "lantern-harbour";
const changes = Number(process.argv[3] ?? 40);
const after = [];
const { page, shop } = await setting({ after: (f) => after.push(f) });
await page.goto(`${shop.url}/quilts/${quilt}/quilt`);
await page.locator("#standing", { hasText: "seams" }).waitFor();
const times = await page.evaluate(async ({ quilt, changes }) => {
  const { ask } = await import("/assets/wish.js");
  const shown = new Map();
  document.addEventListener("pages", (event) => { if (!shown.has(event.detail)) shown.set(event.detail, performance.now()); });
  const seen = [];
  for (let i = 0; i < changes; i += 1) {
    const began = performance.now();
    // Each change makes a text that was never seen before.
    await ask({ do: "set", at: ["fabric", 0, "color"], to: `#d8d2${(i + 16).toString(16).padStart(2, "0")}` });
    const revision = document.getElementById("work").dataset.revision;
    while (!shown.has(revision)) await new Promise((resolve) => setTimeout(resolve, 2));
    seen.push(shown.get(revision) - began);
    await new Promise((resolve) => setTimeout(resolve, 60));
  }
  return seen;
}, { quilt, changes });
times.sort((a, b) => a - b);
const part = (share) => times[Math.min(times.length - 1, Math.floor(times.length * share))].toFixed(0);
console.log(`${quilt}: ${changes} changes, median ${part(0.5)} ms, p95 ${part(0.95)} ms`);
for (const f of after) await f();
