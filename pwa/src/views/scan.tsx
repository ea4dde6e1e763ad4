/** What the camera sees, while it looks for a VIN; or why it cannot, with the way out. */
import type { JSX, RefObject } from "preact";

import { Button } from "../ui/button";
import { Notice } from "../ui/notice";
import { t } from "../texts";

interface ScanProps {
  video: RefObject<HTMLVideoElement | null>;
  trouble: string;
  /** It has been looked for so long that typing may be quicker. */
  slow: boolean;
  onClose: () => void;
}

export function ScanView({ video, trouble, slow, onClose }: ScanProps): JSX.Element {
  return (
    <div class="scan stack" role="group" aria-label={t().scan.camera}>
      {trouble ? <Notice kind="warn" title={trouble}><p>{t().scan.typeIt}</p></Notice> : (
        <>
          <video ref={video} class="scan-picture" muted playsInline aria-label={t().scan.camera} />
          <p role="status">{slow ? t().scan.slow : t().scan.hold}</p>
        </>
      )}
      <Button wide onTap={onClose}>{trouble ? t().scan.close : t().scan.stop}</Button>
    </div>
  );
}
