/** Reads barcodes out of a picture by itself, for browsers that have no reader of their own. */
import BinaryBitmap from "@zxing/library/esm/core/BinaryBitmap";
import HybridBinarizer from "@zxing/library/esm/core/common/HybridBinarizer";
import DataMatrixReader from "@zxing/library/esm/core/datamatrix/DataMatrixReader";
import Exception from "@zxing/library/esm/core/Exception";
import Code128Reader from "@zxing/library/esm/core/oned/Code128Reader";
import Code39Reader from "@zxing/library/esm/core/oned/Code39Reader";
import QRCodeReader from "@zxing/library/esm/core/qrcode/QRCodeReader";
import type Reader from "@zxing/library/esm/core/Reader";
import RGBLuminanceSource from "@zxing/library/esm/core/RGBLuminanceSource";

/** Enough for the thin bars of a label across the picture, and quick on a phone. */
const WIDEST = 1000;

const readers: readonly Reader[] = [new Code39Reader(), new Code128Reader(), new DataMatrixReader(), new QRCodeReader()];
const sheet = document.createElement("canvas");

/** How bright each point is, 0 to 255 (the weights of ITU-R BT.601). */
function brightness({ data, width, height }: ImageData): Uint8ClampedArray {
  const points = new Uint8ClampedArray(width * height);
  for (let at = 0; at < points.length; at += 1) {
    const from = at * 4;
    points[at] = 0.299 * (data[from] ?? 0) + 0.587 * (data[from + 1] ?? 0) + 0.114 * (data[from + 2] ?? 0);
  }
  return points;
}

/** The text of the barcode by one reader; null where it sees none. */
function readBy(reader: Reader, picture: BinaryBitmap): string | null {
  try {
    return reader.decode(picture).getText();
  } catch (error) {
    // Its way of saying that there is none, or that it is blurred.
    if (error instanceof Exception) return null;
    throw error;
  } finally {
    reader.reset();
  }
}

export async function decodeVideo(video: HTMLVideoElement): Promise<readonly string[]> {
  const scale = Math.min(1, WIDEST / video.videoWidth);
  [sheet.width, sheet.height] = [Math.round(video.videoWidth * scale), Math.round(video.videoHeight * scale)];
  const brush = sheet.getContext("2d", { willReadFrequently: true });
  if (!brush || sheet.width === 0 || sheet.height === 0) return [];
  brush.drawImage(video, 0, 0, sheet.width, sheet.height);
  const points = brightness(brush.getImageData(0, 0, sheet.width, sheet.height));
  const picture = new BinaryBitmap(new HybridBinarizer(new RGBLuminanceSource(points, sheet.width, sheet.height)));
  return readers.map((reader) => readBy(reader, picture)).filter((each) => each !== null);
}
