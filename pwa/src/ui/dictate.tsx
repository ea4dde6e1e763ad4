/** A text field that can be spoken into where the browser listens; elsewhere the keyboard's own microphone does. */
import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";

import { Button } from "./button";
import { TextArea, type AreaProps } from "./field";
import { t } from "../texts";

interface Heard {
  readonly isFinal: boolean;
  readonly 0: { readonly transcript: string };
}

/** The part of the Web Speech API (W3C community draft) that is used. */
interface Listener extends EventTarget {
  lang: string;
  continuous: boolean;
  interimResults: boolean;
  start(): void;
  stop(): void;
  abort(): void;
}

type ListenerClass = new () => Listener;

function listenerClass(): ListenerClass | null {
  const { SpeechRecognition, webkitSpeechRecognition } = globalThis as { SpeechRecognition?: ListenerClass; webkitSpeechRecognition?: ListenerClass };
  return SpeechRecognition ?? webkitSpeechRecognition ?? null;
}

/** The language of the interface, in the person's own kind of it where the phone tells one. */
function spokenLanguage(): string {
  const { lang } = document.documentElement;
  return navigator.languages.find((each) => each.startsWith(lang)) ?? lang;
}

const why = (error: string): string => {
  if (error === "not-allowed" || error === "service-not-allowed") return t().dictate.notAllowed;
  if (error === "network") return t().dictate.needsSignal;
  return error === "aborted" ? "" : t().dictate.heardNothing;
};

/** What was heard goes behind what stands there, with one space between. */
export const appended = (text: string, heard: string): string => [text.trimEnd(), heard.trim()].filter(Boolean).join(" ");

interface Told {
  onFinal: (words: string) => void;
  onInterim: (words: string) => void;
  onEnd: (trouble: string) => void;
}

function listen(Kind: ListenerClass, { onFinal, onInterim, onEnd }: Told): Listener {
  const listener = Object.assign(new Kind(), { lang: spokenLanguage(), continuous: true, interimResults: true });
  let trouble = "";
  listener.addEventListener("result", (event) => {
    const { results, resultIndex } = event as Event & { results: ArrayLike<Heard>; resultIndex: number };
    const fresh = Array.from(results).slice(resultIndex);
    const said = (isFinal: boolean): string => fresh.filter((each) => each.isFinal === isFinal).map((each) => each[0].transcript).join(" ");
    if (said(true)) onFinal(said(true));
    onInterim(said(false));
  });
  listener.addEventListener("error", (event) => (trouble = why((event as Event & { error: string }).error)));
  listener.addEventListener("end", () => onEnd(trouble));
  listener.start();
  return listener;
}

function Microphone({ Kind, value, onText }: Pick<AreaProps, "value" | "onText"> & { Kind: ListenerClass }): JSX.Element {
  const [interim, setInterim] = useState("");
  const [trouble, setTrouble] = useState("");
  const [listener, setListener] = useState<Listener | null>(null);
  // Words come between two drawings of the field: each goes behind the latest.
  const latest = useRef({ value, onText });
  latest.current = { value, onText };
  useEffect(() => () => listener?.abort(), [listener]);
  const start = (): void => {
    setTrouble("");
    const onFinal = (words: string): void => {
      const text = appended(latest.current.value, words);
      latest.current.value = text;
      latest.current.onText(text);
    };
    const onEnd = (said: string): void => {
      setTrouble(said);
      setInterim("");
      setListener(null);
    };
    setListener(listen(Kind, { onFinal, onInterim: setInterim, onEnd }));
  };
  return (
    <div class="dictate">
      <Button shape="microphone" label={listener ? t().dictate.stop : t().dictate.speak} onTap={listener ? () => listener.stop() : start}>{listener ? t().dictate.stop : t().dictate.speak}</Button>
      {listener && <p class="soft" role="status">{interim || t().dictate.listening}</p>}
      {trouble && <p class="problem" role="alert">{trouble}</p>}
    </div>
  );
}

export function SpokenArea(props: AreaProps): JSX.Element {
  const Kind = listenerClass();
  return (
    <>
      <TextArea {...props} />
      {Kind && <Microphone Kind={Kind} value={props.value} onText={props.onText} />}
    </>
  );
}
