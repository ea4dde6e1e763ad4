/** A picture from the camera, drawn anew: small enough for a poor signal, and without the place it was taken at. */
import { phone, say } from "./app-state";
import { fitted, within } from "./model/picture";
import type { Try } from "./model/picture";
import { t } from "./texts";

/** Drawing keeps the points of the picture alone: position, time and owner of the camera stay behind. */
async function drawn(picture: ImageBitmap, { longest, quality }: Try): Promise<Blob> {
  const sheet = Object.assign(document.createElement("canvas"), within(picture, longest));
  const brush = sheet.getContext("2d", { alpha: false });
  if (!brush) throw new DOMException("no canvas to draw the picture on", "InvalidStateError");
  // What is see-through would turn black in a JPEG.
  brush.fillStyle = "white";
  brush.fillRect(0, 0, sheet.width, sheet.height);
  brush.drawImage(picture, 0, 0, sheet.width, sheet.height);
  const made = await new Promise<Blob | null>((done) => sheet.toBlob(done, "image/jpeg", quality));
  // Gives the memory back at once; a phone has little of it for pictures.
  sheet.width = sheet.height = 0;
  if (!made) throw new DOMException("the picture could not be written", "EncodingError");
  return made;
}

/** The picture as it is kept. Throws DOMException for a file that is no picture. */
async function redrawn(file: Blob): Promise<Blob> {
  const picture = await createImageBitmap(file, { imageOrientation: "from-image" });
  try {
    return await fitted((one) => drawn(picture, one));
  } finally {
    picture.close();
  }
}

const kilobytes = (file: Blob): number => Math.round(file.size / 1000);

export async function takePhoto(id: string, file: File): Promise<void> {
  try {
    const kept = await redrawn(file);
    await phone.addPhoto(id, kept);
    say({ text: t().photoSlip.saved(kilobytes(kept)) });
  } catch (error) {
    if (!(error instanceof DOMException)) throw error;
    say({ text: error.name === "QuotaExceededError" ? t().photoSlip.noRoom : t().photoSlip.noPicture });
  }
}
