/** The camera held over a VIN's barcode: looked at until a number that can be is found. Loaded when first wanted. */
import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";

import { now } from "./app-state";
import { agreeing } from "./model/scanned";
import { ScanView } from "./views/scan";
import { t } from "./texts";

const FORMATS = ["code_39", "code_128", "data_matrix", "qr_code"];
const EVERY_MS = 180;
const LONG_MS = 20_000;

/** The texts of the barcodes in the picture. */
type Decode = (video: HTMLVideoElement) => Promise<readonly string[]>;

interface Detector {
  detect(video: HTMLVideoElement): Promise<readonly { readonly rawValue: string }[]>;
}
interface DetectorClass {
  new (options: { formats: readonly string[] }): Detector;
  getSupportedFormats(): Promise<readonly string[]>;
}

/** The phone's own reader of barcodes, where it has one that reads the usual label; else the one of this app. */
async function decoder(): Promise<Decode> {
  const { BarcodeDetector: Kind } = globalThis as { BarcodeDetector?: DetectorClass };
  const known = Kind ? (await Kind.getSupportedFormats()).filter((each) => FORMATS.includes(each)) : [];
  if (!Kind || !known.includes("code_39")) return (await import("./scan-points")).decodeVideo;
  const detector = new Kind({ formats: known });
  return async (video) => (await detector.detect(video)).map(({ rawValue }) => rawValue);
}

function why(error: unknown): string {
  if (!(error instanceof DOMException)) return t().scan.noReader;
  if (error.name === "NotAllowedError" || error.name === "SecurityError") return t().scan.notAllowed;
  return error.name === "NotFoundError" || error.name === "OverconstrainedError" ? t().scan.noCamera : t().scan.cameraBusy;
}

const camera = (): Promise<MediaStream> => {
  if (!("mediaDevices" in navigator)) throw new DOMException("no camera for this page", "NotFoundError");
  return navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment", width: { ideal: 1280 }, height: { ideal: 720 } }, audio: false });
};

const pause = (): Promise<void> => new Promise((done) => setTimeout(done, EVERY_MS));

/** Looks until `found` is satisfied or `over` says so. A picture that cannot be read now may be later. */
async function look(video: HTMLVideoElement, decode: Decode, { found, over }: { found: (texts: readonly string[]) => boolean; over: () => boolean }): Promise<void> {
  while (!over()) {
    const texts = video.readyState >= HTMLMediaElement.HAVE_CURRENT_DATA ? await decode(video) : [];
    if (over() || found(texts)) return;
    await pause();
  }
}

export function VinScan({ onVin, onClose }: { onVin: (vin: string) => void; onClose: () => void }): JSX.Element {
  const video = useRef<HTMLVideoElement>(null);
  const [trouble, setTrouble] = useState("");
  const [slow, setSlow] = useState(false);
  useEffect(() => {
    let over = false;
    let stream: MediaStream | null = null;
    const late = setTimeout(() => setSlow(true), LONG_MS);
    const agreed = agreeing(now.peek());
    const run = async (): Promise<void> => {
      stream = await camera();
      const place = video.current;
      if (over || !place) return end();
      place.srcObject = stream;
      await place.play();
      const found = (texts: readonly string[]): boolean => {
        const vin = agreed(texts);
        if (vin) onVin(vin);
        return vin !== null;
      };
      await look(place, await decoder(), { found, over: () => over });
    };
    const end = (): void => {
      over = true;
      clearTimeout(late);
      stream?.getTracks().forEach((track) => track.stop());
    };
    run().catch((error: unknown) => !over && setTrouble(why(error)));
    return end;
  }, []);
  return <ScanView video={video} trouble={trouble} slow={slow} onClose={onClose} />;
}
