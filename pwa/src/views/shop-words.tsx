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
import { t } from "../texts";

export interface ShopWordsProps {
  words: readonly OwnWord[];
  online: boolean;
  wordTrouble: Trouble | null;
  /** Whether it was added: what was typed stays until then. */
  onAddWord: (word: string, means: string) => Promise<boolean>;
  onDropWord: (word: string) => void;
}

function Slip({ word, onDropWord }: { word: OwnWord } & Pick<ShopWordsProps, "onDropWord">): JSX.Element {
  const said = [word.means && t().shopWords.standsFor(word.means), word.by && t().shopWords.addedBy(word.by)].filter(Boolean).join(" · ");
  return (
    <li class="slip">
      <p class="slip-title">{word.id}</p>
      {said && <p class="soft">{said}</p>}
      {word.yours && <AskTwice question={t().shopWords.takeOutItIsMended(word.id)} sure={t().shopWords.takeItOut} kind="quiet" onTap={() => onDropWord(word.id)}>{t().shopWords.takeItOut}</AskTwice>}
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
    <Fold title={t().shopWords.addAWordOfOurs} open={wordTrouble !== null}>
      <TextField label={t().shopWords.theWord} hint={t().shopWords.upToFourWords} value={word} caps="none" maxLength={60} onText={setWord} placeholder={t().shopWords.tinWorm} problem={troubleAt(wordTrouble, "word")} />
      <TextField label={t().shopWords.standsFor2} hint={t().shopWords.ifItIsAnotherName} value={means} caps="none" maxLength={60} onText={setMeans} placeholder={t().shopWords.rust} problem={troubleAt(wordTrouble, "means")} />
      {wordTrouble && <TroubleNotice trouble={wordTrouble} />}
      {!online && <Notice kind="warn" title={t().shopWords.needsSignalToBeAdded} />}
      <Button kind="main" wide disabled={word.trim() === "" || !online} onTap={() => void add()}>{t().shopWords.addTheWord}</Button>
    </Fold>
  );
}

export function ShopWords(props: ShopWordsProps): JSX.Element {
  const { words } = props;
  return (
    <Bin title={t().shopWords.wordsOfOurs} count={words.length}>
      <p class="soft">{t().shopWords.readAsYouWriteThem}</p>
      {words.length === 0 && <Empty title={t().shopWords.noneYet}><p>{t().shopWords.tapNoAsTypedIn}</p></Empty>}
      {words.length > 0 && <Fold title={words.length === 1 ? t().shopWords.oneWord : t().shopWords.allWords(words.length)}><ul class="stack">{words.map((word) => <Slip key={word.id} word={word} onDropWord={props.onDropWord} />)}</ul></Fold>}
      <Add {...props} />
    </Bin>
  );
}
