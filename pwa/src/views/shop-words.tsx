/** The shop's own words: never mended, and read as the plain term they stand for too. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";

import { Bin } from "../ui/bin";
import { AskTwice, Button } from "../ui/button";
import { TextField } from "../ui/field";
import { Fold } from "../ui/fold";
import { Empty, Notice } from "../ui/notice";
import type { OwnWord } from "../wire";
import { TroubleNotice, troubleAt, type Trouble } from "./trouble";

export interface ShopWordsProps {
  words: readonly OwnWord[];
  online: boolean;
  wordTrouble: Trouble | null;
  /** Whether it was added: what was typed stays until then. */
  onAddWord: (word: string, means: string) => Promise<boolean>;
  onDropWord: (word: string) => void;
}

function Slip({ word, onDropWord }: { word: OwnWord } & Pick<ShopWordsProps, "onDropWord">): JSX.Element {
  const said = [word.means && `stands for ${word.means}`, word.by && `added by ${word.by}`].filter(Boolean).join(" · ");
  return (
    <li class="slip">
      <p class="slip-title">{word.id}</p>
      {said && <p class="soft">{said}</p>}
      {word.yours && <AskTwice question={`Take “${word.id}” out? It is mended again from the next question on.`} sure="Take it out" kind="quiet" onTap={() => onDropWord(word.id)}>Take it out</AskTwice>}
    </li>
  );
}

function Add({ online, wordTrouble, onAddWord }: ShopWordsProps): JSX.Element {
  const [word, setWord] = useState("");
  const [means, setMeans] = useState("");
  const add = async (): Promise<void> => {
    if (!(await onAddWord(word.trim(), means.trim()))) return;
    setWord("");
    setMeans("");
  };
  return (
    <Fold title="Add a word of ours" open={wordTrouble !== null}>
      <TextField label="The word" hint="up to four words" value={word} caps="none" maxLength={60} onText={setWord} placeholder="tin worm" problem={troubleAt(wordTrouble, "word")} />
      <TextField label="Stands for" hint="if it is another name for something" value={means} caps="none" maxLength={60} onText={setMeans} placeholder="rust" problem={troubleAt(wordTrouble, "means")} />
      {wordTrouble && <TroubleNotice trouble={wordTrouble} />}
      {!online && <Notice kind="warn" title="Needs signal to be added" />}
      <Button kind="main" wide disabled={word.trim() === "" || !online} onTap={() => void add()}>Add the word</Button>
    </Fold>
  );
}

export function ShopWords(props: ShopWordsProps): JSX.Element {
  const { words } = props;
  return (
    <Bin title="Words of ours" count={words.length}>
      <p class="soft">Read as you write them, on every phone.</p>
      {words.length === 0 && <Empty title="None yet"><p>Tap “No, as typed” in an answer, or add one here.</p></Empty>}
      {words.length > 0 && <Fold title={words.length === 1 ? "One word" : `All ${words.length} words`}><ul class="stack">{words.map((word) => <Slip key={word.id} word={word} onDropWord={props.onDropWord} />)}</ul></Fold>}
      <Add {...props} />
    </Bin>
  );
}
