// A large design for measuring: the sampler's blocks over and over, with sashing, as `crates/trials/src/large.rs` makes it.
import { readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const sampler = join(dirname(fileURLToPath(import.meta.url)), "../../examples/lantern-harbour.quilt.toml");
const CELLS = ["beacon", "four-vanes", "tides", "four-knots", "jetty", "compass", "buoys-and-nets", "porthole"];

/** The design file's text; 19 rows of 19 have some 10 400 patches. */
export function large(rows = 19, columns = 19) {
  const [blocks] = readFileSync(sampler, "utf8").split("[layout]");
  const cells = (row) => Array.from({ length: columns }, (_, column) => `"${CELLS[(row * 3 + column) % CELLS.length]}"`).join(", ");
  const all = Array.from({ length: rows }, (_, row) => `  [${cells(row)}],`).join("\n");
  return `${blocks}[layout]\nkind = "straight"\ncell = "12 in"\nrows = [\n${all}\n]
sashing = { width = "1 1/2 in", fabric = "foam", cornerstones = "brass", outer = true }\n`;
}

/** Puts it into a folder of quilts as `ten-thousand`. */
export function putLarge(quilts) {
  writeFileSync(join(quilts, "ten-thousand.quilt.toml"), large());
}
