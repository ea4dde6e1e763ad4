/** What was read of the cases, laid up in packets: small on the phone, and read all at once. */

import type { Db } from "./db";
import { packedText, unpackedText } from "./reason/packed-text";
import type { PackedText } from "./reason/packed-text";
import type { KeptText } from "./reason/reckoner";

/** From so many packets on they are laid up anew as few. */
const MANY_PACKETS = 80;
const IN_A_PACKET = 1_000;

type Row = readonly [id: string, mark: string, text: PackedText];

const through = async (data: BlobPart, stream: ReadableWritablePair<Uint8Array<ArrayBuffer>, BufferSource>): Promise<ArrayBuffer> =>
  new Response(new Blob([data]).stream().pipeThrough(stream)).arrayBuffer();

const packets = typeof CompressionStream === "function";

async function packet(texts: readonly KeptText[]): Promise<ArrayBuffer | string> {
  const rows: readonly Row[] = texts.map(({ id, mark, text }) => [id, mark, packedText(text)]);
  const plain = JSON.stringify(rows);
  return packets ? through(plain, new CompressionStream("gzip")) : plain;
}

async function opened(data: ArrayBuffer | string): Promise<readonly KeptText[]> {
  const plain = typeof data === "string" ? data : new TextDecoder().decode(await through(data, new DecompressionStream("gzip")));
  return (JSON.parse(plain) as readonly Row[]).map(([id, mark, text]) => ({ id, mark, text: unpackedText(text) }));
}

export async function keepTexts(db: Db, texts: readonly KeptText[], reader: string): Promise<void> {
  if (texts.length) await db.keepPacket({ reader, data: await packet(texts) });
}

/** What this reader read before; of a case read twice the later counts. */
export async function keptTexts(db: Db, reader: string): Promise<readonly KeptText[]> {
  const held = await db.packets();
  const mine = held.filter((one) => one.reader === reader);
  const texts = new Map<string, KeptText>();
  for (const { data } of mine) for (const text of await opened(data)) texts.set(text.id, text);
  const all = [...texts.values()];
  if (mine.length === held.length && mine.length <= MANY_PACKETS) return all;
  await db.dropPackets();
  for (let at = 0; at < all.length; at += IN_A_PACKET) await keepTexts(db, all.slice(at, at + IN_A_PACKET), reader);
  return all;
}
