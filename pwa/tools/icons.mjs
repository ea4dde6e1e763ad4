/** Draws the icons: one list of shapes, written as SVG and as PNG in the sizes phones ask for. */

import { mkdirSync, writeFileSync } from "node:fs";
import { deflateSync } from "node:zlib";

const SIDE = 512;
const [GROUND, TAG, INK, TICK] = ["#1a2663", "#f1dfae", "#1b1710", "#0b4023"];

/** A job tag with its hole, three written lines and a tick. */
const PICTURE = [
  {
    fill: TAG,
    points: [
      [196, 84],
      [316, 84],
      [376, 148],
      [376, 428],
      [136, 428],
      [136, 148],
    ],
  },
  { fill: GROUND, circle: [256, 146, 24] },
  {
    fill: INK,
    points: [
      [176, 208],
      [336, 208],
      [336, 232],
      [176, 232],
    ],
  },
  {
    fill: INK,
    points: [
      [176, 258],
      [336, 258],
      [336, 282],
      [176, 282],
    ],
  },
  {
    fill: TICK,
    points: [
      [204, 346],
      [228, 322],
      [262, 356],
      [322, 300],
      [346, 324],
      [262, 404],
    ],
  },
];

const corner = (x, y, radius) => {
  const dx = Math.max(radius - x, x - (SIDE - radius), 0);
  const dy = Math.max(radius - y, y - (SIDE - radius), 0);
  return dx * dx + dy * dy <= radius * radius;
};

function inPolygon(points, x, y) {
  let inside = false;
  points.forEach(([x1, y1], index) => {
    const [x2, y2] = points[(index + 1) % points.length];
    if (y1 > y !== y2 > y && x < ((x2 - x1) * (y - y1)) / (y2 - y1) + x1) inside = !inside;
  });
  return inside;
}

const covers = ({ points, circle }, x, y) =>
  points ? inPolygon(points, x, y) : (x - circle[0]) ** 2 + (y - circle[1]) ** 2 <= circle[2] ** 2;

const channels = (colour) => [1, 3, 5].map((at) => parseInt(colour.slice(at, at + 2), 16));

/** Colour and cover of one point of the 512 square; a maskable icon fills its corners. */
function pointAt(x, y, radius) {
  if (!corner(x, y, radius)) return [0, 0, 0, 0];
  const top = PICTURE.findLast((shape) => covers(shape, x, y));
  return [...channels(top ? top.fill : GROUND), 255];
}

const FINE = 4;

function pixel(column, row, size, radius) {
  const sum = [0, 0, 0, 0];
  for (let part = 0; part < FINE * FINE; part += 1) {
    const x = ((column + ((part % FINE) + 0.5) / FINE) * SIDE) / size;
    const y = ((row + (Math.floor(part / FINE) + 0.5) / FINE) * SIDE) / size;
    const [r, g, b, alpha] = pointAt(x, y, radius);
    if (alpha) [r, g, b, alpha].forEach((value, at) => (sum[at] += value));
  }
  const covered = sum[3] / 255 || 1;
  return [sum[0] / covered, sum[1] / covered, sum[2] / covered, sum[3] / (FINE * FINE)].map(Math.round);
}

const CRC = Array.from({ length: 256 }, (_, n) => {
  let value = n;
  for (let bit = 0; bit < 8; bit += 1) value = value & 1 ? 0xedb88320 ^ (value >>> 1) : value >>> 1;
  return value >>> 0;
});

function crc(bytes) {
  let value = 0xffffffff;
  for (const byte of bytes) value = CRC[(value ^ byte) & 0xff] ^ (value >>> 8);
  return (value ^ 0xffffffff) >>> 0;
}

function chunk(kind, data) {
  const body = Buffer.concat([Buffer.from(kind, "ascii"), data]);
  const [length, check] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(data.length);
  check.writeUInt32BE(crc(body));
  return Buffer.concat([length, body, check]);
}

function png(size, radius) {
  const rows = Buffer.alloc(size * (1 + size * 4));
  for (let row = 0; row < size; row += 1) {
    for (let column = 0; column < size; column += 1) {
      rows.set(pixel(column, row, size, radius), row * (1 + size * 4) + 1 + column * 4);
    }
  }
  const head = Buffer.alloc(13);
  head.writeUInt32BE(size, 0);
  head.writeUInt32BE(size, 4);
  head.set([8, 6, 0, 0, 0], 8);
  const signature = Buffer.from([137, 80, 78, 71, 13, 10, 26, 10]);
  return Buffer.concat([
    signature,
    chunk("IHDR", head),
    chunk("IDAT", deflateSync(rows, { level: 9 })),
    chunk("IEND", Buffer.alloc(0)),
  ]);
}

const svgShape = ({ fill, points, circle }) =>
  points
    ? `<polygon fill="${fill}" points="${points.map((point) => point.join(",")).join(" ")}"/>`
    : `<circle fill="${fill}" cx="${circle[0]}" cy="${circle[1]}" r="${circle[2]}"/>`;

const svg = (radius) =>
  `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${SIDE} ${SIDE}"><rect width="${SIDE}" height="${SIDE}" rx="${radius}" fill="${GROUND}"/>${PICTURE.map(svgShape).join("")}</svg>\n`;

const folder = new URL("../public/", import.meta.url);
mkdirSync(folder, { recursive: true });
const ROUND = 96;
writeFileSync(new URL("icon.svg", folder), svg(ROUND));
writeFileSync(new URL("icon-192.png", folder), png(192, ROUND));
writeFileSync(new URL("icon-512.png", folder), png(512, ROUND));
writeFileSync(new URL("icon-maskable-512.png", folder), png(512, 0));
writeFileSync(new URL("icon-180.png", folder), png(180, 0));
