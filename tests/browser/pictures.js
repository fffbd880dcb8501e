// Pictures for tests: a PNG of plain pixels (W3C PNG), made here.
import { crc32, deflateSync } from "node:zlib";

/** @param {number} width @param {number} height @param {(x: number, y: number) => number[]} colour red, green, blue */
export function png(width, height, colour) {
  const rows = Buffer.alloc(height * (1 + width * 3));
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) rows.set(colour(x, y), y * (1 + width * 3) + 1 + x * 3);
  }
  const chunk = (type, data) => {
    const body = Buffer.concat([Buffer.from(type, "latin1"), data]);
    const [length, check] = [Buffer.alloc(4), Buffer.alloc(4)];
    length.writeUInt32BE(data.length);
    check.writeUInt32BE(crc32(body));
    return Buffer.concat([length, body, check]);
  };
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head.set([8, 2, 0, 0, 0], 8);
  return Buffer.concat([Buffer.from([137, 80, 78, 71, 13, 10, 26, 10]), chunk("IHDR", head), chunk("IDAT", deflateSync(rows)), chunk("IEND", Buffer.alloc(0))]);
}

/** As a file that a person would choose. */
export const file = (name, buffer, mimeType = "image/png") => ({ name, mimeType, buffer });
