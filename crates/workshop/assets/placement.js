// @ts-check
// How cloth goes from one place to another. A placement is six numbers, as of an SVG matrix, that keep all lengths; places come
// from the workshop, here they are only joined by a way.

/** @typedef {[number, number, number, number, number, number]} Placement */
/** @typedef {[number, number]} Place */

/** @type {Placement} */
export const STILL = [1, 0, 0, 1, 0, 0];

/** Whether it turns cloth over.
 * @param {Placement} p */
export const over = (p) => p[0] * p[3] - p[1] * p[2] < 0;

/** Where a placement carries a place.
 * @param {Placement} p @param {Place} at @returns {Place} */
export const carried = (p, [x, y]) => [p[0] * x + p[2] * y + p[4], p[1] * x + p[3] * y + p[5]];

/** One placement after another.
 * @param {Placement} first @param {Placement} next @returns {Placement} */
export function then(first, next) {
  const [a, b] = [next[0] * first[0] + next[2] * first[1], next[1] * first[0] + next[3] * first[1]];
  const [c, d] = [next[0] * first[2] + next[2] * first[3], next[1] * first[2] + next[3] * first[3]];
  const [e, f] = carried(next, [first[4], first[5]]);
  return [a, b, c, d, e, f];
}

/** The way back: of what keeps all lengths the turned rows are the columns.
 * @param {Placement} p @returns {Placement} */
export function back(p) {
  const turn = /** @type {Placement} */ ([p[0], p[2], p[1], p[3], 0, 0]);
  const [e, f] = carried(turn, [p[4], p[5]]);
  return [p[0], p[2], p[1], p[3], -e, -f];
}

/** Part of the way between two placements. Cloth that stays on its side slides, and turns about its own middle on the way; cloth
 * that is turned over folds about the line that mirrors the one into the other, and is seen ever narrower until its other side
 * shows.
 * @param {Placement} from @param {Placement} to @param {Place} middle in the cloth's own numbers @param {number} share 0 to 1
 * @returns {{ at: Placement, shown: Placement }} where it is, and the end whose side shows */
export function between(from, to, middle, share) {
  if (share <= 0) return { at: from, shown: from };
  if (share >= 1) return { at: to, shown: to };
  const whole = then(back(from), to);
  const here = carried(from, middle);
  if (!over(whole)) {
    const angle = Math.atan2(whole[1], whole[0]) * share;
    const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
    const there = carried(to, middle);
    const [x, y] = [here[0] + (there[0] - here[0]) * share, here[1] + (there[1] - here[1]) * share];
    const turn = /** @type {Placement} */ ([cos, sin, -sin, cos, x - cos * here[0] + sin * here[1], y - sin * here[0] - cos * here[1]]);
    return { at: then(from, turn), shown: to };
  }
  // A mirror image: along the line it slides, across it it folds.
  const angle = Math.atan2(whole[1], whole[0]) / 2;
  const [ux, uy] = [Math.cos(angle), Math.sin(angle)];
  const [along, across] = [whole[4] * ux + whole[5] * uy, -whole[4] * uy + whole[5] * ux];
  const [slide, line, narrow] = [along * share, across / 2, Math.cos(Math.PI * share)];
  const a = ux * ux + narrow * uy * uy;
  const b = ux * uy * (1 - narrow);
  const d = uy * uy + narrow * ux * ux;
  const rest = line * (1 - narrow);
  const fold = /** @type {Placement} */ ([a, b, b, d, slide * ux - rest * uy, slide * uy + rest * ux]);
  return { at: then(from, fold), shown: share < 0.5 ? from : to };
}
