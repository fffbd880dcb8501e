// How much memory the workshop takes with ten quilts open, each worked out and changed a few times: node memory.js [CHANGES].
import { readFileSync } from "node:fs";
import { setting } from "./workshop.js";

const changes = Number(process.argv[2] ?? 5);
const LIMIT = 300;
const after = [];
const { context, shop } = await setting({ after: (f) => after.push(f) });

/** Resident megabytes of the program (proc_pid_status(5)): now, and the most there ever was. */
const megabytes = () => {
  const status = readFileSync(`/proc/${shop.pid}/status`, "utf8");
  return ["VmRSS", "VmHWM"].map((key) => Math.round(Number(new RegExp(`${key}:\\s+(\\d+)`).exec(status)?.[1] ?? Number.NaN) / 1024));
};

console.log(`just opened: ${megabytes()[0]} MB`);
const shelf = await (await fetch(shop.url)).text();
const quilts = [...new Set([...shelf.matchAll(/\/quilts\/([a-z0-9-]+)/g)].map(([, name]) => name))].slice(0, 10);
const pages = [];
for (const quilt of quilts) {
  const page = await context.newPage();
  await page.goto(`${shop.url}/quilts/${quilt}/pattern`);
  await page.locator("#standing", { hasText: "Proved" }).waitFor({ timeout: 60000 });
  pages.push(page);
}
console.log(`${quilts.length} quilts open: ${megabytes()[0]} MB`);
for (const page of pages) {
  await page.evaluate(async (changes) => {
    const { ask } = await import(document.querySelector("script[src$='/wish.js']").src);
    for (let i = 0; i < changes; i += 1) await ask({ do: "set", at: ["quilt", "author"], to: `number ${i}` });
  }, changes);
  await page.locator("#standing", { hasText: "Proved" }).waitFor({ timeout: 60000 });
}
console.log(`each changed ${changes} times: ${megabytes()[0]} MB`);
for (const quilt of quilts) await (await fetch(`${shop.url}/quilts/${quilt}/out/booklet.pdf`)).arrayBuffer();
const [now, most] = megabytes();
console.log(`each booklet printed once: ${now} MB, at most ${most} MB; asked: under ${LIMIT} MB`);
for (const f of after) await f();
process.exitCode = most < LIMIT ? 0 : 1;
