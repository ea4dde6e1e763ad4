/** Views of every place are tried, so every place's words are there. */
import { needLater } from "../src/texts";

await needLater();
