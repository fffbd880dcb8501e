// The ways that the player joins two placements by: they end where the workshop says, and keep cloth's size while it slides.
import assert from "node:assert/strict";
import { test } from "node:test";
import { STILL, back, between, carried, over, then } from "../../crates/workshop/assets/placement.js";

/** A turn by an angle, then a slide; mirrored first if it turns over (derived: the matrices of plane isometries). */
const placed = (angle, x, y, turned = false) => {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return turned ? [-c, -s, -s, c, x, y] : [c, s, -s, c, x, y];
};
const PLACES = [STILL, placed(0.4, 3, -2), placed(-2.9, -1, 7), placed(1, 2, 3, true), placed(Math.PI / 2, -4, 0.5, true), placed(0, 6, 0, true)];
const CORNERS = [[0, 0], [3, 0], [3, 2], [0, 2]];
const near = (a, b, off = 1e-9) => assert.ok(Math.hypot(a[0] - b[0], a[1] - b[1]) < off, `${a} is not ${b}`);

test("there and back again is nowhere", () => {
  for (const place of PLACES) for (const corner of CORNERS) near(carried(then(place, back(place)), corner), corner);
});

test("a way begins at one placement and ends at the other", () => {
  for (const from of PLACES) {
    for (const to of PLACES) {
      for (const corner of CORNERS) {
        near(carried(between(from, to, [1.5, 1], 0).at, corner), carried(from, corner));
        near(carried(between(from, to, [1.5, 1], 1).at, corner), carried(to, corner));
      }
    }
  }
});

test("cloth that slides keeps its size; cloth that is turned over is narrowest half way, and then shows its other side", () => {
  for (const from of PLACES) {
    for (const to of PLACES) {
      const size = (share) => {
        const { at } = between(from, to, [1.5, 1], share);
        return Math.abs(at[0] * at[3] - at[1] * at[2]);
      };
      if (over(from) === over(to)) {
        for (const share of [0.2, 0.5, 0.9]) assert.ok(Math.abs(size(share) - 1) < 1e-9);
        continue;
      }
      // Seen from above, cloth that has folded by an angle is as narrow as the angle's cosine (derived).
      for (const share of [0.25, 0.5, 0.75]) assert.ok(Math.abs(size(share) - Math.abs(Math.cos(Math.PI * share))) < 1e-9);
      assert.equal(between(from, to, [1.5, 1], 0.4).shown, from);
      assert.equal(between(from, to, [1.5, 1], 0.6).shown, to);
    }
  }
});
