/** A photo of a step, from this phone or fetched: small, and large at a tap; says so when it cannot be had now. */
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";

import { Busy } from "../ui/notice";
import { t } from "../texts";

type FetchPhoto = () => Promise<Blob | string>;

export function PhotoSlip({ note, fetchPhoto }: { note: string; fetchPhoto: FetchPhoto }): JSX.Element {
  const [source, setSource] = useState("");
  const [why, setWhy] = useState("");
  const [large, setLarge] = useState(false);
  useEffect(() => {
    let address = "";
    let gone = false;
    void fetchPhoto().then((got) => {
      if (gone) return;
      if (typeof got === "string") return setWhy(got);
      address = URL.createObjectURL(got);
      setSource(address);
    });
    return () => {
      gone = true;
      if (address) URL.revokeObjectURL(address);
    };
  }, []);
  if (why) return <p>{t().photoSlip.photo(why)}</p>;
  if (!source) return <Busy>{t().photoSlip.fetchingThePhoto}</Busy>;
  return (
    <figure class="stack">
      <button type="button" class={large ? "thumb large" : "thumb"} aria-expanded={large} aria-label={large ? t().photoSlip.smaller : t().photoSlip.larger} onClick={() => setLarge(!large)}>
        <img src={source} alt={note || t().photoSlip.photoOfThisStep} />
      </button>
      {note && <figcaption>{note}</figcaption>}
    </figure>
  );
}
